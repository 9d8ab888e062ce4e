// @ts-check
/**
 * Temperature on the drawing: bands and lines of the air (from the front and from the side) or of
 * the plate, and on each device and duct its own colour and number. Nodes are made once and changed
 * in place; while a hand moves things the colours keep their scale. All figures are the server's.
 */

/** @import { Store } from "../store.js" */
/** @import { State, Scale } from "../types.js" */
/** @import { Field, Loop } from "../state/contours.js" */
import { svg } from "../dom.js";
import { bandOf, linesOf, nodesOf, regions } from "../state/contours.js";
import { flip } from "../state/viewport.js";
import { bodyOf } from "../state/things.js";
import { inTurn } from "../state/turns.js";
import { GAP } from "./side.js";

const LETTER = 0.56; // width of a letter, of its size
const LARGEST = 20; // mm, size of a number on a device
const ISOTHERM = 13; // pixels, size of a number on a line
const FAR = 1e6;
const SPOTS = [0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9]; // of a line, where its number is tried
const APART = 60; // pixels of line at least for a number

/** @param {Store} store @param {SVGGElement} group @param {{ node: (tag: string) => Element | null }} things */
export function mountWarmth(store, group, things) {
  const clip = svg("clipPath", { id: "on-plate" }, svg("rect", {}));
  const front = makeField(svg("g", { class: "field", "clip-path": "url(#on-plate)" }));
  const side = makeField(svg("g", { class: "field side" }));
  group.append(clip, front.group, side.group);
  /** @type {WeakMap<Element, string>} what each thing shows; in the hand only what changes is touched */
  let shows = new WeakMap();

  /** @param {State} state */
  function draw(state) {
    const { job, heat, warm, layers, dragging } = state;
    const shown = Boolean(layers.warmth && heat);
    const picture = group.ownerSVGElement;
    picture?.classList.toggle("with-heat", shown);
    picture?.classList.toggle("with-air", shown && warm === "air");
    group.setAttribute("visibility", shown ? "visible" : "hidden");
    if (!shown) clear();
    if (!job || !shown) return;
    const face = /** @type {Element} */ (clip.firstChild);
    face.setAttribute("width", String(job.plate.width));
    face.setAttribute("height", String(job.plate.height));
    if (dragging) {
      for (const [name, work] of Object.entries({ drawFront, drawSide, paint })) inTurn(name, work);
    } else {
      drawFront();
      drawSide();
      paint();
    }
  }

  function drawFront() {
    const { job, heat, warm, view, layout } = store.state;
    if (!job || !heat) return;
    const { width, height } = job.plate;
    const bodies = Object.keys(layout.devices).flatMap((tag) => [bodyOf(job, layout, tag) ?? []]);
    const ducts = warm === "surfaces" ? Object.values(layout.ducts).map((duct) => duct.box) : [];
    const off = [[-FAR, -FAR, 0, FAR], [width, -FAR, FAR, FAR], [-FAR, -FAR, FAR, 0], [-FAR, height, FAR, FAR]];
    const field = warm === "air" ? heat.front : heat.plate;
    front.draw(field, heat.scales[warm], heat.colours, (x, y) => [x, flip(y, height)], view.k, [...bodies, ...ducts, ...off]);
  }

  function drawSide() {
    const { job, heat, warm, view } = store.state;
    if (!job || !heat) return;
    const foot = job.plate.width + GAP + job.door; // the plate's face in the side view
    const field = warm === "air" ? heat.side : null;
    side.draw(field, heat.scales[warm], heat.colours, (x, y) => [foot - x, flip(y, job.plate.height)], view.k, []);
  }

  /** Take colours and numbers off. */
  function clear() {
    const { layout } = store.state;
    shows = new WeakMap();
    for (const tag of [...Object.keys(layout.devices), ...Object.keys(layout.ducts)]) mark(things.node(tag), tag, undefined, undefined, "");
  }

  /** Colours and numbers of devices and ducts. */
  function paint() {
    const { layout, heat, warm, dragging } = store.state;
    if (!heat) return;
    const scale = heat.scales[warm];
    const limits = new Map(heat.rows.map((row) => [row.tag, row.limit]));
    const colour = (/** @type {number} */ value) => heat.colours[bandOf(value, scale, heat.colours.length)];
    /** @param {string} tag @param {number | undefined} value @param {number | undefined} band @param {number | null | undefined} limit */
    const show = (tag, value, band, limit) => {
      const node = things.node(tag);
      if (!node) return;
      const own = value === undefined ? "" : colour(value);
      const now = `${numberOf(value, band)} ${own} ${kindOf(value, band, limit)}`;
      if (dragging && shows.get(node) === now) return;
      shows.set(node, now);
      mark(node, tag, value, band, own);
      judge(node, value, band, limit);
    };
    for (const tag of Object.keys(layout.devices)) {
      const found = heat.devices[tag];
      const [value, band] = found ? (warm === "air" ? found : found.slice(2)) : [];
      show(tag, value, band, warm === "air" ? limits.get(tag) : null);
    }
    for (const tag of Object.keys(layout.ducts)) {
      const found = warm === "surfaces" ? heat.ducts[tag] : null;
      show(tag, found?.[0], found?.[1], found?.[2]);
    }
  }

  store.listen(draw, "heat", "warm", "layers", "job");
  store.listen((state) => {
    if (!state.dragging) draw(state); // drawn anew where it stands
  }, "layout", "dragging");
  store.listen(({ view }) => {
    front.size(view.k);
    side.size(view.k);
  }, "view");
}

