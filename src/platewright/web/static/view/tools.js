// @ts-check
/** Large buttons at the drawing's edge: what the hand does, zoom, layers, grid. */

/** @import { Store } from "../store.js" */
/** @import { Tool } from "../types.js" */
import { byId, el, svg } from "../dom.js";

/** @type {[Tool, string, string][]} tool, word, picture */
const TOOLS = [
  ["hand", "Move things", "M8 20V9a2 2 0 0 1 4 0v6-9a2 2 0 0 1 4 0v8-6a2 2 0 0 1 4 0v10c0 6-4 9-8 9-4 0-6-2-9-8l-2-4c1-2 3-1 4 1l3 5"],
  ["box", "Choose by a frame", "M4 8V4h4M12 4h4M20 4h4v4M24 12v4M24 20v4h-4M16 24h-4M8 24H4v-4M4 16v-4"],
  ["duct", "Draw a duct", "M3 8h22v12H3zM7 8v4M11 8v4M15 8v4M19 8v4M7 20v-4M11 20v-4M15 20v-4M19 20v-4"],
  ["rail", "Draw a rail", "M3 9h22M3 19h22M3 11h22M3 17h22M1 14h3M7 14h6M16 14h3M22 14h5"],
];
const LAYERS = /** @type {const} */ ([
  ["balloons", "Findings"], ["covers", "Covers, plugs, levers"], ["clear", "Clear space"], ["warmth", "Temperatures"], ["wires", "Wires"],
  ["holes", "Holes to drill"], ["fixings", "Plate fixings"], ["side", "Side view"], ["photo", "Photo"],
]);

/** @param {Store} store @param {{ zoom: (factor: number) => void, fit: () => void, photo: () => void }} does */
export function mountTools(store, does) {
  const buttons = TOOLS.map(([tool, word, d]) => el("button", {
    class: "tool", "aria-label": word, title: word, "data-tool": tool,
    onclick: () => store.set({ tool: store.state.tool === tool ? "hand" : tool }),
  }, svg("svg", { viewBox: "0 0 28 28", "aria-hidden": "true" }, svg("path", { d }))));
  const plain = (/** @type {string} */ sign, /** @type {string} */ word, /** @type {() => void} */ act, /** @type {boolean} */ zooms = false) =>
    el("button", { class: "tool", "data-zoom": zooms, "aria-label": word, title: word, onclick: act }, sign);
  const boxes = LAYERS.map(([name, word]) => {
    const box = el("input", { type: "checkbox", onchange: () => store.set({ layers: { ...store.state.layers, [name]: box.checked } }) });
    return { name, box, line: el("label", {}, box, word) };
  });
  const grid = el("select", { "aria-label": "Grid", onchange: () => store.set({ grid: Number(grid.value) }) },
    ...[["0", "none"], ["0.5", "0.5 mm"], ["1", "1 mm"], ["5", "5 mm"], ["12.7", "1/2 in"]].map(([value, word]) => el("option", { value }, word)));
  grid.value = String(store.state.grid);
  const share = el("input", { type: "range", min: 0, max: 100, "aria-label": "How strong the photo is", oninput: () => {
    const { photo } = store.state;
    if (photo) store.set({ photo: { ...photo, share: Number(share.value) / 100 } });
  } });
  const photo = el("button", { onclick: () => {
    layers.open = false;
    does.photo();
  } }, "Photo of the plate…");
  const layers = el("details", { class: "layers" },
    el("summary", { class: "tool", "aria-label": "What is shown", title: "What is shown" }, "☰"),
    el("div", { class: "slip" }, el("h2", {}, "Shown"), ...boxes.map((b) => b.line),
      el("label", {}, "Grid ", grid), photo, el("label", { class: "share" }, "Photo ", share)));
  layers.addEventListener("keydown", (event) => {
    if (event.key !== "Escape" || !layers.open) return;
    layers.open = false;
    layers.querySelector("summary")?.focus();
    event.stopPropagation();
  });
  byId("tools").append(...buttons, plain("+", "Zoom in", () => does.zoom(1.3), true),
    plain("−", "Zoom out", () => does.zoom(1 / 1.3), true), plain("⤢", "Whole plate", does.fit), layers);

  store.listen(({ tool }) => {
    for (const button of buttons) button.setAttribute("aria-pressed", String(button.dataset.tool === tool));
    byId("drawing").dataset.tool = tool;
  }, "tool");
  store.listen((state) => {
    for (const { name, box } of boxes) box.checked = state.layers[name];
    const lit = state.photo;
    share.disabled = !lit;
    if (lit) share.value = String(lit.share * 100);
  }, "layers", "photo");
}
