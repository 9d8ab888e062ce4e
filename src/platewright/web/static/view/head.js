// @ts-check
/** The upper edge: the job's name, the stages as a builder meets them, undo, plan, light. */

/** @import { Store } from "../store.js" */
/** @import { Actions } from "../actions.js" */
/** @import { Stage } from "../types.js" */
import { byId, el } from "../dom.js";

/** @type {[Stage, string, string][]} */
export const STAGES = [
  ["list", "What’s in it", "parts, devices, wires"],
  ["place", "Where it goes", "the plate and what is found"],
  ["wire", "How it’s wired", "every wire and its way"],
  ["warm", "How warm", "what gives off heat"],
  ["drill", "Cut and drill", "holes and pieces"],
  ["build", "Build", "sheets to pin up"],
];

/** @param {Store} store @param {Actions} actions @param {() => void} openPlan */
export function mountHead(store, actions, openPlan) {
  const buttons = STAGES.map(([stage, name, hint], i) =>
    el("button", { role: "tab", "data-stage": stage, title: hint, onclick: () => store.set({ stage }) },
      el("span", { class: "step", "aria-hidden": "true" }, String(i + 1)), name));
  const tabs = el("nav", { class: "stages", role: "tablist", "aria-label": "Stages of the job" }, ...buttons);
  tabs.addEventListener("keydown", (event) => {
    const by = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    if (!by) return;
    const at = STAGES.findIndex(([stage]) => stage === store.state.stage);
    const next = (at + by + STAGES.length) % STAGES.length;
    store.set({ stage: STAGES[next][0] });
    buttons[next].focus();
  });
  const undo = el("button", { class: "round", onclick: actions.undo }, "↶");
  const redo = el("button", { class: "round", onclick: actions.redo }, "↷");
  const plan = el("button", { class: "main", onclick: openPlan }, "Plan…");
  const light = el("button", { class: "round", "aria-label": "Light or dark", title: "Light or dark", onclick: turnLight }, "◐");
  const keys = el("button", {
    class: "round", "aria-label": "Keys", title: "Keys",
    onclick: () => /** @type {HTMLDialogElement} */ (byId("help")).showModal(),
  }, "?");
  byId("head").append(
    tabs,
    el("div", { class: "doing", role: "group", "aria-label": "Edit" }, undo, redo, plan, light, keys),
  );

  store.listen(({ server }) => {
    for (const [button, word, label] of /** @type {const} */ ([[undo, "Undo", server?.undo], [redo, "Redo", server?.redo]])) {
      button.disabled = !label;
      const said = label ? `${word}: ${label}` : `Nothing to ${word.toLowerCase()}`;
      button.setAttribute("aria-label", said);
      button.title = said;
    }
  }, "server");
  store.listen(({ stage }) => {
    document.body.dataset.stage = stage;
    for (const button of buttons) {
      const is = button.dataset.stage === stage;
      button.setAttribute("aria-selected", String(is));
      button.tabIndex = is ? 0 : -1;
    }
  }, "stage");
}

function turnLight() {
  const root = document.documentElement;
  const dark = root.dataset.light
    ? root.dataset.light === "dark"
    : matchMedia("(prefers-color-scheme: dark)").matches;
  root.dataset.light = dark ? "light" : "dark";
}
