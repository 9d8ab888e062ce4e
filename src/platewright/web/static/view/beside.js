// @ts-check
/** The plate on offer beside the one that stands, to the same scale and at the same place. */

/** @import { Store } from "../store.js" */
/** @import { Layout, Job } from "../types.js" */
import { byId, el, keyed, set, svg } from "../dom.js";
import { drawDevice, drawDuct, drawRail, makeThing } from "./things.js";

/** @param {Store} store */
export function mountBeside(store) {
  const host = byId("beside");
  const name = el("figcaption", {});
  const face = svg("rect", { class: "face", x: 0, y: 0 });
  const groups = { ducts: svg("g", {}), rails: svg("g", {}), devices: svg("g", { class: "devices" }) };
  const picture = svg("svg", { class: "plate", role: "img" }, face, groups.ducts, groups.rails, groups.devices);
  host.append(name);
  /** @type {Record<string, Map<string, Element>>} */
  const kept = { ducts: new Map(), rails: new Map(), devices: new Map() };

  /** @param {Layout} ghost @param {Job} job */
  function draw(ghost, job) {
    const { layout } = store.state;
    const height = job.plate.height;
    set(face, { width: job.plate.width, height });
    const plain = (/** @type {string} */ tag) => {
      const node = makeThing(tag);
      set(node, { role: null, tabindex: null, "data-tag": null, "data-beside": tag });
      return node;
    };
    keyed(groups.ducts, kept.ducts, Object.entries(ghost.ducts), plain, (node, duct) => drawDuct(node, duct, height));
    keyed(groups.rails, kept.rails, Object.entries(ghost.rails), plain, (node, rail) => drawRail(node, rail, height));
    const devices = Object.entries(ghost.devices).filter(([tag]) => tag in job.devices);
    keyed(groups.devices, kept.devices, devices, plain, (node, at, tag) => {
      drawDevice(node, at, job, tag);
      const was = layout.devices[tag];
      node.classList.toggle("moved", !was || was.x !== at.x || was.y !== at.y);
    });
  }

  function window_() {
    const { view, beside, ghost } = store.state;
    if (!beside || !ghost) return;
    const box = host.getBoundingClientRect();
    set(picture, { viewBox: `${view.x} ${view.y} ${box.width / view.k} ${box.height / view.k}` });
  }

  store.listen(({ ghost, ghostOf, beside, job, stage }) => {
    host.hidden = !ghost || !beside || !job || stage === "list" || stage === "build";
    if (host.hidden || !ghost || !job) return picture.remove();
    if (!picture.isConnected) host.append(picture);
    name.textContent = `${ghostOf} – moved things are green`;
    picture.setAttribute("aria-label", `Plate on offer: ${ghostOf}`);
    draw(ghost, job);
    return window_();
  }, "ghost", "ghostOf", "beside", "layout", "job", "stage");
  store.listen(window_, "view");
  new ResizeObserver(window_).observe(host);
}
