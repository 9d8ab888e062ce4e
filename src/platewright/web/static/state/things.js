// @ts-check
/** Things on the plate, whatever they are: where, how large, in which order one reads them. */

/** @import { Job, Layout, Box, Point, State } from "../types.js" */

/** @param {Layout} layout @param {string} tag */
export function placeOf(layout, tag) {
  return layout.devices[tag] ?? layout.ducts[tag] ?? layout.rails[tag] ?? null;
}

/** Footprint without covers. @param {Job} job @param {Layout} layout @param {string} tag @returns {Box | null} */
export function bodyOf(job, layout, tag) {
  const at = layout.devices[tag];
  if (at) {
    const device = job.devices[tag];
    return device ? [at.x, at.y, at.x + device.width, at.y + device.height] : null;
  }
  return layout.ducts[tag]?.box ?? layout.rails[tag]?.box ?? null;
}

/** Footprint with covers. @param {Job} job @param {Layout} layout @param {string} tag @returns {Box | null} */
export function envelopeOf(job, layout, tag) {
  const body = bodyOf(job, layout, tag);
  const device = layout.devices[tag] && job.devices[tag];
  if (!body || !device) return body;
  const [left, bottom, right, top] = device.covers;
  return [body[0] - left, body[1] - bottom, body[2] + right, body[3] + top];
}

/** The box round several. @param {Box[]} boxes @returns {Box | null} */
export function around(boxes) {
  if (!boxes.length) return null;
  return [
    Math.min(...boxes.map((b) => b[0])), Math.min(...boxes.map((b) => b[1])),
    Math.max(...boxes.map((b) => b[2])), Math.max(...boxes.map((b) => b[3])),
  ];
}

/** Tags as one reads a page: from the top row down, from left to right. @param {Job} job @param {Layout} layout */
export function readingOrder(job, layout) {
  const tags = [...Object.keys(layout.devices), ...Object.keys(layout.rails), ...Object.keys(layout.ducts)];
  const boxes = new Map(tags.map((tag) => [tag, bodyOf(job, layout, tag)]));
  const band = (/** @type {string} */ tag) => {
    const box = boxes.get(tag);
    return box ? Math.round((job.plate.height - (box[1] + box[3]) / 2) / 80) : 0;
  };
  return tags.sort(
    (a, b) => band(a) - band(b) || (boxes.get(a)?.[0] ?? 0) - (boxes.get(b)?.[0] ?? 0) || a.localeCompare(b),
  );
}

/** The next or previous tag in reading order. @param {string[]} order @param {string | undefined} tag @param {1 | -1} step */
export function neighbour(order, tag, step) {
  if (!order.length) return null;
  const at = tag === undefined ? -1 : order.indexOf(tag);
  if (at < 0) return step > 0 ? order[0] : order[order.length - 1];
  return order[(at + step + order.length) % order.length];
}

/** Everything whose footprint lies within a box. @param {Job} job @param {Layout} layout @param {Box} box */
export function within(job, layout, box) {
  return readingOrder(job, layout).filter((tag) => {
    const body = bodyOf(job, layout, tag);
    return body && body[0] >= box[0] && body[1] >= box[1] && body[2] <= box[2] && body[3] <= box[3];
  });
}

/** Devices that wait for a place on the plate, in list order. @param {Job} job @param {Layout} layout */
export function waiting(job, layout) {
  return Object.keys(job.devices).filter(
    (tag) => job.devices[tag].place === "plate" && !(tag in layout.devices),
  );
}

/** The layout with things shifted: a step ahead of the server. @param {Layout} layout @param {Map<string, Point>} places @returns {Layout} */
export function shifted(layout, places) {
  const devices = { ...layout.devices };
  const ducts = { ...layout.ducts };
  const rails = { ...layout.rails };
  for (const [tag, at] of places) {
    if (devices[tag]) devices[tag] = { ...devices[tag], ...at };
    else if (ducts[tag]) ducts[tag] = { ...ducts[tag], ...at, box: boxMoved(ducts[tag].box, ducts[tag], at) };
    else if (rails[tag]) rails[tag] = { ...rails[tag], ...at, box: boxMoved(rails[tag].box, rails[tag], at) };
  }
  return { ...layout, devices, ducts, rails };
}

/** @param {Box} box @param {Point} from @param {Point} to @returns {Box} */
function boxMoved(box, from, to) {
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  return [box[0] + dx, box[1] + dy, box[2] + dx, box[3] + dy];
}

/** How a thing is called aloud. @param {State} state @param {string} tag */
export function spoken(state, tag) {
  const device = state.job?.devices[tag];
  if (device) return `${tag} ${device.what}`;
  if (state.layout.ducts[tag]) return `${tag} duct ${state.layout.ducts[tag].stock}`;
  if (state.layout.rails[tag]) return `${tag} rail ${state.layout.rails[tag].profile}`;
  return tag;
}
