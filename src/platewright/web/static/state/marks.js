// @ts-check
/** Marks on the plate that hold nothing any more: wiped off, never drilled. */

/** @import { Hole } from "../types.js" */

export const WIPE_OFF = "Marks to wipe off, not to drill";
const NEXT = /** @type {const} */ ({ planned: "marked", marked: "drilled", drilled: "planned" });

/** @param {Hole} hole */
export function isIdleMark(hole) {
  return hole.state === "marked" && !hole.holds;
}

/** What a tap makes of a hole; a mark that holds nothing is wiped off. @param {Hole} hole */
export function nextState(hole) {
  return isIdleMark(hole) ? "planned" : NEXT[hole.state];
}
