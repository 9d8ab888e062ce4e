// @ts-check
/** The faults of a list or a form that was not saved. */

/** @import { Fault } from "../types.js" */
import { el } from "../dom.js";

/**
 * One entry for each fault, which leads to its place; the bare message where there is none.
 * @param {Fault[]} found @param {string} message @param {(fault: Fault) => void} jump
 */
export const faultEntries = (found, message, jump) =>
  (found.length ? found : [null]).map((fault) => el("li", {}, fault
    ? el("button", { onclick: () => jump(fault) }, `${fault.where}: ${fault.problem}. ${fault.cure}`)
    : message));
