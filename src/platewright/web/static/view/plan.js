// @ts-check
/** Plan the rest, polish, plan anew, or compare the presets: progress, the best so far, take or leave. */

/** @import { Store } from "../store.js" */
/** @import { Actions } from "../actions.js" */
/** @import { Candidate, Compared, Plan } from "../types.js" */
import { byId, el } from "../dom.js";
import { percent } from "../state/lengths.js";

const WAYS = [
  ["rest", "Plan the rest", "What stands, stays. Devices in the tray find a place."],
  ["polish", "Polish", "Goes on from what stands, and offers only a better plate."],
  ["anew", "Plan anew", "All may move but what is locked or drilled."],
];

/** @param {Store} store @param {Actions} actions */
export function mountPlan(store, actions) {
  const host = byId("plan");
  let open = false;
  let shownPlate = "";
  const preset = el("select", { "aria-label": "Weigh the aims by" });
  const choice = el("div", { class: "ways" }, ...WAYS.map(([how, name, words]) =>
    el("button", { "data-how": how, onclick: () => actions.plan(how, preset.value) }, el("b", {}, name), el("span", {}, words))),
  el("div", { class: "plan-more" }, el("label", {}, "Weigh by", preset)),
  el("button", { "data-how": "compare", onclick: () => actions.compare() }, el("b", {}, "Compare the presets"),
    el("span", {}, "A plate by each weighing of the aims, side by side with what each is worth.")));
  const bar = el("progress", { max: 1, value: 0, "aria-label": "Progress of the plan" });
  const text = el("p", { class: "dim" });
  const table = el("div", {});
  const stop = el("button", { onclick: () => actions.step("plan/stop", {}) }, "Stop");
  const take = el("button", { class: "main", onclick: takeIt }, "Take it");
  const leave = el("button", { onclick: () => actions.step("plan/drop", {}) }, "Leave as it was");
  const beside = el("button", { onclick: () => store.set({ beside: !store.state.beside }) }, "Side by side");
  const running = el("div", {}, bar, text, el("p", { class: "row" }, stop, take, leave, beside), table);
  const close = el("button", { class: "round", "aria-label": "Close the plan", onclick: () => show(false) }, "×");
  host.append(el("header", {}, el("h2", {}, "Plan"), close), choice, running);

  async function takeIt() {
    await actions.step("plan/take", store.state.compared ? { name: shownPlate } : {});
    show(false);
  }

  /** @param {boolean} now */
  function show(now) {
    open = now;
    host.hidden = !(open || store.state.plan || store.state.compared);
    if (open) /** @type {HTMLElement | null} */ (choice.querySelector("button"))?.focus();
  }

  store.listen(({ job }) => {
    if (!job) return;
    const own = job.preset ? `as job.toml says: ${job.preset}` : "as job.toml says";
    const now = preset.value;
    preset.replaceChildren(el("option", { value: "" }, own), ...job.presets.map(([name, title]) => el("option", { value: name }, `${name}: ${title}`)));
    preset.value = now;
  }, "job");
  store.listen(({ beside: is }) => beside.setAttribute("aria-pressed", String(is)), "beside");
  store.listen(({ plan, compared, ghostOf }) => {
    const now = plan ?? compared;
    host.hidden = !(open || now);
    choice.hidden = Boolean(now);
    running.hidden = !now;
    document.body.dataset.compare = compared?.plates.length ? "yes" : "no";
    if (!now) return;
    bar.value = now.share;
    bar.hidden = now.ended;
    text.textContent = now.problem || (now.ended ? "Ended." : `${now.text}${ghostOf ? `. Shown: ${ghostOf.toLowerCase()}` : ""}`);
    stop.hidden = now.ended;
    if (plan) drawPlan(plan);
    else if (compared) drawCompared(compared, ghostOf);
  }, "plan", "compared", "ghostOf");

  /** @param {Plan} plan */
  function drawPlan(plan) {
    take.hidden = !plan.best;
    take.textContent = "Take it";
    beside.hidden = !store.state.ghost;
    leave.textContent = plan.best ? "Leave as it was" : "Close";
    table.replaceChildren(...(plan.best ? [side(plan, plan.best)] : []),
      ...plan.cures.map((cure) => el("p", {}, el("b", {}, "Cure: "), cure)));
  }

  /** @param {Compared} compared @param {string} shown */
  function drawCompared(compared, shown) {
    shownPlate = shown;
    const at = compared.plates.findIndex((p) => p.name === shown);
    take.hidden = beside.hidden = at < 1;
    take.textContent = at < 1 ? "Take it" : `Take ${shown}`;
    leave.textContent = compared.plates.length ? "Leave as it was" : "Close";
    if (!compared.plates.length) return table.replaceChildren();
    const failed = Object.entries(compared.failed).map(([name, why]) => el("p", { class: "dim" }, `${name}: ${why}`));
    return table.replaceChildren(el("div", { class: "plates", tabindex: 0, role: "region", "aria-label": "What each plate is worth" }, el("table", { class: "compare" },
      el("thead", {}, el("tr", {}, el("td", {}), ...compared.plates.map((p, i) => el("th", { scope: "col" }, i
        ? el("button", { "data-plate": p.name, "aria-pressed": String(p.name === shown), title: p.title, onclick: () => store.set({ ghost: p.layout, ghostOf: p.name }) }, p.name)
        : p.name)))),
      el("tbody", {},
        el("tr", {}, el("th", { scope: "row" }, "break a limit"), ...compared.plates.map((p) => el("td", { class: p.fails ? "bad" : "" }, String(p.fails)))),
        ...compared.lines.map((line) => el("tr", {}, el("th", { scope: "row" }, line.words),
          ...line.values.map((value, i) => el("td", { class: line.best[i] ? "better" : "" }, value))))))),
    el("ul", { class: "remarks" }, ...compared.plates.filter((p) => p.title).map((p) => el("li", {}, el("b", {}, p.name), `: ${[p.title, ...p.remarks].join("; ")}`))),
    ...failed);
  }

  return () => {
    if (!["place", "wire", "warm", "drill"].includes(store.state.stage)) store.set({ stage: "place" });
    show(host.hidden);
  };
}

/** The plate as it stands beside the best so far: what the checks say, what each is worth. @param {Plan} plan @param {Candidate} best */
function side(plan, best) {
  /** @type {[string, (c: Candidate) => string][]} */
  const rows = [
    ["break a limit", (c) => String(c.counts.FAIL)], ["fall short", (c) => String(c.counts.CAUTION)],
    ["placed", (c) => `${c.totals.placed} of ${c.totals.devices}`], ["fullest duct", (c) => percent(c.totals.highest_fill)],
  ];
  const worth = plan.worth.map((row) => el("tr", {}, el("th", { scope: "row" }, row.words), el("td", {}, row.values[0]),
    el("td", { class: row.better === null ? "" : row.better ? "better" : "worse" }, row.values[1])));
  return el("div", {},
    el("table", { class: "compare" },
      el("thead", {}, el("tr", {}, el("th", { scope: "col" }, "Compared"), el("th", { scope: "col" }, "as it stands"), el("th", { scope: "col" }, "best so far"))),
      el("tbody", {}, ...rows.map(([name, of]) => el("tr", {}, el("th", { scope: "row" }, name), el("td", {}, of(plan.before)), el("td", {}, of(best)))), ...worth)),
    el("p", { class: "dim" }, Object.entries(plan.differences).map(([what, count]) => `${what}: ${count}`).join(" · ")));
}
