// @ts-check
/** What stands beside the drawing at each stage: findings, wires, heat, or holes. */

/** @import { Store } from "../store.js" */
/** @import { Actions } from "../actions.js" */
import { byId, el } from "../dom.js";
import { mountFindings } from "./findings.js";
import { mountHeat } from "./heat.js";
import { mountHoles } from "./holes.js";
import { mountWires } from "./wires.js";

/** @param {Store} store @param {Actions} actions */
export function mountColumn(store, actions) {
  const parts = {
    place: el("div", { class: "part" }), wire: el("div", { class: "part" }),
    warm: el("div", { class: "part" }), drill: el("div", { class: "part" }),
  };
  byId("column").append(...Object.values(parts));
  mountFindings(store, actions, parts.place);
  mountWires(store, actions, parts.wire);
  mountHeat(store, actions, parts.warm);
  mountHoles(store, actions, parts.drill);
  store.listen(({ stage }) => {
    for (const [name, part] of Object.entries(parts)) part.hidden = name !== stage;
    byId("column").hidden = !(stage in parts);
    byId("bench").hidden = !(stage in parts);
    byId("pages").hidden = stage in parts;
    const layers = { ...store.state.layers, balloons: stage === "place", holes: stage === "drill", wires: stage === "wire", clear: false, warmth: stage === "warm" };
    store.set({ layers });
  }, "stage");
}
