import assert from "node:assert/strict";
import { test } from "node:test";
import { shown, told, typed } from "../../src/platewright/web/static/state/lengths.js";

const mm = { name: "mm", per_mm: 1, decimals: 1 };
const inch = { name: "in", per_mm: 1 / 25.4, decimals: 3 };

test("lengths are shown without needless digits", () => {
  assert.equal(shown(90, mm), "90");
  assert.equal(shown(905.5, mm), "905.5");
  assert.equal(shown(-0.01, mm), "0");
  assert.equal(shown(25.4 * 1.375, inch), "1.375");
  assert.equal(told(12, mm), "12 mm");
});

test("lengths are read as people write them", () => {
  assert.equal(typed("12.5", mm), 12.5);
  assert.equal(typed(" 12,5 ", mm), 12.5);
  assert.equal(typed("-3", mm), -3);
  assert.equal(typed(".5", mm), 0.5);
  assert.ok(Math.abs(typed("1-3/8", inch) - 34.925) < 1e-9);
  assert.ok(Math.abs(typed("1 3/8", inch) - 34.925) < 1e-9);
  assert.ok(Math.abs(typed("3/4", inch) - 19.05) < 1e-9);
});

test("what is no length is none", () => {
  for (const text of ["", "far", "1/0", "1.2.3", "1e5", "NaN", "Infinity", "12 mm"]) {
    assert.equal(typed(text, mm), null, text);
  }
});
