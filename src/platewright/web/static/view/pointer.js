// @ts-check
/** Mouse, pen and fingers on the drawing: choose, drag with snap, pan, zoom, draw rails and ducts. */

/** @import { Store } from "../store.js" */
/** @import { Actions } from "../actions.js" */
/** @import { Point, Box } from "../types.js" */
import { svg, set } from "../dom.js";
import { linesFor, round, snapped } from "../state/snap.js";
import { bodyOf, envelopeOf, placeOf, shifted, within } from "../state/things.js";
import { flip, panned, pinched, toPlate, zoomed } from "../state/viewport.js";
import { marks } from "./marks.js";

const REACH = 8; // pixels within which a hand snaps
const FARTHEST = 10; // mm it snaps at most, however small the plate is shown
const STILL = 5; // pixels a finger may tremble

/**
 * @typedef {{ shift: (tags: string[], dx: number, dy: number) => void, still: (tags: string[]) => void }} Things
 * @typedef {{ drag: (tags: string[], at: [number, number][]) => void, still: () => void }} Live
 */

/** @param {Store} store @param {Actions} actions @param {Live} live @param {{ picture: SVGSVGElement, things: Things }} plate */
export function mountPointer(store, actions, live, { picture, things }) {
  /** @type {Map<number, Point>} */
  const fingers = new Map();
  /** @type {{ move: (at: Point, event: PointerEvent) => void, end: (at: Point, event: PointerEvent) => void, stop: () => void } | null} */
  let gesture = null;
  const sketch = svg("rect", { class: "sketch", visibility: "hidden" });
  picture.append(sketch);

  const height = () => store.state.job?.plate.height ?? 0;
  const at = (/** @type {MouseEvent} */ event) => {
    const box = picture.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  };

  picture.addEventListener("pointerdown", (event) => {
    if (event.button > 1 || !store.state.job) return;
    fingers.set(event.pointerId, at(event));
    picture.setPointerCapture(event.pointerId);
    if (fingers.size === 2) {
      gesture?.stop();
      gesture = pinch();
    } else if (fingers.size === 1) {
      gesture = begin(event);
    }
  });
  picture.addEventListener("pointermove", (event) => {
    if (!fingers.has(event.pointerId)) return;
    fingers.set(event.pointerId, at(event));
    gesture?.move(at(event), event);
  });
  const let_go = (/** @type {PointerEvent} */ event) => {
    if (!fingers.delete(event.pointerId)) return;
    if (event.type === "pointerup") gesture?.end(at(event), event);
    else gesture?.stop();
    if (!fingers.size) gesture = null;
  };
  picture.addEventListener("pointerup", let_go);
  picture.addEventListener("pointercancel", let_go);
  picture.addEventListener("wheel", (event) => {
    event.preventDefault();
    const factor = Math.exp(-event.deltaY * (event.deltaMode ? 0.05 : 0.0015));
    store.set({ view: zoomed(store.state.view, factor, at(event)) });
  }, { passive: false });

  /** @param {PointerEvent} event */
  function begin(event) {
    const target = /** @type {Element} */ (event.target);
    const start = at(event);
    const { tool } = store.state;
    if (store.state.tracing !== null) return traceAt(start);
    const handle = target.closest("[data-end]");
    if (handle) return stretch(handle, start);
    if (tool === "duct" || tool === "rail") return drawNew(tool, start);
    const balloon = target.closest("[data-finding]");
    if (balloon) return tap(start, () => store.set({ finding: Number(balloon.getAttribute("data-finding")) }));
    const hole = store.state.stage === "drill" && target.closest("[data-hole]");
    if (hole) return tap(start, () => dispatchEvent(new CustomEvent("hole", { detail: hole.getAttribute("data-hole") })));
    const thing = target.closest("[data-tag]");
    if (thing) return take(thing.getAttribute("data-tag") ?? "", start, event);
    if (tool === "box" || event.shiftKey) return boxChoice(start);
    return pan(start);
  }

  /** @param {Point} start @param {() => void} done */
  const tap = (start, done) => ({
    move() {},
    end: (/** @type {Point} */ now) => void (far(start, now) || done()),
    stop() {},
  });

  /** @param {Point} start */
  function pan(start) {
    let last = start;
    let moved = false;
    return {
      move(/** @type {Point} */ now) {
        if (!(moved ||= far(start, now))) return;
        store.set({ view: panned(store.state.view, now.x - last.x, now.y - last.y) });
        last = now;
      },
      end: () => void (moved || store.set({ chosen: [], finding: null })),
      stop() {},
    };
  }

  /** A click tells where a device is seen in the photo; a drag pans. @param {Point} start */
  function traceAt(start) {
    return {
      move: pan(start).move,
      end(/** @type {Point} */ now) {
        if (!far(start, now)) dispatchEvent(new CustomEvent("seen", { detail: toPlate(store.state.view, now, height()) }));
      },
      stop() {},
    };
  }

  function pinch() {
    const two = () => /** @type {[Point, Point]} */ ([...fingers.values()].slice(0, 2));
    let last = two();
    return {
      move() {
        if (fingers.size < 2) return;
        store.set({ view: pinched(store.state.view, last, two()) });
        last = two();
      },
      end() {},
      stop() {},
    };
  }

  /** @param {Point} start */
  function boxChoice(start) {
    const from = toPlate(store.state.view, start, height());
    const box = (/** @type {Point} */ now) => {
      const to = toPlate(store.state.view, now, height());
      return /** @type {Box} */ ([Math.min(from.x, to.x), Math.min(from.y, to.y), Math.max(from.x, to.x), Math.max(from.y, to.y)]);
    };
    return {
      move: (/** @type {Point} */ now) => show(box(now)),
      end(/** @type {Point} */ now) {
        show(null);
        const { job, layout } = store.state;
        if (job) store.set({ chosen: within(job, layout, box(now)), tool: "hand" });
      },
      stop: () => show(null),
    };
  }

  /** @param {Box | null} box */
  function show(box) {
    set(sketch, box
      ? { visibility: "visible", x: box[0], y: flip(box[3], height()), width: box[2] - box[0], height: box[3] - box[1] }
      : { visibility: "hidden" });
  }

  /** Choose a thing and, once the hand moves, drag all that is chosen. @param {string} tag @param {Point} start @param {PointerEvent} event */
  function take(tag, start, event) {
    const more = event.ctrlKey || event.metaKey || event.shiftKey;
    const was = store.state.chosen;
    if (!was.includes(tag)) store.set({ chosen: more ? [...was, tag] : [tag] });
    /** @type {ReturnType<typeof dragging> | null} */
    let drag = null;
    return {
      move(/** @type {Point} */ now) {
        if (!drag && far(start, now)) drag = dragging(tag);
        drag?.to(start, now);
      },
      end() {
        if (drag) drag.drop();
        else if (more && was.includes(tag)) store.set({ chosen: was.filter((t) => t !== tag) });
        else if (!more) store.set({ chosen: [tag] });
      },
      stop: () => drag?.back(),
    };
  }

  /** @param {string} tag the thing under the finger: the one that snaps */
  function dragging(tag) {
    const { job, layout, checked, chosen } = store.state;
    if (!job) return null;
    const locked = chosen.filter((t) => placeOf(layout, t)?.locked);
    const tags = chosen.filter((t) => placeOf(layout, t) && !locked.includes(t));
    if (!tags.includes(tag)) {
      actions.note(`${tag} is locked: unlock it first`);
      return null;
    }
    const from = new Map(tags.map((t) => [t, /** @type {Point} */ (placeOf(layout, t))]));
    const boxes = tags.flatMap((t) => [envelopeOf(job, layout, t) ?? bodyOf(job, layout, t)]);
    const own = /** @type {Point} */ (from.get(tag));
    const lines = linesFor(job, layout, checked, tag, new Set(tags));
    const size = job.devices[tag] ?? { width: 0, height: 0 };
    let [dx, dy] = [0, 0];
    let queued = 0;
    store.set({ dragging: true, live: null });
    const paint = () => {
      queued = 0;
      things.shift(tags, dx, dy);
      marks.hand(boxes.flatMap((b) => (b ? [/** @type {Box} */ ([b[0] + dx, b[1] + dy, b[2] + dx, b[3] + dy])] : [])));
      live.drag(tags, tags.map((t) => {
        const p = /** @type {Point} */ (from.get(t));
        return [round(p.x + dx), round(p.y + dy)];
      }));
    };
    const done = () => {
      cancelAnimationFrame(queued);
      live.still();
      things.still(tags);
    };
    return {
      to(/** @type {Point} */ start, /** @type {Point} */ now) {
        const { view, grid } = store.state;
        const wish = { x: own.x + (now.x - start.x) / view.k, y: own.y - (now.y - start.y) / view.k };
        const place = snapped(wish, lines, Math.min(REACH / view.k, FARTHEST), grid, size);
        [dx, dy] = [round(place.x - own.x), round(place.y - own.y)];
        queued ||= requestAnimationFrame(paint);
      },
      drop() {
        done();
        const places = new Map([...from].map(([t, p]) => [t, { x: round(p.x + dx), y: round(p.y + dy) }]));
        store.set({ layout: shifted(store.state.layout, places), dragging: false, live: null });
        if (dx || dy) actions.move({ tags, dx, dy });
      },
      back() {
        done();
        store.set({ dragging: false, live: null });
      },
    };
  }

  /** Draw a chosen rail or duct out at one end. @param {Element} handle @param {Point} start */
  function stretch(handle, start) {
    const tag = handle.getAttribute("data-of") ?? "";
    const { layout, view } = store.state;
    const thing = layout.ducts[tag] ?? layout.rails[tag];
    const across = thing.run === "across";
    const low = across ? thing.x : thing.y;
    let [first, last] = [low, low + thing.length];
    const isStart = handle.getAttribute("data-end") === "start";
    return {
      move(/** @type {Point} */ now) {
        const by = across ? (now.x - start.x) / view.k : (start.y - now.y) / view.k;
        const grid = store.state.grid || 0.1;
        const value = Math.round(((isStart ? low : low + thing.length) + by) / grid) * grid;
        if (isStart) first = round(Math.min(value, last - 10));
        else last = round(Math.max(value, first + 10));
        const b = thing.box;
        show(across ? [first, b[1], last, b[3]] : [b[0], first, b[2], last]);
      },
      end() {
        show(null);
        if (first !== low || last !== low + thing.length) actions.edit({ do: "stretch", tag, start: first, end: last });
      },
      stop: () => show(null),
    };
  }

  /** A new duct or rail, by its two ends. @param {"duct" | "rail"} tool @param {Point} start */
  function drawNew(tool, start) {
    const from = toPlate(store.state.view, start, height());
    const stock = store.state.job?.stock ?? [];
    const size = stock.find((s) => s.name === store.state.layStock) ?? stock[Math.min(1, stock.length - 1)];
    const wide = tool === "duct" ? (size?.width ?? 40) : 35;
    const grid = store.state.grid || 1;
    const on = (/** @type {number} */ v) => Math.round(v / grid) * grid;
    const shape = (/** @type {Point} */ now) => {
      const to = toPlate(store.state.view, now, height());
      const across = Math.abs(to.x - from.x) >= Math.abs(to.y - from.y);
      const [a, b] = across ? [on(from.x), on(to.x)] : [on(from.y), on(to.y)];
      const [low, length] = [Math.min(a, b), Math.abs(b - a)];
      const side = on(across ? from.y : from.x) - wide / 2;
      return { across, low, length, side };
    };
    return {
      move(/** @type {Point} */ now) {
        const { across, low, length, side } = shape(now);
        show(across ? [low, side, low + length, side + wide] : [side, low, side + wide, low + length]);
      },
      end(/** @type {Point} */ now) {
        show(null);
        const { across, low, length, side } = shape(now);
        store.set({ tool: "hand" });
        if (length < 10) return;
        const mid = tool === "rail" ? side + wide / 2 : side;
        const place = across ? { x: low, y: mid } : { x: mid, y: low };
        const run = across ? "across" : "upright";
        actions.edit(tool === "duct"
          ? { do: "add-duct", ...place, length, run, stock: size?.name ?? "" }
          : { do: "add-rail", ...place, length, run });
      },
      stop: () => show(null),
    };
  }

  return { at };
}

/** @param {Point} a @param {Point} b */
const far = (a, b) => Math.hypot(a.x - b.x, a.y - b.y) > STILL;
