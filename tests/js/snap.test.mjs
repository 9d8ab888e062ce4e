import assert from "node:assert/strict";
import { test } from "node:test";
import { linesFor, snapped } from "../../src/platewright/web/static/state/snap.js";
import { around, neighbour, readingOrder, shifted, waiting, within } from "../../src/platewright/web/static/state/things.js";

const device = (more) => ({
  part: "p", kind: "", what: "", group: [], place: "plate", at_door: null, width: 40, height: 80, depth: 60,
  reach: 60, covers: [0, 0, 0, 0], axis: null, holes: [], heat: null, mass: null, ...more,
});
const job = {
  plate: { width: 500, height: 500, margin: 10, fixings: [], keep_outs: [] },
  devices: { A: device({ axis: 30 }), B: device({ covers: [2, 0, 3, 0] }), C: device({ place: "door" }), D: device({}) },
};
const layout = {
  devices: { A: { x: 100, y: 200, locked: false }, B: { x: 200, y: 200, locked: false } },
  ducts: {}, holes: {},
  rails: { R1: { x: 50, y: 233, length: 300, run: "across", box: [50, 215.5, 350, 250.5], locked: false, rise: 7.5 } },
};
const checked = { clear: { A: [5, 0, 5, 0, true], B: [8, 0, 8, 0, true] } };
const lines = linesFor(job, layout, checked, "A", new Set(["A"]));

test("a rail device snaps onto the rail", () => {
  const at = snapped({ x: 100, y: 204 }, lines, 6, 0, job.devices.A);
  assert.equal(at.y, 203);
  assert.equal(at.whyY, "on rail R1");
});

test("a device snaps beside its neighbour, covers on, with the larger of both needs", () => {
  // B's envelope begins at 198; 8 mm are kept; A is 40 wide
  assert.equal(snapped({ x: 148, y: 200 }, lines, 6, 0, job.devices.A).x, 198 - 8 - 40);
  // B's envelope ends at 243
  assert.equal(snapped({ x: 253, y: 200 }, lines, 6, 0, job.devices.A).x, 251);
});

test("only what stands beside counts", () => {
  assert.equal(snapped({ x: 148, y: 400 }, lines, 6, 1, job.devices.A).x, 148);
});

test("else the grid, else the hand", () => {
  assert.deepEqual(snapped({ x: 33.3, y: 411.7 }, lines, 6, 5, job.devices.A), { x: 35, y: 410, whyX: "", whyY: "" });
  assert.equal(snapped({ x: 33.3337, y: 411.7 }, lines, 6, 0, job.devices.A).x, 33.334);
});

test("a drilled hole draws a device's hole pattern", () => {
  const own = { ...job, devices: { ...job.devices, D: device({ holes: [[5, 5], [35, 75]] }) } };
  const drilled = { ...layout, holes: { H1: { x: 305, y: 105, state: "drilled", holds: "" }, H2: { x: 9, y: 9, state: "planned", holds: "" } } };
  const found = linesFor(own, drilled, null, "D", new Set(["D"]));
  const at = snapped({ x: 298, y: 102 }, found, 6, 0, own.devices.D);
  assert.deepEqual([at.x, at.y, at.whyX], [300, 100, "on a drilled hole"]);
});

test("things are read like a page, gone through in turn, and caught by a frame", () => {
  const order = readingOrder(job, layout);
  assert.deepEqual(order.filter((tag) => tag !== "R1"), ["A", "B"]);
  assert.equal(neighbour(["A", "B", "R1"], "R1", 1), "A");
  assert.equal(neighbour(["A", "B", "R1"], undefined, -1), "R1");
  assert.equal(neighbour([], undefined, 1), null);
  assert.deepEqual(within(job, layout, [90, 190, 260, 300]).sort(), ["A", "B"]);
  assert.deepEqual(waiting(job, layout), ["D"]);
  assert.deepEqual(around([[0, 1, 2, 3], [-1, 2, 1, 9]]), [-1, 1, 2, 9]);
});

test("a step ahead of the server leaves the old layout as it was", () => {
  const next = shifted(layout, new Map([["R1", { x: 60, y: 243 }]]));
  assert.deepEqual(next.rails.R1.box, [60, 225.5, 360, 260.5]);
  assert.equal(layout.rails.R1.x, 50);
});
