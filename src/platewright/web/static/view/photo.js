// @ts-check
/** A phone picture of the plate: its four corners, and what shows how far the picture can be trusted. */

/** @import { Store } from "../store.js" */
/** @import { Actions } from "../actions.js" */
import { dropPhoto, get, getFile, post, putPhoto } from "../api.js";
import { byId, el, set, svg } from "../dom.js";
import { told, typed } from "../state/lengths.js";
import { pictureMark } from "./picture_mark.js";

const CORNERS = ["lower left", "lower right", "upper right", "upper left"];
const EDGES = /** @type {const} */ (["lower", "right", "upper", "left"]);

/** @typedef {[number, number]} Pixel */
/** @typedef {{ start: Pixel, end: Pixel, length: number }} Known */
/** @typedef {{ size: Pixel | null, corners: Pixel[] | null, fit: { mm_per_pixel: number, shape_error: number | null, off: number | null } | null, edges?: Record<string, Pixel>, known?: Known[], trust?: { bow: Record<string, number>, off: number[], worst: number | null } }} Found */

/** @param {Store} store @param {Actions} actions @param {() => void} trace */
export function mountPhoto(store, actions, trace) {
  const dialog = /** @type {HTMLDialogElement} */ (byId("photo"));
  const choose = el("input", { type: "file", accept: "image/jpeg,image/png", "aria-label": "Picture of the plate", onchange: send });
  const fit = el("div", { role: "status", class: "fit" });
  const prompt = el("p", { class: "prompt", "aria-live": "polite" });
  const picture = svg("svg", { class: "corners", role: "group", "aria-label": "The picture with the plate’s corners" });
  const use = el("button", { class: "main", onclick: keep }, "Lay it under the drawing");
  const drop = el("button", { class: "away", onclick: away }, "Take the picture out of the job");
  const edges = el("button", { onclick: addEdges }, "Check the edges");
  const known = el("button", { onclick: addKnown }, "Add a known distance");
  const over = el("button", { onclick: () => { dialog.close(); trace(); } }, "Compare and take over…");
  const lengths = el("div", { class: "row" });
  dialog.append(el("h2", {}, "Photo of the plate"),
    el("p", {}, "Stand square in front, far back, zoomed in. Click the plate’s four corners in turn, or drag a mark, or choose a mark and use the arrow keys (Shift: farther). The picture stays in the job folder."),
    el("p", { class: "row" }, choose, use, edges, known, over, drop), prompt, lengths, fit, picture,
    el("form", { method: "dialog" }, el("button", {}, "Close")));
  /** @type {Pixel[]} */
  let corners = [];
  /** @type {Record<string, Pixel>} */
  let middles = {};
  /** @type {(Known & { text: string })[]} */
  let knowns = [];
  /** @type {Found | null} */
  let now = null;
  let next = 0; // corner that the next click on the picture places
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
    now = found;
    use.disabled = drop.disabled = !found.size;
    edges.disabled = known.disabled = over.disabled = !found.corners;
    tell(found);
    picture.replaceChildren();
    lengths.replaceChildren();
    prompt.textContent = "";
    if (!found.size) return;
    const [width, height] = found.size;
    if (url) URL.revokeObjectURL(url);
    url = URL.createObjectURL(await getFile("photo/picture"));
    next = found.corners ? 4 : 0;
    corners = found.corners ?? [[0.1, 0.9], [0.9, 0.9], [0.9, 0.1], [0.1, 0.1]].map(([x, y]) => /** @type {Pixel} */ ([x * width, y * height]));
    middles = { ...found.edges };
    knowns = (found.known ?? []).map((one) => ({ ...one, text: String(one.length * (store.state.job?.unit.per_mm ?? 1)) }));
    set(picture, { viewBox: `0 0 ${width} ${height}` });
    draw();
  }

  function draw() {
    if (!now?.size) return;
    const [width, height] = now.size;
    const radius = Math.max(width, height) / 45;
    const outline = svg("polygon", { class: "outline" });
    const shape = () => outline.setAttribute("points", corners.map(([x, y]) => `${x},${y}`).join(" "));
    const marks = corners.map((at, i) => pictureMark(picture, { name: `${CORNERS[i]} corner of the plate`, kind: "corner", radius, at, moved(place) {
      corners[i] = place;
      shape();
    } }));
    for (const name of EDGES) {
      if (middles[name]) marks.push(pictureMark(picture, { name: `middle of the ${name} edge`, kind: "corner edge", radius: radius * 0.7, at: middles[name], moved: (place) => { middles[name] = place; } }));
    }
    knowns.forEach((one, i) => {
      const line = svg("path", { class: "outline" });
      const stretch = () => set(line, { d: `M${one.start}L${one.end}` });
      for (const end of /** @type {const} */ (["start", "end"])) {
        marks.push(pictureMark(picture, { name: `${end} of known distance ${i + 1}`, kind: "corner known", radius: radius * 0.7, at: one[end], moved(place) {
          one[end] = place;
          stretch();
        } }));
      }
      stretch();
      marks.unshift(line);
    });
    picture.replaceChildren(svg("image", { href: url, width, height }), outline, ...marks);
    shape();
    ask();
    const unit = store.state.job?.unit.name ?? "mm";
    lengths.replaceChildren(...knowns.map((one, i) => el("label", {}, `Known distance ${i + 1}, ${unit} `, el("input", {
      inputmode: "decimal", value: one.text, "aria-label": `Length of known distance ${i + 1}`, oninput: (/** @type {Event} */ e) => { one.text = /** @type {HTMLInputElement} */ (e.target).value; },
    }))));
  }

  function ask() {
    prompt.textContent = next < 4 ? `Click the ${CORNERS[next]} corner of the plate.` : "";
  }

  picture.addEventListener("click", (event) => {
    if (/** @type {Element} */ (event.target).closest(".corner") || next > 3) return;
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(picture.getScreenCTM()?.inverse());
    corners[next] = [at.x, at.y];
    next += 1;
    draw();
  });

  function addEdges() {
    const half = (/** @type {number} */ a, /** @type {number} */ b) => /** @type {Pixel} */ ([(corners[a][0] + corners[b][0]) / 2, (corners[a][1] + corners[b][1]) / 2]);
    middles = { lower: half(0, 1), right: half(1, 2), upper: half(2, 3), left: half(3, 0), ...middles };
    draw();
    prompt.textContent = "Put the four smaller marks onto the plate’s edges, about half way between the corners: how far they lie from the straight line is what the lens bends.";
  }

  function addKnown() {
    const at = (/** @type {number} */ share) => /** @type {Pixel} */ ([
      corners[0][0] + (corners[2][0] - corners[0][0]) * share, corners[0][1] + (corners[2][1] - corners[0][1]) * share]);
    knowns = [...knowns, { start: at(0.35), end: at(0.65), length: 0, text: "" }];
    draw();
    prompt.textContent = "Put the two marks onto things in the plate’s own plane whose distance you measured with a rule, and write that distance.";
  }

  /** @param {Found} found */
  function tell({ fit: is, trust }) {
    const unit = store.state.job?.unit;
    if (!is || !unit) return fit.replaceChildren();
    const shape = is.off === null || is.shape_error === null
      ? "The shape can’t be told from this picture."
      : `By the picture the plate’s width to height is ${Math.abs(is.shape_error * 100).toFixed(1)} % off what the job says: about ${told(is.off, unit)} over its longer side.`;
    const lines = [`One pixel beside a corner is ${told(is.mm_per_pixel, unit)} on the plate. ${shape}`];
    for (const [name, bow] of Object.entries(trust?.bow ?? {})) lines.push(`The ${name} edge bends ${told(Math.abs(bow), unit)} ${bow < 0 ? "inwards" : "outwards"} at its middle.`);
    (trust?.off ?? []).forEach((off, i) => lines.push(`Known distance ${i + 1} comes out ${told(Math.abs(off), unit)} too ${off < 0 ? "short" : "long"}.`));
    lines.push(trust?.worst === null || trust?.worst === undefined
      ? "Assumed: the lens draws straight lines straight. Check the edges to see whether it does."
      : `Places from this picture are off by up to ${told(trust.worst, unit)} where it was checked. Bending by the lens is told, not corrected.`);
    lines.push("What stands out of the plate leans outwards in the picture: go by where a thing meets the plate or its rail.");
    return fit.replaceChildren(...lines.map((line) => el("p", {}, line)));
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
    const unit = store.state.job?.unit;
    if (!unit) return;
    const lengths = knowns.map((one) => ({ start: one.start, end: one.end, length: typed(one.text, unit) ?? 0 }));
    const bad = lengths.findIndex((one) => !(one.length > 0));
    if (bad >= 0) return actions.note(`Write the length of known distance ${bad + 1}, in ${unit.name}`, "trouble");
    try {
      let found = await post("photo/corners", { corners });
      found = await post("photo/checks", { edges: middles, known: lengths });
      now = { .../** @type {Found} */ (now), ...found };
      tell(found);
      edges.disabled = known.disabled = over.disabled = false;
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
