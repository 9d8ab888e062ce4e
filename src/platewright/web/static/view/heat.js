// @ts-check
/** How warm it gets: the answer, the scale, every device with its margin. All figures are the server's. */

/** @import { Store } from "../store.js" */
/** @import { Actions } from "../actions.js" */
/** @import { State, Heat } from "../types.js" */
import { get } from "../api.js";
import { el, keyed } from "../dom.js";
import { inTurn } from "../state/turns.js";

const LATE = 250; // ms between two pictures of the list while a hand moves things

/** @param {Store} store @param {Actions} actions @param {HTMLElement} host */
export function mountHeat(store, actions, host) {
  const answer = el("p", { class: "sum" });
  const methods = el("p", { class: "dim methods" });
  const views = /** @type {const} */ ([["air", "Air"], ["surfaces", "Surfaces"]]).map(([view, word]) =>
    el("button", { "data-view": view, onclick: () => store.set({ warm: view }) }, word));
  const scale = el("div", { class: "heat-scale", role: "img" });
  const found = el("ul", { class: "heat-findings" });
  const body = el("tbody");
  const table = el("table", { class: "warmth" },
    el("caption", {}, "Air at each device’s foot, its limit, and its housing, °C. Least margin first."),
    el("thead", {}, el("tr", {}, ...["Device", "Air", "Limit", "Margin", "Housing", "Heat"].map((word) => el("th", { scope: "col" }, word)))),
    body);
  const rests = el("ul", { class: "rests" });
  host.append(el("h2", {}, "How warm"), answer, methods,
    el("div", { class: "row", role: "group", "aria-label": "What the colours show" }, ...views), scale, table, found,
    el("div", { class: "row", role: "group", "aria-label": "The picture as a file" }, "Picture ", ...["svg", "png"].map((kind) =>
      el("button", { "aria-label": `Picture of temperature: ${kind.toUpperCase()}`, onclick: () => actions.download(`temperatures.${kind}`) }, kind.toUpperCase()))),
    el("details", { class: "rests-on" }, el("summary", {}, "What it rests on"), rests),
    el("p", { class: "safety" }, "An estimate by a simple model, not a type test. ± is how far off a temperature may be. Thick frame: over its limit; dashed: its band reaches over it. Clear space, also what heat asks for, is shown by “What is shown”."));
  /** @type {Map<string, Element>} */
  const kept = new Map();
  /** @type {Heat | null} the heat as last checked */
  let exact = null;
  let asked = 0;

  /** Ask anew when something was checked, or the picture is wanted. */
  async function ask() {
    const { checked, layers } = store.state;
    if (!checked || !layers.warmth || exact?.revision === checked.revision) return;
    const mine = (asked += 1);
    /** @type {Heat | null} */
    const heat = await get("heat");
    if (!heat || mine !== asked) return;
    exact = heat;
    if (!store.state.dragging && !store.state.nudging) store.set({ heat });
  }
  store.listen(ask, "checked", "layers");

  /** @type {unknown} */
  let held = null;
  store.listen(({ dragging, layout }) => {
    if (dragging) held = layout;
    else if (layout === held && exact) store.set({ heat: exact }); // nothing was moved after all
  }, "dragging");
  store.listen(({ nudging, server }) => {
    if (!nudging && exact && exact.revision === server?.revision) store.set({ heat: exact }); // the shift was refused
  }, "nudging");

  function drawAnswer() {
    const { heat, warm, checked } = store.state;
    if (!heat) return;
    const { inside, wanted, outside, by_walls: walls, by_power_law: law, no_power_law: none } = heat.level;
    const over = Math.round(inside[0] - wanted);
    answer.textContent = `Air inside ${banded(inside)} °C: ${Math.abs(over)} K ${over > 0 ? "too warm" : "to spare"}. ${heat.sum.toFixed(0)} W in all: ${heat.parts}${heat.unknown ? `; ${heat.unknown} devices don’t state theirs` : ""}.`;
    methods.textContent = `${outside} °C outside, at most ${wanted} °C wanted inside. By the walls ${walls} °C, by the power law ${law === null ? `no answer: ${none}` : `${law} °C (${law > walls ? "+" : "−"}${Math.abs(law - walls).toFixed(1)} K)`}.`;
    for (const button of views) button.setAttribute("aria-pressed", String(button.dataset.view === warm));
    drawScale(heat, warm);
    const about = (checked?.findings ?? []).filter((f) => f.rule.startsWith("heat.") || f.rule === "data.heat");
    found.replaceChildren(...about.map((f) => el("li", {}, el("button", {
      class: `finding ${f.verdict}`, onclick: () => store.set({ finding: f.number }),
    }, el("b", {}, `${f.verdict} `), `${f.message}. `, f.cure))));
    rests.replaceChildren(...heat.assumed.map((text) => el("li", {}, `assumed: ${text}`)), ...heat.cautions.map((text) => el("li", {}, text)));
  }

  /** @param {Heat} heat @param {"air" | "surfaces"} warm */
  function drawScale({ colours, scales }, warm) {
    const { low, step } = scales[warm];
    const last = low + (colours.length - 1) * step;
    scale.setAttribute("aria-label", `Colours: under ${low + step} to over ${last} °C, in steps of ${step} K, darker is warmer`);
    scale.replaceChildren(...colours.map((colour, n) => {
      const swatch = el("span", {}, n ? el("i", {}, String(low + n * step)) : "");
      swatch.style.background = colour;
      return swatch;
    }));
  }

  let late = 0;
  function drawList() {
    const { heat, dragging } = store.state;
    if (!heat) return undefined;
    if (dragging && performance.now() - late < LATE) return undefined;
    if (dragging) return inTurn("list", fillList);
    return fillList();
  }

  function fillList() {
    const { heat, dragging, chosen, layout } = store.state;
    if (!heat) return;
    late = performance.now();
    /** @param {Heat["rows"][number]} row */
    const margin = (row) => (row.limit === null || !heat.devices[row.tag] ? Infinity : row.limit - heat.devices[row.tag][0]);
    const rows = dragging ? heat.rows : [...heat.rows].sort((a, b) => margin(a) - margin(b));
    keyed(body, kept, rows.map((row) => [row.tag, row]), makeRow, (node, row) => {
      const now = heat.devices[row.tag];
      const left = margin(row);
      const state = !now || left === Infinity ? "" : left < -now[1] ? "over" : left < now[1] ? "undecided" : "";
      const cells = [
        now ? banded(now) : row.tag in layout.devices ? "" : "no place", row.limit === null ? "–" : String(row.limit),
        left === Infinity ? "–" : `${left < 0 ? "−" : "+"}${Math.round(Math.abs(left))}`,
        now ? banded(now.slice(2)) : "", row.heat === null ? "not stated" : `${Number(row.heat.toFixed(1))} W`,
      ];
      cells.forEach((words, i) => {
        const cell = node.children[i + 1];
        if (cell.textContent !== words) cell.textContent = words;
      });
      const kind = `${state}${chosen.includes(row.tag) ? " chosen" : ""}`;
      if (node.className !== kind) node.className = kind;
    });
    if (!dragging) for (const row of rows) body.append(/** @type {Element} */ (kept.get(row.tag)));
  }

  /** @param {string} tag @param {Heat["rows"][number]} row */
  function makeRow(tag, row) {
    return el("tr", {}, el("th", { scope: "row" }, el("button", { title: row.what, onclick: () => store.set({ chosen: [tag] }) }, tag)),
      ...Array.from({ length: 5 }, () => el("td")));
  }

  const shown = (/** @type {State} */ { stage }) => stage === "warm";
  store.listen((state) => shown(state) && !state.dragging && drawAnswer(), "heat", "warm", "stage", "checked");
  store.listen((state) => shown(state) && drawList(), "heat", "stage", "chosen");
}

/** @param {number[]} value with its band */
const banded = ([value, band]) => `${Math.round(value)}\u00a0±${Math.round(band)}`;
