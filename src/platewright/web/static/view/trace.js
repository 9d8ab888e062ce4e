// @ts-check
/** Device by device from the photo: where it is seen beside where the plan has it; taken over and locked there. */

/** @import { Store } from "../store.js" */
/** @import { Actions } from "../actions.js" */
import { get, post } from "../api.js";
import { byId, el, set, svg } from "../dom.js";
import { told } from "../state/lengths.js";
import { round } from "../state/snap.js";
import { flip } from "../state/viewport.js";

/** @typedef {{ tag: string, what: string, plan: [number, number] | null, seen: [number, number] | null, locked: boolean }} Row */

/** @param {Store} store @param {Actions} actions @param {SVGSVGElement} picture */
export function mountTrace(store, actions, picture) {
  const host = byId("trace");
  const words = el("p", { class: "dim" });
  const list = el("ul", { class: "trace-rows" });
  const all = el("button", { class: "main", onclick: () => takeOver(rows.filter((r) => r.seen && !same(r)).map((r) => r.tag)) }, "Take over all that were seen");
  const close = el("button", { class: "round", "aria-label": "Close the comparison", onclick: () => store.set({ tracing: null }) }, "×");
  host.append(el("header", {}, el("h2", {}, "From the photo"), close), words, el("p", { class: "row" }, all), list);
  const frame = svg("rect", { class: "trace-frame" });
  const cross = svg("path", { class: "trace-cross" });
  const node = svg("g", { class: "trace-mark", tabindex: 0, role: "button", visibility: "hidden" }, frame, cross);
  picture.append(node);
  /** @type {Row[]} */
  let rows = [];
  let timer = 0;

  const row = () => rows.find((r) => r.tag === store.state.tracing);
  const same = (/** @type {Row} */ r) => Boolean(r.plan && r.seen && r.locked && Math.abs(r.plan[0] - r.seen[0]) < 0.051 && Math.abs(r.plan[1] - r.seen[1]) < 0.051);

  async function open() {
    try {
      rows = await get("photo/compare");
    } catch (error) {
      return actions.say(error);
    }
    if (store.state.stage === "list" || store.state.stage === "build") store.set({ stage: "place" });
    pick(rows.find((r) => !r.seen)?.tag ?? rows[0]?.tag ?? null);
    return draw();
  }

  /** @param {string | null} tag */
  function pick(tag) {
    store.set({ tracing: tag, chosen: tag && store.state.layout.devices[tag] ? [tag] : [] });
    node.focus();
  }

  /** The device's lower left corner was seen there. @param {number} x @param {number} y */
  function seenAt(x, y) {
    const at = row();
    if (!at) return;
    at.seen = [round(Math.round(x * 10) / 10), round(Math.round(y * 10) / 10)];
    draw();
    clearTimeout(timer);
    timer = window.setTimeout(keep, 350);
  }

  async function keep() {
    clearTimeout(timer);
    try {
      const seen = Object.fromEntries(rows.flatMap((r) => (r.seen ? [[r.tag, r.seen]] : [])));
      await post("photo/seen", { seen });
    } catch (error) {
      actions.say(error);
    }
  }

  /** @param {string[]} tags */
  async function takeOver(tags) {
    if (!tags.length) return actions.note("Mark where a device is seen first");
    await keep();
    const seen = Object.fromEntries(rows.filter((r) => tags.includes(r.tag)).map((r) => [r.tag, r.seen]));
    const done = await actions.step("photo/take-over", { seen });
    if (!done) return undefined;
    rows = await get("photo/compare");
    const left = rows.find((r) => !r.seen);
    pick(left?.tag ?? store.state.tracing);
    return draw();
  }

  function draw() {
    const { job, tracing, view } = store.state;
    const at = row();
    host.hidden = tracing === null;
    const device = job && at ? job.devices[at.tag] : null;
    set(node, { visibility: device ? "visible" : "hidden" });
    if (!job || !at || !device) return;
    const [x, y] = at.seen ?? at.plan ?? [job.plate.width / 2, job.plate.height / 2];
    const k = 14 / view.k;
    const bottom = flip(y, job.plate.height);
    set(frame, { x, y: bottom - device.height, width: device.width, height: device.height });
    set(cross, { d: `M${x - k} ${bottom}h${2 * k}M${x} ${bottom - k}v${2 * k}` });
    node.setAttribute("aria-label", `Lower left corner of ${at.tag} as seen; arrow keys move it, Enter takes it over`);
    words.textContent = `Click where the lower left corner of ${at.tag} meets the plate, or move its mark with the arrow keys (Shift: 10 mm, Alt: 0.1 mm). Enter takes it over; it is then locked there. Full stop: the next device.`;
    list.replaceChildren(...rows.map((r) => el("li", { class: r.tag === tracing ? "on" : "" },
      el("button", { class: "trace-row", "aria-pressed": String(r.tag === tracing), onclick: () => pick(r.tag) }, el("b", {}, r.tag), el("span", { class: "dim" }, off(r))),
      r.seen && !same(r) ? el("button", { "aria-label": `Take over ${r.tag}`, onclick: () => takeOver([r.tag]) }, "Take over") : null)));
    list.querySelector(".on")?.scrollIntoView({ block: "nearest" });
  }

  /** How far a device is from the plan. @param {Row} r */
  function off(r) {
    const unit = store.state.job?.unit;
    if (!unit) return "";
    if (!r.seen) return r.plan ? "not seen yet" : "in the tray, not seen yet";
    if (!r.plan) return "seen; in the tray";
    if (same(r)) return "taken over";
    const [dx, dy] = [r.seen[0] - r.plan[0], r.seen[1] - r.plan[1]];
    const way = (/** @type {number} */ d, /** @type {string} */ more, /** @type {string} */ less) => (Math.abs(d) < 0.05 ? "" : `${told(Math.abs(d), unit)} ${d > 0 ? more : less}`);
    return [way(dx, "right", "left"), way(dy, "up", "down")].filter(Boolean).join(", ") || "as planned";
  }

  node.addEventListener("keydown", (event) => {
    const at = row();
    if (!at) return;
    const [dx, dy] = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key] ?? [0, 0];
    const step = { ".": 1, ",": -1 }[event.key];
    if (dx || dy) {
      const far = event.shiftKey ? 10 : event.altKey ? 0.1 : 1;
      const { plate } = /** @type {import("../types.js").Job} */ (store.state.job);
      const [x, y] = at.seen ?? at.plan ?? [plate.width / 2, plate.height / 2];
      seenAt(x + dx * far, y + dy * far);
    } else if (event.key === "Enter") takeOver([at.tag]);
    else if (step) pick(rows[(rows.indexOf(at) + step + rows.length) % rows.length].tag);
    else if (event.key === "Escape") store.set({ tracing: null });
    else return;
    event.preventDefault();
    event.stopPropagation();
  });
  addEventListener("seen", (event) => {
    const { x, y } = /** @type {CustomEvent} */ (event).detail;
    seenAt(x, y);
    node.focus();
  });
  store.listen(draw, "tracing", "job", "view");
  return open;
}
