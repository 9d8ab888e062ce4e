// @ts-check
/** A mark on a picture: dragged, or moved by the arrow keys. */

import { svg } from "../dom.js";

/**
 * @param {SVGSVGElement} picture
 * @param {{ name: string, kind: string, radius: number, at: [number, number], moved: (at: [number, number]) => void }} what  in the picture's own units
 */
export function pictureMark(picture, { name, kind, radius, at, moved }) {
  const node = svg("g", { class: kind, tabindex: 0, role: "button", "aria-label": name },
    svg("title", {}, name), svg("circle", { r: radius }), svg("path", { d: `M${-radius} 0H${radius}M0 ${-radius}V${radius}` }));
  let [x, y] = at;
  const to = (/** @type {number} */ left, /** @type {number} */ top) => {
    [x, y] = [left, top];
    node.setAttribute("transform", `translate(${x} ${y})`);
    moved([x, y]);
  };
  node.setAttribute("transform", `translate(${x} ${y})`);
  node.addEventListener("pointerdown", (event) => {
    event.stopPropagation();
    node.setPointerCapture(event.pointerId);
  });
  node.addEventListener("pointermove", (event) => {
    if (!node.hasPointerCapture(event.pointerId)) return;
    const place = new DOMPoint(event.clientX, event.clientY).matrixTransform(picture.getScreenCTM()?.inverse());
    to(place.x, place.y);
  });
  node.addEventListener("keydown", (event) => {
    const [dx, dy] = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key] ?? [0, 0];
    if (!dx && !dy) return;
    event.preventDefault();
    event.stopPropagation();
    const far = event.shiftKey ? 20 : 2;
    to(x + dx * far, y + dy * far);
  });
  return node;
}
