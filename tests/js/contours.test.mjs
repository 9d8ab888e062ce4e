import assert from "node:assert/strict";
import { test } from "node:test";
import * as c from "../../src/platewright/web/static/state/contours.js";

const area = (loop) => {
  let sum = 0;
  for (let i = 0; i < loop.length; i += 2) {
    const j = (i + 2) % loop.length;
    sum += loop[i] * loop[j + 1] - loop[j] * loop[i + 1];
  }
  return sum / 2;
};
const field = (columns, rows, value) => ({
  box: [0, 0, 100, 80], columns,
  values: Array.from({ length: rows * columns }, (_, i) =>
    Math.round(10 * value((i % columns + 0.5) / columns * 100, (Math.floor(i / columns) + 0.5) / rows * 80))),
});
const near = (a, b, by) => assert.ok(Math.abs(a - b) <= by, `${a} is not ${b}`);

test("a slope is met where it is, out to the edges", () => {
  const nodes = c.nodesOf(field(50, 40, (x) => x)); // tenths of a degree are exact here
  const loops = c.regions(nodes, 30);
  assert.equal(loops.length, 1);
  near(area(loops[0]), 70 * 80, 1e-6);
  const lines = c.linesOf(loops, nodes);
  assert.equal(lines.length, 1);
  for (let i = 0; i < lines[0].length; i += 2) near(lines[0][i], 30, 1e-9);
  const ends = [lines[0][1], lines[0].at(-1)].sort((a, b) => a - b);
  assert.deepEqual(ends, [0, 80]);
});

test("a round hill has its area, a round hollow its hole", () => {
  const hill = c.nodesOf(field(80, 64, (x, y) => 1000 - Math.hypot(x - 50, y - 40)));
  const loops = c.regions(hill, 980);
  assert.equal(loops.length, 1);
  near(area(loops[0]), Math.PI * 400, 15);
  assert.equal(c.linesOf(loops, hill).length, 1);
  const hollow = c.nodesOf(field(80, 64, (x, y) => Math.hypot(x - 50, y - 40)));
  const found = c.regions(hollow, 20).map(area).sort((a, b) => a - b);
  near(found[0], -Math.PI * 400, 15);
  near(found[1], 8000, 1e-6);
});

test("nothing above, everything above", () => {
  const flat = c.nodesOf(field(8, 8, () => 40));
  assert.equal(c.regions(flat, 41).length, 0);
  const all = c.regions(flat, 39);
  near(area(all[0]), 8000, 1e-6);
  assert.equal(c.linesOf(all, flat).length, 0);
});

test("saddles close, and what is above and what is not make the whole", () => {
  let seed = 7;
  const chance = () => (seed = (seed * 16807) % 2147483647) / 2147483647;
  for (let n = 0; n < 40; n += 1) {
    const values = Array.from({ length: 36 }, () => Math.floor(chance() * 50) * 10);
    const one = c.nodesOf({ box: [0, 0, 100, 80], columns: 6, values });
    const other = { ...one, v: one.v.map((v) => (v < -1e5 ? v : -v)) };
    const above = c.regions(one, 20.37).map(area).reduce((a, b) => a + b, 0);
    const below = c.regions(other, -20.37).map(area).reduce((a, b) => a + b, 0);
    near(above + below, 8000, 1e-6);
  }
});

test("bands have ends", () => {
  const scale = { low: 20, step: 5 };
  assert.deepEqual([-9, 20, 24.9, 25, 64.9, 65, 900].map((v) => c.bandOf(v, scale, 9)), [0, 0, 0, 1, 8, 8, 8]);
});
