// @ts-check
/** Devices without a place lie in the tray: drag them onto the plate, or send them to its middle. */

/** @import { Store } from "../store.js" */
/** @import { Actions } from "../actions.js" */
/** @import { Point, Box } from "../types.js" */
import { byId, el, svg } from "../dom.js";
import { linesFor, round, snapped } from "../state/snap.js";
import { waiting } from "../state/things.js";
import { flip, toPlate } from "../state/viewport.js";
import { marks } from "./marks.js";

/** @param {Store} store @param {Actions} actions @param {{ drag: (tags: string[], at: [number, number][]) => void, still: () => void }} live @param {{ picture: SVGSVGElement, size: () => { width: number, height: number } }} plate */
export function mountTray(store, actions, live, plate) {
  const host = byId("tray");
  const heading = el("h2", {});
  const list = el("ul", {});
  host.append(heading, list);
  const shadow = svg("rect", { class: "sketch device", visibility: "hidden" });
  plate.picture.append(shadow);

  store.listen(({ job, layout }) => {
    if (!job) return;
    const tags = waiting(job, layout);
    host.hidden = !tags.length;
    heading.textContent = `In the tray: ${tags.length}`;
    list.replaceChildren(...tags.map((tag) => {
      const device = job.devices[tag];
      const button = el("button", {
        title: `${device.what}: drag it onto the plate, or press Enter to put it in the middle of the view`,
        "data-waiting": tag, onclick: (/** @type {MouseEvent} */ event) => event.detail || toMiddle(tag),
        onpointerdown: (/** @type {PointerEvent} */ event) => take(tag, button, event),
      }, el("b", {}, tag), el("span", { class: "dim" }, `${Math.round(device.width)} × ${Math.round(device.height)}`));
      return el("li", {}, button);
    }));
  }, "job", "layout");

  /** @param {string} tag */
  async function toMiddle(tag) {
    const { job, view } = store.state;
    if (!job) return;
    const { width, height } = plate.size();
    const middle = toPlate(view, { x: width / 2, y: height / 2 }, job.plate.height);
    const device = job.devices[tag];
    await actions.put(tag, Math.round(middle.x - device.width / 2), Math.round(middle.y - device.height / 2));
    store.set({ chosen: [tag] });
    plate.picture.focus();
  }

  /** @param {string} tag @param {HTMLElement} button @param {PointerEvent} event */
  function take(tag, button, event) {
    const { job, layout, checked } = store.state;
    if (!job || event.button) return;
    const device = job.devices[tag];
    const lines = linesFor(job, layout, checked, tag, new Set([tag]));
    /** @type {Point | null} */
    let place = null;
    button.setPointerCapture(event.pointerId);
    store.set({ chosen: [tag], dragging: true, live: null });

    const move = (/** @type {PointerEvent} */ now) => {
      const box = plate.picture.getBoundingClientRect();
      const inside = now.clientY < box.bottom && now.clientX > box.left && now.clientX < box.right && now.clientY > box.top;
      const { view, grid } = store.state;
      const at = toPlate(view, { x: now.clientX - box.left, y: now.clientY - box.top }, job.plate.height);
      place = inside ? snapped({ x: at.x - device.width / 2, y: at.y - device.height / 2 }, lines, Math.min(8 / view.k, 10), grid, device) : null;
      shadow.setAttribute("visibility", place ? "visible" : "hidden");
      if (!place) return;
      for (const [name, value] of Object.entries({
        x: place.x, y: flip(place.y + device.height, job.plate.height), width: device.width, height: device.height,
      })) shadow.setAttribute(name, String(value));
      const [l, b, r, t] = device.covers;
      marks.hand([/** @type {Box} */ ([place.x - l, place.y - b, place.x + device.width + r, place.y + device.height + t])]);
      live.drag([tag], [[round(place.x), round(place.y)]]);
    };
    const end = (/** @type {PointerEvent} */ now) => {
      button.removeEventListener("pointermove", move);
      live.still();
      shadow.setAttribute("visibility", "hidden");
      store.set({ dragging: false, live: null });
      if (place && now.type === "pointerup") actions.put(tag, round(place.x), round(place.y));
    };
    button.addEventListener("pointermove", move);
    button.addEventListener("pointerup", end, { once: true });
    button.addEventListener("pointercancel", end, { once: true });
  }
}
