// @ts-check
/** A phone picture of the plate: choose it, put four marks on the plate's corners, see how well it fits. */

/** @import { Store } from "../store.js" */
/** @import { Actions } from "../actions.js" */
import { dropPhoto, get, getFile, post, putPhoto } from "../api.js";
import { byId, el, set, svg } from "../dom.js";
import { told } from "../state/lengths.js";

const CORNERS = ["lower left", "lower right", "upper right", "upper left"];

/** @typedef {{ size: [number, number] | null, corners: [number, number][] | null, fit: { mm_per_pixel: number, shape_error: number | null, off: number | null } | null }} Found */

/** @param {Store} store @param {Actions} actions */
export function mountPhoto(store, actions) {
  const dialog = /** @type {HTMLDialogElement} */ (byId("photo"));
  const choose = el("input", { type: "file", accept: "image/jpeg,image/png", "aria-label": "Picture of the plate", onchange: send });
  const fit = el("p", { role: "status" });
  const picture = svg("svg", { class: "corners", role: "group", "aria-label": "The picture with the plate’s corners" });
  const use = el("button", { class: "main", onclick: keep }, "Lay it under the drawing");
  const drop = el("button", { class: "away", onclick: away }, "Take the picture out of the job");
  dialog.append(el("h2", {}, "Photo of the plate"),
    el("p", {}, "Stand square in front, far back, zoomed in. Then drag the four marks onto the plate’s corners (or choose a mark and use the arrow keys). The picture stays in the job folder."),
    el("p", { class: "row" }, choose, use, drop), fit, picture,
    el("form", { method: "dialog" }, el("button", {}, "Close")));
  /** @type {[number, number][]} */
  let corners = [];
  let url = "";

  async function open() {
    dialog.showModal();
    try {
      await show(await get("photo"));
    } catch (error) {
      actions.say(error);
    }
  }

  /** @param {Found} found */
  async function show(found) {
    use.disabled = drop.disabled = !found.size;
    tell(found);
    picture.replaceChildren();
    if (!found.size) return;
    const [width, height] = found.size;
    if (url) URL.revokeObjectURL(url);
    url = URL.createObjectURL(await getFile("photo/picture"));
    corners = found.corners ?? [[0.1, 0.9], [0.9, 0.9], [0.9, 0.1], [0.1, 0.1]].map(([x, y]) => [x * width, y * height]);
    set(picture, { viewBox: `0 0 ${width} ${height}` });
    const outline = svg("polygon", { class: "outline" });
    const radius = Math.max(width, height) / 45;
    const marks = corners.map((_, i) => mark(i, radius, redraw));
    picture.append(svg("image", { href: url, width, height }), outline, ...marks);
    function redraw() {
      outline.setAttribute("points", corners.map(([x, y]) => `${x},${y}`).join(" "));
      marks.forEach((node, i) => node.setAttribute("transform", `translate(${corners[i][0]} ${corners[i][1]})`));
    }
    redraw();
  }

  /** @param {number} i @param {number} radius @param {() => void} redraw */
  function mark(i, radius, redraw) {
    const node = svg("g", { class: "corner", tabindex: 0, role: "button", "aria-label": `${CORNERS[i]} corner of the plate` },
      svg("circle", { r: radius }), svg("path", { d: `M${-radius} 0H${radius}M0 ${-radius}V${radius}` }));
    const place = (/** @type {PointerEvent} */ event) => {
      const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(picture.getScreenCTM()?.inverse());
      corners[i] = [at.x, at.y];
      redraw();
    };
    node.addEventListener("pointerdown", (event) => node.setPointerCapture(event.pointerId));
    node.addEventListener("pointermove", (event) => node.hasPointerCapture(event.pointerId) && place(event));
    node.addEventListener("keydown", (event) => {
      const [x, y] = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key] ?? [0, 0];
      if (!x && !y) return;
      event.preventDefault();
      const far = event.shiftKey ? 20 : 2;
      corners[i] = [corners[i][0] + x * far, corners[i][1] + y * far];
      redraw();
    });
    return node;
  }

  /** @param {Found} found */
  function tell({ fit: is }) {
    const unit = store.state.job?.unit;
    if (!is || !unit) {
      fit.textContent = "";
      return;
    }
    const shape = is.off === null || is.shape_error === null
      ? "The shape can’t be told from this picture."
      : `By the picture the plate’s width to height is ${Math.abs(is.shape_error * 100).toFixed(1)} % off what the job says: about ${told(is.off, unit)} over its longer side.`;
    fit.textContent = `One pixel beside a corner is ${told(is.mm_per_pixel, unit)} on the plate. ${shape} What stands out of the plate leans outwards in the picture.`;
  }

  async function send() {
    const file = choose.files?.[0];
    if (!file) return;
    try {
      await show(await putPhoto(file));
    } catch (error) {
      actions.say(error);
    }
  }

  async function keep() {
    try {
      tell(await post("photo/corners", { corners }));
      await actions.photo();
      store.set({ layers: { ...store.state.layers, photo: true } });
    } catch (error) {
      actions.say(error);
    }
  }

  async function away() {
    try {
      await show(await dropPhoto());
      await actions.photo();
    } catch (error) {
      actions.say(error);
    }
  }

  return open;
}