/** Bands, lines and their numbers in a group, made once. @param {SVGGElement} group */
function makeField(group) {
  /** @type {SVGPathElement[]} */
  const bands = [];
  const lines = svg("path", { class: "isotherms" });
  const numbers = svg("g", { class: "isotherm-numbers" });
  /** @type {SVGTextElement[]} */
  const texts = [];

  /** @param {Field | null} field @param {Scale} scale @param {string[]} colours @param {(x: number, y: number) => number[]} at @param {number} k @param {number[][]} taken boxes that no number may lie on */
  function draw(field, scale, colours, at, k, taken) {
    group.setAttribute("display", field ? "inline" : "none");
    if (!field) return;
    while (bands.length < colours.length) {
      const band = svg("path", { class: "band" });
      bands.push(band);
      group.append(band);
    }
    if (!lines.parentNode) group.append(lines, numbers);
    const nodes = nodesOf(field);
    const [left, bottom, right, top] = field.box;
    let drawn = "";
    let used = 0;
    const room = (1.5 * ISOTHERM) / k;
    const busy = taken.map(([l, b, r, t]) => [l - room / 2, b - room / 2, r + room / 2, t + room / 2]);
    bands.forEach((band, n) => {
      band.style.fill = colours[n];
      const border = scale.low + n * scale.step;
      const loops = n ? regions(nodes, border) : [[left, bottom, right, bottom, right, top, left, top]];
      band.setAttribute("d", loops.map((loop) => `${path(loop, at)}Z`).join(""));
      if (!n) return;
      const found = linesOf(loops, nodes);
      drawn += found.map((line) => path(line, at)).join("");
      const longest = found.reduce((best, line) => (line.length > best.length ? line : best), /** @type {Loop} */ ([]));
      if (longest.length < 4 || spanOf(longest) * k < APART) return;
      const spot = SPOTS.map((share) => 2 * Math.floor((share * longest.length) / 2)).find((i) =>
        !busy.some(([l, b, r, t]) => longest[i] > l && longest[i] < r && longest[i + 1] > b && longest[i + 1] < t));
      if (spot === undefined) return;
      const [x, y] = at(longest[spot], longest[spot + 1]);
      busy.push([longest[spot] - room, longest[spot + 1] - room, longest[spot] + room, longest[spot + 1] + room]);
      const text = texts[used] ?? svg("text", { "text-anchor": "middle", "dominant-baseline": "central" });
      texts[used] = text;
      used += 1;
      if (!text.parentNode) numbers.append(text);
      text.setAttribute("transform", `translate(${x.toFixed(1)} ${y.toFixed(1)})`);
      const words = String(border);
      if (text.textContent !== words) text.textContent = words;
    });
    lines.setAttribute("d", drawn);
    for (const text of texts.splice(used)) text.remove();
    size(k);
  }

  /** @param {number} k pixels per mm */
  function size(k) {
    for (const text of texts) text.style.fontSize = `${ISOTHERM / k}px`;
  }

  return { group, draw, size };
}

/** @param {Loop} loop @param {(x: number, y: number) => number[]} at */
function path(loop, at) {
  let d = "";
  for (let i = 0; i < loop.length; i += 2) {
    const [x, y] = at(loop[i], loop[i + 1]);
    d += `${i ? "L" : "M"}${x.toFixed(1)} ${y.toFixed(1)}`;
  }
  return d;
}

/** @param {Loop} line */
function spanOf(line) {
  let far = 0;
  for (let i = 2; i < line.length; i += 2) far += Math.hypot(line[i] - line[i - 2], line[i + 1] - line[i - 1]);
  return far;
}

