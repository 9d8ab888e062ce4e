// @ts-check
/** The plate seen from the right: how far things stand out, and where the door's inner face is. */

/** @import { Store } from "../store.js" */
/** @import { Job, State } from "../types.js" */
import { svg } from "../dom.js";
import { flip } from "../state/viewport.js";
import { told } from "../state/lengths.js";
import { dimension } from "./dimension.js";

export const GAP = 90; // mm between the two views

/** Right end of the side view in the drawing. @param {Job} job */
export const sideExtent = (job) => job.plate.width + GAP + job.door + job.plate.thickness;

/** @param {Store} store @param {SVGGElement} group */
export function mountSide(store, group) {
  const things = svg("g", {});
  const sizes = svg("g", {});
  group.append(things, sizes);

  /** @param {State} state */
  function draw({ job, layout, chosen }) {
    if (!job) return;
    const { plate, door } = job;
    const foot = plate.width + GAP + door; // the plate's face; things stand out to the left
    const box = (/** @type {string} */ kind, /** @type {number} */ reach, /** @type {number} */ low, /** @type {number} */ high) =>
      svg("rect", { class: kind, x: foot - reach, y: flip(high, plate.height), width: reach, height: high - low });
    const now = new Set(chosen);
    /** @type {SVGElement[]} */
    const nodes = [
      svg("rect", { class: "face", x: foot, y: 0, width: plate.thickness, height: plate.height }),
      svg("path", { class: "door", d: `M${foot - door} ${-30}V${plate.height + 30}` }),
    ];
    for (const duct of Object.values(layout.ducts)) {
      if (duct.run === "across") nodes.push(box("duct", duct.height, duct.box[1], duct.box[3]));
    }
    for (const rail of Object.values(layout.rails)) nodes.push(box("rail", rail.rise, rail.box[1], rail.box[3]));
    const placed = Object.entries(layout.devices).filter(([tag]) => tag in job.devices);
    placed.sort(([a, p], [b, q]) => p.x + job.devices[a].width - q.x - job.devices[b].width);
    for (const [tag, at] of placed) {
      const device = job.devices[tag];
      const mark = now.has(tag) ? " chosen" : "";
      if (device.reach > device.depth) nodes.push(box(`cover${mark}`, device.reach, at.y, at.y + device.height));
      nodes.push(box(`body${mark}`, device.depth, at.y, at.y + device.height));
    }
    for (const device of Object.values(job.devices)) {
      if (device.place !== "door" || !device.at_door) continue;
      nodes.push(svg("rect", {
        class: "body on-door", x: foot - door, y: flip(device.at_door[1] + device.height, plate.height),
        width: device.reach, height: device.height,
      }));
    }
    things.replaceChildren(...nodes);
  }

  /** @param {State} state */
  function drawSizes({ job, view }) {
    if (!job) return;
    const foot = job.plate.width + GAP + job.door;
    const y = job.plate.height + 30 + 24 / view.k;
    sizes.replaceChildren(dimension({ x: foot - job.door, y }, { x: foot, y }, `${told(job.door, job.unit)} to door`, view.k));
  }

  store.listen((state) => {
    draw(state);
    drawSizes(state);
  }, "job");
  store.listen(draw, "layout", "chosen");
  store.listen(drawSizes, "view");
}
