// @ts-check
/** What is written over the drawing: balloons, the chosen finding's measure, gaps while a hand moves. */

/** @import { Store } from "../store.js" */
/** @import { State, Box, Finding, Gap, Clash } from "../types.js" */
import { keyed, set, svg } from "../dom.js";
import { balloonPlaces, ballooned, spanOf } from "../state/findings.js";
import { shown, told } from "../state/lengths.js";
import { around, bodyOf, envelopeOf, placeOf } from "../state/things.js";
import { flip } from "../state/viewport.js";
import { dimension } from "./dimension.js";

const BALLOON = 32; // pixels, of what fails
const LIGHT = 23; // of the rest

/** @param {Store} store @param {SVGGElement} group */
export function mountMarks(store, group) {
  const clear = svg("g", { class: "clear-spaces" });
  const measure = svg("g", { class: "measure" });
  const live = svg("g", { class: "live" });
  const balloons = svg("g", { class: "balloons" });
  const handles = svg("g", { class: "handles" });
  group.append(clear, balloons, measure, live, handles);
  /** @type {Map<string, Element>} */
  const kept = new Map();

  /** @param {Box} box plate @param {number} height @returns {Box} drawing */
  const drawn = (box, height) => [box[0], flip(box[3], height), box[2], flip(box[1], height)];

  /** @param {State} state */
  function drawBalloons({ job, checked, finding, view, dragging, chosen, layers, layout, ghost, beside }) {
    if (!job || !layers.balloons || (ghost && !beside)) return keyed(balloons, kept, [], () => svg("g"), () => {});
    const hidden = new Set(dragging ? chosen : []);
    const list = ballooned(checked?.findings ?? [], finding).filter((f) => !hidden.has(f.subject));
    const sizeOf = (/** @type {Finding} */ f) => (f.verdict === "FAIL" || f.number === finding ? BALLOON : LIGHT) / view.k;
    const boxes = list.map((f) => ({ number: f.number, box: drawn(/** @type {Box} */ (f.place), job.plate.height), size: sizeOf(f) }));
    const bodies = Object.keys(layout.devices).flatMap((tag) => {
      const box = bodyOf(job, layout, tag);
      return box ? [drawn(box, job.plate.height)] : [];
    });
    const places = balloonPlaces(boxes, bodies);
    balloons.classList.toggle("one", finding !== null);
    keyed(balloons, kept, list.map((f, i) => [String(f.number), { f, box: boxes[i].box }]), makeBalloon, (node, { f, box }) => {
      const at = places.get(f.number);
      if (!at) return;
      set(node, {
        class: `balloon ${f.verdict}${f.number === finding ? " chosen" : ""}`,
        "aria-label": `Finding ${f.number}, ${f.verdict}: ${f.message}`,
      });
      const target = {
        x: Math.max(box[0], Math.min(at.x, box[2])), y: Math.max(box[1], Math.min(at.y, box[3])),
      };
      const [line, circle, text] = node.children;
      set(line, { d: `M${target.x} ${target.y}L${at.x} ${at.y}` });
      set(circle, { cx: at.x, cy: at.y, r: sizeOf(f) / 2 });
      set(text, { x: at.x, y: at.y });
      /** @type {SVGElement} */ (text).style.fontSize = `${sizeOf(f) * 0.56}px`;
      text.textContent = String(f.number);
    });
  }

  /** @param {string} number */
  function makeBalloon(number) {
    return svg("g", { class: "balloon", "data-finding": number, role: "button", tabindex: -1 },
      svg("path", { class: "leader" }), svg("circle", {}),
      svg("text", { "text-anchor": "middle", "dominant-baseline": "central" }));
  }

  /** The chosen finding: its place, and what is measured beside what is needed. @param {State} state */
  function drawMeasure({ job, layout, checked, finding, view, dragging }) {
    const found = checked?.findings.find((f) => f.number === finding);
    if (!job || !found?.place || dragging) return measure.replaceChildren();
    const [left, top, right, bottom] = drawn(found.place, job.plate.height);
    const nodes = [svg("rect", {
      class: `spot ${found.verdict}`, x: left, y: top, width: Math.max(right - left, 2), height: Math.max(bottom - top, 2),
    })];
    measure.replaceChildren(...nodes, ...measured(found, view.k));

    /** @param {Finding} f @param {number} k */
    function measured(f, k) {
      if (!job) return [];
      const subject = placeOf(layout, f.subject) && (f.rule.includes("wiring-space")
        ? bodyOf(job, layout, f.subject) : envelopeOf(job, layout, f.subject));
      const span = spanOf(f, subject);
      const unit = job.unit;
      if (span && f.limit !== null) {
        const at = (/** @type {{ x: number, y: number }} */ p, /** @type {number} */ off) => ({ x: p.x + (isLevel ? 0 : off), y: flip(p.y, job.plate.height) + (isLevel ? off : 0) });
        const isLevel = span.from.y === span.to.y;
        const off = 13 / k;
        return [
          dimension(at(span.from, -off), at(span.to, -off), `needs ${told(f.limit, unit)}`, k, { kind: "needed" }),
          ...(span.part && f.measured !== null
            ? [dimension(at(span.from, off), at(span.part, off), `has ${told(f.measured, unit)}`, k, { kind: "has", below: true })]
            : []),
        ];
      }
      if (f.measured === null || f.limit === null) return [];
      const say = (/** @type {number} */ v) => (f.unit === "mm" ? told(v, unit) : `${Math.round(v * 10) / 10} ${f.unit}`);
      const text = svg("text", { class: `saying ${f.verdict}`, x: (left + right) / 2, y: bottom + 20 / k, "text-anchor": "middle" },
        `is ${say(f.measured)}, limit ${say(f.limit)}`);
      text.style.fontSize = `${15 / k}px`;
      return [text];
    }
  }

  /** While the hand moves: free distances on four sides, and what is too near. @param {State} state */
  function drawLive({ job, live: frame, dragging, view, chosen, layout }) {
    if (!job || !frame || !dragging) return live.replaceChildren();
    const boxes = chosen.flatMap((tag) => envelopeOf(job, layout, tag) ?? []);
    if (!boxes.length && !hand) return live.replaceChildren();
    const height = job.plate.height;
    /** @type {SVGElement[]} */
    const nodes = frame.clashes.map((clash) => spot(clash, height));
    if (hand) nodes.push(...frame.gaps.map((gap) => gapLine(gap, /** @type {Box} */ (hand), height, view.k)));
    live.replaceChildren(...nodes);
  }

  /** @param {Clash} clash @param {number} height */
  function spot(clash, height) {
    const [left, top, right, bottom] = drawn(clash.place, height);
    return svg("rect", { class: "clash", x: left, y: top, width: Math.max(right - left, 1), height: Math.max(bottom - top, 1) });
  }

  /** @param {Gap} gap @param {Box} box @param {number} height @param {number} k */
  function gapLine(gap, box, height, k) {
    const short = gap.distance < gap.needed - 1e-6;
    const [x, y] = [(box[0] + box[2]) / 2, (box[1] + box[3]) / 2];
    const ends = {
      left: [{ x: box[0] - gap.distance, y }, { x: box[0], y }],
      right: [{ x: box[2], y }, { x: box[2] + gap.distance, y }],
      top: [{ x, y: box[3] }, { x, y: box[3] + gap.distance }],
      bottom: [{ x, y: box[1] - gap.distance }, { x, y: box[1] }],
    }[gap.side].map((p) => ({ x: p.x, y: flip(p.y, height) }));
    const unit = store.state.job?.unit ?? { name: "mm", per_mm: 1, decimals: 1 };
    const words = short ? `${shown(gap.distance, unit)} (needs ${shown(gap.needed, unit)})` : shown(gap.distance, unit);
    return dimension(ends[0], ends[1], words, k, { kind: short ? "short" : "free" });
  }

  /** @param {State} state */
  function drawClear({ job, layout, checked, layers, dragging, chosen }) {
    if (!job || !checked || !layers.clear) return clear.replaceChildren();
    const moving = new Set(dragging ? chosen : []);
    clear.replaceChildren(...Object.keys(layout.devices).flatMap((tag) => {
      const box = envelopeOf(job, layout, tag);
      const room = checked.clear[tag];
      if (!box || !room || moving.has(tag)) return [];
      const [left, top, right, bottom] = drawn([box[0] - room[0], box[1] - room[1], box[2] + room[2], box[3] + room[3]], job.plate.height);
      return [svg("rect", { class: `clear${room[4] ? "" : " assumed"}`, x: left, y: top, width: right - left, height: bottom - top })];
    }));
  }

  /** Ends of a chosen rail or duct that can be drawn out. @param {State} state */
  function drawHandles({ job, layout, chosen, view, dragging }) {
    const tag = chosen.length === 1 ? chosen[0] : "";
    const thing = layout.ducts[tag] ?? layout.rails[tag];
    if (!job || !thing || thing.locked || dragging) return handles.replaceChildren();
    const [left, top, right, bottom] = drawn(thing.box, job.plate.height);
    const across = thing.run === "across";
    const middle = { x: (left + right) / 2, y: (top + bottom) / 2 };
    const ends = across
      ? [{ end: "start", x: left, y: middle.y }, { end: "end", x: right, y: middle.y }]
      : [{ end: "start", x: middle.x, y: bottom }, { end: "end", x: middle.x, y: top }];
    handles.replaceChildren(...ends.map(({ end, x, y }) =>
      svg("circle", { class: "handle", "data-end": end, "data-of": tag, cx: x, cy: y, r: 13 / view.k })));
  }

  /** @type {Box | null} where the hand's things are, plate mm */
  let hand = null;
  store.listen(drawBalloons, "job", "checked", "finding", "view", "dragging", "layers", "ghost", "beside");
  store.listen(drawMeasure, "finding", "checked", "layout", "view", "dragging");
  store.listen(drawLive, "live", "dragging");
  store.listen(drawClear, "checked", "layout", "layers", "dragging");
  store.listen(drawHandles, "chosen", "layout", "view", "dragging");
  marks.hand = (boxes) => {
    hand = around(boxes);
  };
}

/** Where the things in the hand are: told by the pointer, drawn with the next live answer. @type {{ hand: (boxes: Box[]) => void }} */
export const marks = { hand: () => {} };