/** Give a thing its colour and its number. @param {Element | null} thing @param {string} tag @param {number | undefined} value @param {number | undefined} band @param {string} colour */
function mark(thing, tag, value, band, colour) {
  if (!(thing instanceof SVGGElement)) return;
  const old = thing.style.getPropertyValue("--heat");
  if (old !== colour) thing.style.setProperty("--heat", colour || null);
  const before = thing.querySelector(".degrees");
  const number = numberOf(value, band);
  say(thing, tag, number);
  if (before?.getAttribute("data-number") === number) return;
  if (before && relettered(before, number)) return;
  before?.remove();
  const body = thing.querySelector(".body, .duct");
  if (number && body instanceof SVGRectElement) thing.append(lettering(tag, number, body));
}

/** @param {number | undefined} value @param {number | undefined} band */
function numberOf(value, band) {
  return value === undefined || band === undefined ? "" : `${Math.round(value)} ±${Math.round(band)}`;
}

/** Write another number of the same length in place: as large, and where the old one stood. @param {Element} text @param {string} number */
function relettered(text, number) {
  const old = text.getAttribute("data-number") ?? "";
  const [short, now] = [old.split(" ")[0], number.split(" ")[0]];
  if (!number || old.length !== number.length || short.length !== now.length) return false;
  const last = text.lastElementChild;
  const words = last?.textContent ?? "";
  const is = [old, short].find((one) => words.endsWith(one));
  if (!last || is === undefined) return false;
  last.textContent = words.slice(0, words.length - is.length) + (is === old ? number : now);
  text.setAttribute("data-number", number);
  return true;
}

/** Which frame a thing gets. @param {number | undefined} value @param {number | undefined} band @param {number | null | undefined} limit */
function kindOf(value, band, limit) {
  const known = value !== undefined && band !== undefined && limit !== null && limit !== undefined;
  return !known || value + band <= limit ? "" : value - band > limit ? "too-warm" : "may-be-too-warm";
}

/** A thick frame where a limit is not kept for sure. @param {Element | null} thing @param {number | undefined} value @param {number | undefined} band @param {number | null | undefined} limit */
function judge(thing, value, band, limit) {
  const is = kindOf(value, band, limit);
  for (const kind of ["too-warm", "may-be-too-warm"]) thing?.classList.toggle(kind, kind === is);
}

/** What is written on a thing is in its name, too. @param {SVGGElement} thing @param {string} tag @param {string} number */
function say(thing, tag, number) {
  const label = thing.getAttribute("aria-label") ?? tag;
  const said = thing.dataset.warmth ?? "";
  const rest = said && label.startsWith(`${tag} ${said}`) ? label.slice(tag.length + 1 + said.length) : label.slice(tag.length);
  const now = number ? `${tag} ${number}${rest}` : `${tag}${rest}`;
  thing.dataset.warmth = number;
  if (now !== label) thing.setAttribute("aria-label", now);
}

/** Tag and number, level in two lines, or in one along the longer side. @param {string} tag @param {string} number @param {SVGRectElement} body */
function lettering(tag, number, body) {
  const [x, y, w, h] = ["x", "y", "width", "height"].map((name) => Number(body.getAttribute(name)));
  const fits = (/** @type {number} */ across, /** @type {number} */ up, /** @type {number} */ letters) =>
    Math.min(LARGEST, up, (across - 3) / (LETTER * letters));
  const short = number.split(" ")[0];
  const ways = [
    { rows: [tag, number], turn: false, of: 1 }, { rows: [`${tag} ${number}`], turn: w < h, of: 1 },
    { rows: [tag, short], turn: false, of: 0.8 }, { rows: [`${tag} ${short}`], turn: w < h, of: 0.8 },
    { rows: [short], turn: false, of: 0.6 },
  ].map((way) => {
    const [across, up] = way.turn ? [h, w] : [w, h];
    const letters = Math.max(...way.rows.map((row) => row.length));
    return { ...way, size: fits(across, (up * 0.8) / way.rows.length, letters) };
  });
  const best = ways.reduce((one, other) => (other.size * other.of > one.size * one.of * 1.15 ? other : one));
  const [cx, cy] = [x + w / 2, y + h / 2];
  const text = svg("text", {
    class: "degrees", "data-number": number, "text-anchor": "middle", "dominant-baseline": "central",
    transform: best.turn ? `rotate(-90 ${cx} ${cy})` : null,
  }, ...best.rows.flatMap((row, i) => [
    i ? " " : "", svg("tspan", { x: cx, y: cy + (i - (best.rows.length - 1) / 2) * best.size * 1.15 }, row),
  ]));
  text.style.fontSize = `${best.size}px`;
  return text;
}
