// @ts-check
/** Every wire with its length and way; the chosen one is drawn over the plate. */

/** @import { Store } from "../store.js" */
/** @import { Actions } from "../actions.js" */
import { el } from "../dom.js";
import { metres, percent, told } from "../state/lengths.js";

const MOST = 400; // rows shown at once

/** @param {Store} store @param {Actions} actions @param {HTMLElement} host */
export function mountWires(store, actions, host) {
  const find = el("input", { type: "search", placeholder: "number, device, colour", "aria-label": "Find a wire", oninput: draw });
  const sum = el("p", { class: "sum" });
  const ducts = el("ul", { class: "ducts-fill" });
  const list = el("ul", { class: "wires" });
  host.append(el("h2", {}, "Wires"), sum, el("h3", {}, "Fill of the ducts"), ducts, el("h3", {}, "Each wire"), find, list);

  store.listen(({ stage }) => {
    if (stage === "wire") actions.wires();
  }, "stage", "checked");
  store.listen(draw, "wires", "wire");
  store.listen(({ checked }) => {
    if (!checked) return;
    const fills = Object.entries(checked.fill).sort((a, b) => b[1] - a[1]);
    ducts.replaceChildren(...fills.map(([tag, fill]) => el("li", {},
      el("button", { onclick: () => store.set({ chosen: [tag] }) }, `${tag} `, meter(fill), ` ${percent(fill)}`))));
  }, "checked");

  function draw() {
    const { wires, wire, job } = store.state;
    if (!job) return;
    const word = find.value.trim().toLowerCase();
    const found = wires.filter((w) => !word || `${w.number} ${w.from} ${w.to} ${w.colour} ${w.size} ${w.group}`.toLowerCase().includes(word));
    const total = wires.reduce((all, w) => all + w.cut, 0);
    sum.textContent = `${wires.length} wires, ${metres(total)} to cut.`;
    list.replaceChildren(...found.slice(0, MOST).map((w) => el("li", {}, el("button", {
      class: "wire-line", "aria-pressed": String(w.number === wire),
      onclick: () => store.set({ wire: w.number === wire ? null : w.number }),
    }, el("b", {}, w.number), el("span", {}, `${w.from} → ${w.to}`), el("span", { class: "dim" }, `${w.size} ${w.colour}`),
    el("span", { class: w.problem ? "bad" : "length" }, w.problem || told(w.cut, job.unit))))));
    if (found.length > MOST) list.append(el("li", {}, `… and ${found.length - MOST} more: type to find them`));
  }
}

/** @param {number} fill */
function meter(fill) {
  const bar = el("span", { class: "meter" }, el("span", {}));
  /** @type {HTMLElement} */ (bar.firstChild).style.width = `${Math.min(100, fill * 100)}%`;
  return bar;
}
