// @ts-check
/** All that a mouse can do, by keys. Keys act on the drawing only while no field is being typed in. */

/** @import { Store } from "./store.js" */
/** @import { Actions } from "./actions.js" */
import { byId, el } from "./dom.js";
import { neighbour, placeOf, readingOrder, shifted } from "./state/things.js";
import { panned, zoomed } from "./state/viewport.js";
import { round } from "./state/snap.js";

/** @type {[string, string][]} */
export const KEYS = [
  [", and .", "choose the device before, or the next one"],
  ["Space", "add the next one to what is chosen"],
  ["Arrows", "shift what is chosen by 1 mm; Shift 10 mm, Alt 0.1 mm. Nothing chosen: shift the view"],
  ["Enter", "to the chosen things’ ticket: type a measured position or length, align, space"],
  ["r", "choose the whole row"],
  ["Shift D, Shift R", "lay a new duct, a new rail, by typed size and place"],
  ["[ and ]", "a chosen duct or rail: its [ shorter, ] longer by 1 mm at its right or upper end; Shift 10 mm, Alt at the other end"],
  ["Ctrl A", "choose everything"],
  ["l", "lock or unlock"],
  ["s", "swap two devices"],
  ["Delete", "lay back into the tray"],
  ["Ctrl Z, Ctrl Y", "undo, redo"],
  ["+ and −, 0", "zoom, see the whole plate"],
  ["n", "the next finding"],
  ["d", "do the chosen finding’s cure, where one was found"],
  ["Esc", "choose nothing; stop what the hand does"],
  ["?", "these keys"],
];

/** @typedef {{ drag: (tags: string[], at: [number, number][]) => void, still: () => void }} Live */

const PAUSE = 350; // ms after the last arrow key before the shift is saved as one step

/** @param {Store} store @param {Actions} actions @param {{ picture: SVGSVGElement, fit: () => void, size: () => { width: number, height: number }, things: { node: (tag: string) => Element | null } }} plate @param {(tool: "duct" | "rail") => void} lay */
export function mountKeys(store, actions, plate, lay) {
  const nudge = makeNudge(store, actions);
  const cut = makeStretch(store, actions);
  /** @type {Record<string, () => void>} */
  const plain = {
    ",": () => go(-1), ".": () => go(1), r: actions.chooseRow, l: actions.toggleLock, s: actions.swap,
    Delete: actions.takeOff, Backspace: actions.takeOff, "+": () => zoom(1.25), "=": () => zoom(1.25),
    "-": () => zoom(0.8), 0: plate.fit, n: nextFinding, d: doCure, " ": () => go(1, true),
    D: () => lay("duct"), R: () => lay("rail"),
    Enter: toTicket,
    Escape: () => store.set({ chosen: [], finding: null, tool: "hand" }),
    "?": () => /** @type {HTMLDialogElement} */ (byId("help")).showModal(),
  };

  addEventListener("keydown", (event) => {
    const where = /** @type {HTMLElement} */ (event.target);
    if (document.querySelector("dialog[open]")) return;
    const typing = where.closest("input, textarea, select, [contenteditable]");
    if (event.ctrlKey || event.metaKey) return undoKeys(event, Boolean(typing));
    if (typing) {
      if (event.key === "Escape") {
        store.set({ tool: "hand" });
        plate.picture.focus();
      }
      return;
    }
    const pressing = where.closest("button, a, summary");
    if (pressing && (event.key === "Enter" || event.key === " ")) return;
    if (event.key.startsWith("Arrow") && !where.closest("aside, [role=tablist], [role=radiogroup]")) return arrow(event);
    const way = { "[": -1, "{": -1, "]": 1, "}": 1 }[event.key] ?? { BracketLeft: -1, BracketRight: 1 }[event.code];
    if (way) {
      event.preventDefault();
      nudge.flush();
      return cut.by(way * (event.shiftKey ? 10 : 1), event.altKey);
    }
    const act = plain[event.key];
    if (!act || event.altKey) return;
    event.preventDefault();
    nudge.flush();
    cut.flush();
    act();
  });

  /** @param {KeyboardEvent} event @param {boolean} typing */
  function undoKeys(event, typing) {
    if (typing) return;
    const name = event.key.toLowerCase();
    if (name === "a" && store.state.job) {
      event.preventDefault();
      return store.set({ chosen: readingOrder(store.state.job, store.state.layout) });
    }
    if (name !== "z" && name !== "y") return;
    event.preventDefault();
    nudge.flush();
    cut.flush();
    if (name === "y" || event.shiftKey) actions.redo();
    else actions.undo();
  }

  /** @param {KeyboardEvent} event */
  function arrow(event) {
    event.preventDefault();
    const [x, y] = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key] ?? [0, 0];
    if (!store.state.chosen.length) {
      return store.set({ view: panned(store.state.view, -x * 60, y * 60) });
    }
    const far = event.shiftKey ? 10 : event.altKey ? 0.1 : 1;
    cut.flush();
    return nudge.by(x * far, y * far);
  }

  /** @param {1 | -1} step @param {boolean} [more] */
  function go(step, more = false) {
    const { job, layout, chosen } = store.state;
    if (!job) return;
    const next = neighbour(readingOrder(job, layout), chosen.at(-1), step);
    if (!next) return;
    store.set({ chosen: more ? [...chosen.filter((t) => t !== next), next] : [next] });
    /** @type {SVGElement | null} */ (plate.things.node(next))?.focus({ preventScroll: true });
  }

  function toTicket() {
    const first = /** @type {HTMLElement | undefined} */ ([...byId("ticket").querySelectorAll("input, button")].find((node) =>
      node instanceof HTMLElement && node.offsetParent));
    first?.focus();
    if (first instanceof HTMLInputElement) first.select();
  }

  function nextFinding() {
    const { checked, finding } = store.state;
    const list = checked?.findings ?? [];
    if (!list.length) return;
    const at = list.findIndex((f) => f.number === finding);
    store.set({ finding: list[(at + 1) % list.length].number });
  }

  function doCure() {
    const { cure, finding } = store.state;
    if (cure?.words && cure.number === finding) actions.doCure();
    else actions.note("No cure is at hand for a chosen finding");
  }

  /** @param {number} factor */
  function zoom(factor) {
    const { width, height } = plate.size();
    store.set({ view: zoomed(store.state.view, factor, { x: width / 2, y: height / 2 }) });
  }

  const help = /** @type {HTMLDialogElement} */ (byId("help"));
  help.append(
    el("h2", {}, "Keys"),
    el("dl", { class: "keys" }, ...KEYS.flatMap(([key, does]) => [el("dt", {}, key), el("dd", {}, does)])),
    el("form", { method: "dialog" }, el("button", { class: "main" }, "Close")),
  );
  const flush = () => {
    nudge.flush();
    cut.flush();
  };
  return { zoom, flush, follow: nudge.follow };
}

