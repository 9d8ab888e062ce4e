// @ts-check
/**
 * Between the screen and the plate. The drawing's own y runs down from the plate's upper edge
 * (as SVG wants it); plate y runs up from the lower edge. The only flip is `flip`.
 */

/** @import { View, Point, Box } from "../types.js" */

export const NEAREST = 20; // pixels per mm
export const FARTHEST = 0.05;

/** Plate y to drawing y, and back. @param {number} y @param {number} height of the plate */
export const flip = (y, height) => height - y;

/** Drawing place under a screen place. @param {View} view @param {Point} at pixels in the window */
export function toDrawing(view, at) {
  return { x: view.x + at.x / view.k, y: view.y + at.y / view.k };
}

/** Screen place of a drawing place. @param {View} view @param {Point} at */
export function toScreen(view, at) {
  return { x: (at.x - view.x) * view.k, y: (at.y - view.y) * view.k };
}

/** Plate place under a screen place. @param {View} view @param {Point} at @param {number} height */
export function toPlate(view, at, height) {
  const drawing = toDrawing(view, at);
  return { x: drawing.x, y: flip(drawing.y, height) };
}

/** Zoom so that what lies under a screen place stays there. @param {View} view @param {number} factor @param {Point} at @returns {View} */
export function zoomed(view, factor, at) {
  const k = Math.min(NEAREST, Math.max(FARTHEST, view.k * factor));
  const under = toDrawing(view, at);
  return { k, x: under.x - at.x / k, y: under.y - at.y / k };
}

/** Shift the window by pixels. @param {View} view @param {number} dx @param {number} dy @returns {View} */
export function panned(view, dx, dy) {
  return { ...view, x: view.x - dx / view.k, y: view.y - dy / view.k };
}

/** Show a box of the drawing as large as it goes. @param {Box} box left, top, right, bottom in the drawing @param {{ width: number, height: number }} size @param {number} pad pixels @returns {View} */
export function fitted(box, size, pad) {
  const [left, top, right, bottom] = box;
  const width = Math.max(right - left, 1);
  const height = Math.max(bottom - top, 1);
  const k = Math.min(
    Math.max(size.width - 2 * pad, 50) / width,
    Math.max(size.height - 2 * pad, 50) / height,
  );
  return {
    k,
    x: left - (size.width / k - width) / 2,
    y: top - (size.height / k - height) / 2,
  };
}

/** Two fingers: keep both drawing places under them. @param {View} view @param {[Point, Point]} before @param {[Point, Point]} after @returns {View} */
export function pinched(view, before, after) {
  const apart = (/** @type {[Point, Point]} */ [a, b]) => Math.hypot(a.x - b.x, a.y - b.y);
  const middle = (/** @type {[Point, Point]} */ [a, b]) => ({ x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 });
  const [from, to] = [middle(before), middle(after)];
  const shifted = panned(view, to.x - from.x, to.y - from.y);
  return zoomed(shifted, apart(after) / Math.max(apart(before), 1), to);
}
