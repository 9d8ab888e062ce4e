// @ts-check
/** What does not move: the plate's face, its margin, fixing holes, regions to keep free, sizes, photo. */

/** @import { Store } from "../store.js" */
/** @import { Job, State } from "../types.js" */
import { svg } from "../dom.js";
import { flip } from "../state/viewport.js";
import { told } from "../state/lengths.js";
import { dimension } from "./dimension.js";

/** @param {Store} store @param {SVGGElement} group */
export function mountGround(store, group) {
  const fixed = svg("g", {});
  const photo = svg("image", { class: "photo", preserveAspectRatio: "none" });
  const sizes = svg("g", { class: "sizes" });
  group.append(fixed, photo, sizes);

  store.listen((state) => {
    if (!state.job) return;
    fixed.replaceChildren(...face(state.job));
    drawSizes(state);
    drawPhoto(state);
  }, "job");
  store.listen(drawSizes, "view");
  store.listen(drawPhoto, "photo");

  /** @param {State} state */
  function drawSizes({ job, view }) {
    if (!job) return;
    const { width, height } = job.plate;
    const off = 26 / view.k;
    sizes.replaceChildren(
      dimension({ x: 0, y: height + off }, { x: width, y: height + off }, told(width, job.unit), view.k, {
        from: [{ x: 0, y: height }, { x: width, y: height }],
      }),
      dimension({ x: -off, y: height }, { x: -off, y: 0 }, told(height, job.unit), view.k, {
        from: [{ x: 0, y: height }, { x: 0, y: 0 }],
      }),
      svg("circle", { class: "datum", cx: 0, cy: height, r: 9 / view.k }),
      svg("path", { class: "datum full", d: `M0 ${height}h${9 / view.k}a${9 / view.k} ${9 / view.k} 0 0 0 ${-9 / view.k} ${-9 / view.k}Z` }),
    );
  }

  /** @param {State} state */
  function drawPhoto({ job, photo: shown }) {
    photo.setAttribute("visibility", shown && job ? "visible" : "hidden");
    if (!shown || !job) return;
    for (const [name, value] of Object.entries({
      href: shown.url, x: 0, y: 0, width: job.plate.width, height: job.plate.height, opacity: shown.share,
    })) photo.setAttribute(name, String(value));
  }
}

/** @param {Job} job */
function face(job) {
  const { plate } = job;
  const nodes = [
    svg("rect", { class: "face", x: 0, y: 0, width: plate.width, height: plate.height }),
  ];
  /** @type {SVGElement[]} */
  const more = [];
  if (plate.margin > 0) {
    more.push(svg("rect", {
      class: "margin", x: plate.margin, y: plate.margin,
      width: plate.width - 2 * plate.margin, height: plate.height - 2 * plate.margin,
    }));
  }
  for (const [left, bottom, right, top, reason] of plate.keep_outs) {
    const box = svg("rect", {
      class: "keep-out", x: left, y: flip(top, plate.height), width: right - left, height: top - bottom,
    });
    box.append(svg("title", {}, `keep free: ${reason || "no reason stated"}`));
    more.push(box);
  }
  for (const [x, y, free] of plate.fixings) {
    const cy = flip(y, plate.height);
    more.push(
      svg("circle", { class: "keep-out fixing", cx: x, cy, r: free / 2 }),
      svg("circle", { class: "bolt", cx: x, cy, r: 4 }),
      svg("path", { class: "cross", d: `M ${x - 9} ${cy} h 18 M ${x} ${cy - 9} v 18` }),
    );
  }
  return [...nodes, ...more];
}
