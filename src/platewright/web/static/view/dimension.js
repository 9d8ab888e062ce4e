// @ts-check
/** A dimension line as on a shop drawing, of one size on the screen at any zoom. */

/** @import { Point } from "../types.js" */
import { svg } from "../dom.js";

/**
 * @param {Point} a @param {Point} b drawing places, upright or level @param {string} text @param {number} k pixels per mm
 * @param {{ from?: [Point, Point], kind?: string, below?: boolean }} [more] from: points that extension lines start at
 */
export function dimension(a, b, text, k, more = {}) {
  const group = svg("g", { class: `dimension ${more.kind ?? ""}` });
  const level = Math.abs(a.y - b.y) < 1e-6;
  const way = Math.atan2(b.y - a.y, b.x - a.x);
  group.append(svg("path", { d: `M ${a.x} ${a.y} L ${b.x} ${b.y}` }));
  const far = Math.hypot(b.x - a.x, b.y - a.y);
  const tip = Math.min(9 / k, far / 2.2);
  for (const [end, turn] of /** @type {[Point, number][]} */ ([[a, way], [b, way + Math.PI]])) {
    const wing = (/** @type {number} */ side) =>
      `${end.x + tip * Math.cos(turn + side)} ${end.y + tip * Math.sin(turn + side)}`;
    group.append(svg("path", { class: "tip", d: `M ${end.x} ${end.y} L ${wing(0.22)} L ${wing(-0.22)} Z` }));
  }
  more.from?.forEach((start, i) => {
    const end = i ? b : a;
    group.append(svg("path", { class: "thin", d: `M ${start.x} ${start.y} L ${end.x} ${end.y}` }));
  });
  const middle = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
  const lift = (more.below ? 15 : -6) / k;
  const beside = !level && far * k < text.length * 8; // too short to write along: written beside
  const label = svg("text", {
    x: middle.x, y: middle.y, "text-anchor": beside ? (more.below ? "start" : "end") : "middle",
    transform: beside ? `translate(${(more.below ? 8 : -8) / k} ${5 / k})`
      : level ? `translate(0 ${lift})` : `rotate(-90 ${middle.x} ${middle.y}) translate(0 ${lift})`,
  }, text);
  label.style.fontSize = `${14 / k}px`;
  group.append(label);
  return group;
}
