// @ts-check
/** Notes that come and go; faults of files and changes from outside stay until they are dealt with. */

/** @import { Store } from "../store.js" */
/** @import { Actions } from "../actions.js" */
import { byId, el } from "../dom.js";

const STAY = 6000; // ms

/** @param {string} text @param {string} [kind] */
export function note(text, kind = "") {
  const node = el("div", { class: `note ${kind}` }, el("p", {}, text),
    el("button", { class: "round", "aria-label": "Put away", onclick: () => node.remove() }, "×"));
  byId("notes").append(node);
  setTimeout(() => node.remove(), kind === "trouble" ? STAY * 2 : STAY);
}

/** @param {Store} store @param {Actions} actions */
export function mountNotes(store, actions) {
  const standing = el("div", { class: "standing" });
  byId("notes").append(standing);
  store.listen(({ server }) => {
    if (!server) return;
    /** @type {Node[]} */
    const nodes = server.notices.slice(-3).map((text) => el("div", { class: "note" }, el("p", {}, text),
      el("button", { onclick: actions.undo }, "Undo"), el("button", { onclick: actions.readNotices }, "Keep it")));
    if (server.faults.length) {
      nodes.push(el("div", { class: "note trouble" },
        el("p", {}, "A file was changed outside and has faults. Nothing is overwritten; editing waits."),
        el("ul", {}, ...server.faults.slice(0, 6).map((f) => el("li", {}, `${f.where}: ${f.problem}. ${f.cure}`))),
        el("button", { onclick: actions.putBack }, "Put back what the page has (keeps the other version beside it)")));
    }
    standing.replaceChildren(...nodes);
  }, "server");
}
