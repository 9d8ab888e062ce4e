// @ts-check
/**
 * Regions at or above a value on a grid, and the lines at it (marching squares). As the sheets draw
 * them: linear between the middles of the cells and on to the edges; a saddle's mean decides.
 */

/** @typedef {{ box: number[], columns: number, values: number[] }} Field  values in tenths, row by row from below */
/** @typedef {{ x: Float64Array, y: Float64Array, v: Float64Array }} Nodes  v: rows from below, x.length to a row */
/** @typedef {number[]} Loop  x, y, x, y … */

const FAR = 1e6; // below every value: what lies round the grid, so that every region closes
// sides of a cell: 0 below, 1 right, 2 top, 3 left; corners at or above: 1 lower left, 2 lower
// right, 4 upper right, 8 upper left. Steps have the region on their left.
const STEPS = [
  [], [[0, 3]], [[1, 0]], [[1, 3]], [[2, 1]], [], [[2, 0]], [[2, 3]],
  [[3, 2]], [[0, 2]], [], [[1, 2]], [[3, 1]], [[0, 1]], [[3, 0]], [],
];
/** @type {Record<number, [number[][], number[][]]>} mean below the level, mean at or above it */
const SADDLES = { 5: [[[0, 3], [2, 1]], [[0, 1], [2, 3]]], 10: [[[1, 0], [3, 2]], [[3, 0], [1, 2]]] };

/** The field at its middles and edges, in °C, with a ring of no width round it. @param {Field} field @returns {Nodes} */
export function nodesOf(field) {
  const { box, columns, values } = field;
  const rows = values.length / columns;
  const places = (/** @type {number} */ count, /** @type {number} */ low, /** @type {number} */ high) => {
    const found = new Float64Array(count + 4);
    for (let i = 0; i < count; i += 1) found[i + 2] = low + ((high - low) * (i + 0.5)) / count;
    found[0] = found[1] = low;
    found[count + 2] = found[count + 3] = high;
    return found;
  };
  const wide = columns + 4;
  const v = new Float64Array(wide * (rows + 4)).fill(-FAR);
  for (let r = 0; r < rows; r += 1) {
    const at = (r + 2) * wide + 1;
    for (let c = 0; c < columns; c += 1) v[at + c + 1] = values[r * columns + c] / 10;
    v[at] = (3 * v[at + 1] - v[at + 2]) / 2;
    v[at + columns + 1] = (3 * v[at + columns] - v[at + columns - 1]) / 2;
  }
  const top = (rows + 2) * wide;
  for (let c = 1; c < wide - 1; c += 1) {
    v[wide + c] = (3 * v[2 * wide + c] - v[3 * wide + c]) / 2;
    v[top + c] = (3 * v[top - wide + c] - v[top - 2 * wide + c]) / 2;
  }
  return { x: places(columns, box[0], box[2]), y: places(rows, box[1], box[3]), v };
}

/** Closed borders of where the values are at or above a level; holes run the other way. @param {Nodes} nodes @param {number} level @returns {Loop[]} */
export function regions({ x, y, v }, level) {
  const wide = x.length;
  const size = v.length;
  const next = new Int32Array(2 * size).fill(-1); // level edges by their left node, then upright ones
  /** @type {number[]} */
  const starts = [];
  for (let r = 0; r + 1 < y.length; r += 1) {
    for (let here = r * wide, end = here + wide - 1; here < end; here += 1) {
      const a = v[here] >= level, b = v[here + 1] >= level;
      const d = v[here + wide + 1] >= level, e = v[here + wide] >= level;
      if (a === b && b === d && d === e) continue;
      const kind = Number(a) + 2 * Number(b) + 4 * Number(d) + 8 * Number(e);
      const side = [here, size + here + 1, here + wide, size + here];
      const saddle = SADDLES[kind];
      const mean = (v[here] + v[here + 1] + v[here + wide + 1] + v[here + wide]) / 4;
      for (const [from, to] of saddle ? saddle[Number(mean >= level)] : STEPS[kind]) {
        next[side[from]] = side[to];
        starts.push(side[from]);
      }
    }
  }
  /** @type {Loop[]} */
  const loops = [];
  for (const start of starts) {
    if (next[start] < 0) continue;
    /** @type {Loop} */
    const loop = [];
    for (let edge = start, after = next[edge]; after >= 0; edge = after, after = next[edge]) {
      const one = edge >= size ? edge - size : edge;
      const other = edge >= size ? one + wide : one + 1;
      const share = (level - v[one]) / (v[other] - v[one]);
      const [c, r] = [one % wide, Math.floor(one / wide)];
      const [c2, r2] = [other % wide, Math.floor(other / wide)];
      loop.push(x[c] + share * (x[c2] - x[c]), y[r] + share * (y[r2] - y[r]));
      next[edge] = -1;
    }
    loops.push(loop);
  }
  return loops;
}

/** The lines at a level: borders of its regions less what runs along the grid's edge. @param {Loop[]} loops @param {Nodes} nodes @returns {Loop[]} */
export function linesOf(loops, { x, y }) {
  const rim = (/** @type {number[]} */ p, /** @type {number} */ i, /** @type {number} */ j) =>
    (p[i] === p[j] && (p[i] === x[0] || p[i] === x[x.length - 1])) ||
    (p[i + 1] === p[j + 1] && (p[i + 1] === y[0] || p[i + 1] === y[y.length - 1]));
  /** @type {Loop[]} */
  const found = [];
  for (const loop of loops) {
    const count = loop.length / 2;
    let first = -1;
    for (let k = 0; k < count && first < 0; k += 1) if (rim(loop, 2 * k, 2 * ((k + 1) % count))) first = (k + 1) % count;
    if (first < 0) {
      found.push([...loop, loop[0], loop[1]]);
      continue;
    }
    /** @type {Loop} */
    let piece = [loop[2 * first], loop[2 * first + 1]];
    for (let k = 0; k < count; k += 1) {
      const [i, j] = [2 * ((first + k) % count), 2 * ((first + k + 1) % count)];
      if (rim(loop, i, j)) {
        if (piece.length > 2) found.push(piece);
        piece = [];
      }
      piece.push(loop[j], loop[j + 1]);
    }
  }
  return found;
}

/** Which band of a scale a temperature is in, 0 … count − 1. @param {number} value @param {{ low: number, step: number }} scale @param {number} count */
export const bandOf = (value, scale, count) =>
  Math.min(count - 1, Math.max(0, Math.floor((value - scale.low) / scale.step)));