/** Many presses of a bracket, one cut. @param {Store} store @param {Actions} actions */
function makeStretch(store, actions) {
  let tag = "";
  let [start, end] = [0, 0];
  let timer = 0;

  function flush() {
    clearTimeout(timer);
    if (!tag) return;
    const done = { do: "stretch", tag, start: round(start), end: round(end) };
    tag = "";
    actions.edit(done);
  }

  return {
    flush,
    /** @param {number} far @param {boolean} [first] the left or lower end */
    by(far, first = false) {
      const { chosen, layout } = store.state;
      const only = chosen.length === 1 ? chosen[0] : "";
      const part = layout.ducts[only] ? "ducts" : "rails";
      const thing = layout.ducts[only] ?? layout.rails[only];
      if (!thing) return actions.note("Choose one duct or rail first");
      if (thing.locked) return actions.note(`${only} is locked: unlock it first`);
      if (tag !== only) {
        flush();
        tag = only;
        start = thing.run === "across" ? thing.x : thing.y;
        end = start + thing.length;
      }
      if (first) start -= far;
      else end += far;
      if (end - start < 10) [start, end] = first ? [end - 10, end] : [start, start + 10];
      const b = thing.box;
      const across = thing.run === "across";
      const box = across ? [start, b[1], end, b[3]] : [b[0], start, b[2], end];
      const fresh = { ...thing, ...(across ? { x: start } : { y: start }), length: end - start, box };
      store.set({ layout: /** @type {any} */ ({ ...layout, [part]: { ...layout[part], [only]: fresh } }) });
      clearTimeout(timer);
      timer = window.setTimeout(flush, PAUSE);
      return undefined;
    },
  };
}

/** Many presses, one step: shown at once, heat follows, saved when the keys rest. @param {Store} store @param {Actions} actions */
function makeNudge(store, actions) {
  let [dx, dy] = [0, 0];
  /** @type {string[]} */
  let tags = [];
  let timer = 0;
  /** @type {Live | null} */
  let live = null;

  function flush() {
    clearTimeout(timer);
    if (!tags.length) return null;
    const shift = { tags, dx: round(dx), dy: round(dy) };
    [tags, dx, dy] = [[], 0, 0];
    live?.still();
    return actions.move(shift).finally(() => {
      if (!tags.length) store.set({ nudging: false });
    });
  }

  return {
    flush,
    /** What follows the hand is to follow the keys, too. @param {Live} channel */
    follow(channel) {
      live = channel;
    },
    /** @param {number} x @param {number} y */
    by(x, y) {
      const { chosen, layout } = store.state;
      const locked = chosen.filter((tag) => placeOf(layout, tag)?.locked);
      if (locked.length) return actions.note(`${locked[0]} is locked: unlock it first`);
      if (tags.join() !== chosen.join()) flush();
      tags = chosen;
      dx += x;
      dy += y;
      const places = new Map(tags.flatMap((tag) => {
        const at = placeOf(layout, tag);
        return at ? [[tag, { x: round(at.x + x), y: round(at.y + y) }]] : [];
      }));
      store.set({ layout: shifted(layout, /** @type {any} */ (places)), nudging: true });
      if (store.state.layers.warmth) live?.drag([...places.keys()], [...places.values()].map((at) => [at.x, at.y]));
      clearTimeout(timer);
      timer = window.setTimeout(flush, PAUSE);
      return undefined;
    },
  };
}
