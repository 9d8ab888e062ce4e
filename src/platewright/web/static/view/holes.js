// @ts-check
/** Holes to mark and drill: what is done is ticked off here, and never moved by plan or hand after. */

/** @import { Store } from "../store.js" */
/** @import { Actions } from "../actions.js" */
/** @import { Hole } from "../types.js" */
import { el } from "../dom.js";
import { shown } from "../state/lengths.js";
import { isIdleMark, nextState, WIPE_OFF } from "../state/marks.js";

/** @param {Store} store @param {Actions} actions @param {HTMLElement} host */
export function mountHoles(store, actions, host) {
  const sum = el("p", { class: "sum" });
  const list = el("div", {});
  host.append(el("h2", {}, "Holes"), sum,
    el("p", { class: "row" },
      el("button", { onclick: () => actions.edit({ do: "place-holes" }) }, "Plan the holes anew"),
      el("button", { onclick: () => actions.download("holes.pdf") }, "Hole sheet"),
      el("button", { onclick: () => actions.download("cuts.pdf") }, "Cut list")),
    el("p", { class: "safety" }, "Tap a hole here or on the plate: planned, marked, drilled. A drilled hole stays where it is. Wear eye protection; clamp the plate; deburr."),
    list);

  addEventListener("hole", (event) => {
    turn(String(/** @type {CustomEvent} */ (event).detail));
  });

  /** @param {string} tag */
  function turn(tag) {
    const hole = store.state.layout.holes[tag];
    if (hole) actions.edit({ do: "set-holes", tags: [tag], state: nextState(hole) });
  }

  store.listen(({ layout, job, stage }) => {
    if (!job || stage !== "drill") return;
    /** @type {Map<string, [string, Hole][]>} */
    const tools = new Map();
    for (const [tag, hole] of Object.entries(layout.holes)) {
      const tool = isIdleMark(hole) ? WIPE_OFF : `${hole.size} ${hole.kind}, drill ${hole.drill} mm`;
      tools.set(tool, [...(tools.get(tool) ?? []), [tag, hole]]);
    }
    const all = Object.values(layout.holes).filter((h) => !isIdleMark(h));
    const done = all.filter((h) => h.state === "drilled").length;
    sum.textContent = `${all.length} holes, ${done} drilled, ${all.filter((h) => !h.holds).length} left over.`;
    const focus = document.activeElement?.getAttribute("data-turn");
    list.replaceChildren(...[...tools].sort().map(([tool, holes]) => el("section", {}, el("h3", {}, `${tool}: ${holes.length}`),
      el("ul", { class: "holes" }, ...holes.map(([tag, hole]) => el("li", {}, el("button", {
        class: `hole-line ${hole.state}`, "data-turn": tag, onclick: () => turn(tag),
        title: `Tap: ${isIdleMark(hole) ? "wiped off" : nextState(hole)}`,
      }, el("b", {}, tag), el("span", {}, `${shown(hole.x, job.unit)}, ${shown(hole.y, job.unit)}`),
      el("span", { class: "dim" }, hole.holds || (isIdleMark(hole) ? "holds nothing" : "left over")), el("span", { class: "state" }, hole.state))))))));
    if (focus) /** @type {HTMLElement | null} */ (list.querySelector(`[data-turn="${CSS.escape(focus)}"]`))?.focus();
  }, "layout", "job", "stage");
}
