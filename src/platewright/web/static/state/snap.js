// @ts-check
/**
 * Where a hand means to put a thing: on a rail, beside a neighbour with the room both ask for,
 * in line with it, on holes that are drilled, or on the grid. Nearest within reach wins.
 */

/** @import { Job, Layout, Box, Point, Checked } from "../types.js" */
import { bodyOf, envelopeOf } from "./things.js";

/**
 * @typedef {{ at: number, why: string, beside?: [number, number] }} Line  a coordinate that the thing's own x or y may take; only where it stands beside that span
 * @typedef {{ x: Line[], y: Line[] }} Lines
 * @typedef {{ x: number, y: number, whyX: string, whyY: string }} Snapped
 */

/**
 * Lines that the place of one thing may snap to while others stay.
 * @param {Job} job @param {Layout} layout @param {Checked | null} checked @param {string} tag @param {Set<string>} moving
 * @returns {Lines}
 */
export function linesFor(job, layout, checked, tag, moving) {
  /** @type {Lines} */
  const lines = { x: [], y: [] };
  const device = job.devices[tag];
  if (!device || layout.ducts[tag] || layout.rails[tag]) return edgeLines(job, layout, tag, moving);
  if (device.axis !== null) {
    for (const [name, rail] of Object.entries(layout.rails)) {
      if (moving.has(name) || rail.run !== "across") continue;
      lines.y.push({ at: rail.y - device.axis, why: `on rail ${name}` });
    }
  }
  for (const hole of Object.values(layout.holes)) {
    if (hole.state !== "drilled" || (hole.holds && hole.holds !== tag)) continue;
    for (const [x, y] of device.holes) {
      lines.x.push({ at: hole.x - x, why: "on a drilled hole" });
      lines.y.push({ at: hole.y - y, why: "on a drilled hole" });
    }
  }
  const own = clearOf(checked, tag);
  for (const other of [...Object.keys(layout.devices), ...Object.keys(layout.ducts)]) {
    if (moving.has(other)) continue;
    const envelope = envelopeOf(job, layout, other);
    const body = bodyOf(job, layout, other);
    if (!envelope || !body) continue;
    const theirs = clearOf(checked, other);
    const [left, bottom, right, top] = device.covers;
    /** @type {[number, number]} */
    const across = [envelope[1], envelope[3]];
    /** @type {[number, number]} */
    const upright = [envelope[0], envelope[2]];
    lines.x.push(
      { at: envelope[2] + Math.max(own[0], theirs[2]) + left, why: `beside ${other}`, beside: across },
      { at: envelope[0] - Math.max(own[2], theirs[0]) - right - device.width, why: `beside ${other}`, beside: across },
    );
    lines.y.push(
      { at: envelope[3] + Math.max(own[1], theirs[3]) + bottom, why: `above ${other}`, beside: upright },
      { at: envelope[1] - Math.max(own[3], theirs[1]) - top - device.height, why: `below ${other}`, beside: upright },
      { at: body[1], why: `in line with ${other}` },
      { at: body[3] - device.height, why: `in line with ${other}` },
    );
  }
  return lines;
}

/** Ducts and rails meet the edges of others. @param {Job} job @param {Layout} layout @param {string} tag @param {Set<string>} moving @returns {Lines} */
function edgeLines(job, layout, tag, moving) {
  const own = bodyOf(job, layout, tag);
  const at = layout.ducts[tag] ?? layout.rails[tag];
  /** @type {Lines} */
  const lines = { x: [], y: [] };
  if (!own || !at) return lines;
  const { margin, width, height } = job.plate;
  /** @type {[string, Box][]} */
  const others = [["the plate's margin", [width - margin, height - margin, margin, margin]]];
  for (const other of Object.keys(layout.ducts)) {
    const box = bodyOf(job, layout, other);
    if (!moving.has(other) && box) others.push([other, box]);
  }
  for (const [name, box] of others) {
    lines.x.push(
      { at: box[2] + at.x - own[0], why: `against ${name}` },
      { at: box[0] - (own[2] - at.x), why: `against ${name}` },
      { at: box[0] + at.x - own[0], why: `in line with ${name}` },
    );
    lines.y.push(
      { at: box[3] + at.y - own[1], why: `against ${name}` },
      { at: box[1] - (own[3] - at.y), why: `against ${name}` },
      { at: box[1] + at.y - own[1], why: `in line with ${name}` },
    );
  }
  return lines;
}

/** @param {Checked | null} checked @param {string} tag @returns {[number, number, number, number]} */
function clearOf(checked, tag) {
  const found = checked?.clear[tag];
  return found ? [found[0], found[1], found[2], found[3]] : [0, 0, 0, 0];
}

/**
 * The place a hand means.
 * @param {Point} at @param {Lines} lines @param {number} reach mm @param {number} grid mm, 0: none
 * @param {{ width: number, height: number }} [size] of the thing
 * @returns {Snapped}
 */
export function snapped(at, lines, reach, grid, size = { width: 0, height: 0 }) {
  const x = nearest(at.x, lines.x, reach, [at.y, at.y + size.height]);
  const y = nearest(at.y, lines.y, reach, [at.x, at.x + size.width]);
  const onGrid = (/** @type {number} */ value) => (grid > 0 ? Math.round(value / grid) * grid : value);
  return {
    x: round(x ? x.at : onGrid(at.x)),
    y: round(y ? y.at : onGrid(at.y)),
    whyX: x?.why ?? "",
    whyY: y?.why ?? "",
  };
}

/** @param {number} value @param {Line[]} lines @param {number} reach @param {[number, number]} own @returns {Line | null} */
function nearest(value, lines, reach, own) {
  let best = null;
  let least = reach;
  for (const line of lines) {
    if (line.beside && (line.beside[0] >= own[1] || line.beside[1] <= own[0])) continue;
    const off = Math.abs(line.at - value);
    if (off < least) [best, least] = [line, off];
  }
  return best;
}

/** To what the layout file keeps of a millimetre. @param {number} length */
export const round = (length) => Math.round(length * 1000) / 1000 + 0;
