// @ts-check
/**
 * The plate as a drawing: ground, things, side view, marks on top. Mount once; every part of the
 * picture is changed in place.
 */

/** @import { Store } from "../store.js" */
/** @import { State } from "../types.js" */
import { byId, set, svg } from "../dom.js";
import { fitted, flip, panned, toScreen } from "../state/viewport.js";
import { mountGround } from "./ground.js";
import { mountMarks } from "./marks.js";
import { mountSide, sideExtent } from "./side.js";
import { mountThings } from "./things.js";
import { mountWarmth } from "./warmth.js";

const SHRUNK = 0.75; // the plate is shown so much smaller to have the side view in the window too
const AROUND = 70; // mm kept free round the plate for dimensions and balloons

/** @param {Store} store */
export function mountPlate(store) {
  const host = byId("drawing");
  const world = svg("g", { class: "world" });
  const picture = svg("svg", {
    class: "plate", role: "group", tabindex: 0, "aria-roledescription": "drawing",
    "aria-label": "The plate. Arrow keys shift what is chosen, comma and full stop go through the devices, question mark shows all keys.",
  }, world);
  host.append(picture);
  const layer = (/** @type {string} */ name) => {
    const group = svg("g", { class: name });
    world.append(group);
    return group;
  };
  mountGround(store, layer("ground"));
  const warmth = layer("warmth");
  const things = mountThings(store, layer);
  mountWarmth(store, warmth, things);
  mountSide(store, layer("side"));
  mountMarks(store, layer("marks"));

  /** @type {{ width: number, height: number }} */
  let size = { width: 0, height: 0 };
  let fitting = store.state.view;

  function window_() {
    const { view } = store.state;
    set(picture, {
      viewBox: `${view.x} ${view.y} ${size.width / view.k} ${size.height / view.k}`,
    });
    picture.classList.toggle("far", view.k < 1.3);
  }

  function fit() {
    const { job, layers } = store.state;
    measureHost();
    if (!job || !size.width) return;
    const { width, height } = job.plate;
    const pad = size.width < 700 ? (layers.balloons ? 24 : 8) : 16; // a balloon over the edge is whole
    const tools = byId("tools").getBoundingClientRect(); // the drawing keeps clear of them
    const [left, above] = tools.width > tools.height ? [0, tools.height] : [tools.width, 0];
    const room = { width: size.width - left, height: size.height - above };
    const margin = size.width < 700 ? AROUND / 2 : AROUND;
    const upTo = (/** @type {number} */ right) => fitted([-margin, -margin, right + margin, height + margin * 1.3], room, pad);
    const [plate, both] = [upTo(width), upTo(layers.side ? sideExtent(job) : width)];
    fitting = size.width > 900 || both.k > SHRUNK * plate.k ? both : plate;
    fitting = panned(fitting, left, above);
    store.set({ view: fitting });
  }

  function measureHost() {
    const box = host.getBoundingClientRect();
    size = { width: box.width, height: box.height };
  }

  new ResizeObserver(() => {
    measureHost();
    if (store.state.view === fitting) fit(); // else the view is the user's own
    window_();
  }).observe(host);

  /** Bring the chosen finding's place into the window. @param {State} state */
  function reveal({ job, checked, finding, view }) {
    const place = checked?.findings.find((f) => f.number === finding)?.place;
    if (!job || !place || !size.width) return;
    const [x, y] = [(place[0] + place[2]) / 2, flip((place[1] + place[3]) / 2, job.plate.height)];
    const at = toScreen(view, { x, y });
    const inside = at.x > 90 && at.y > 40 && at.x < size.width - 40 && at.y < size.height - 40;
    if (!inside) store.set({ view: panned(view, size.width / 2 - at.x, size.height / 2 - at.y) });
  }

  store.listen(() => {
    window_();
  }, "view");
  store.listen(reveal, "finding");
  store.listen(
    (/** @type {State} */ state) => {
      for (const [name, shown] of Object.entries(state.layers)) {
        picture.classList.toggle(`no-${name}`, !shown);
      }
      picture.classList.toggle("with-photo", Boolean(state.photo && state.layers.photo));
    },
    "layers", "photo",
  );
  return { picture, host, fit, things, size: () => size };
}
