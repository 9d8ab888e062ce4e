import assert from "node:assert/strict";
import { test } from "node:test";
import { isIdleMark, nextState } from "../../src/platewright/web/static/state/marks.js";

test("a mark that holds nothing is wiped off, never drilled by a tap", () => {
  const hole = (state, holds) => ({ x: 1, y: 1, kind: "tapped", size: "M5", drill: 4.2, holds, state });
  assert.equal(isIdleMark(hole("marked", "")), true);
  assert.equal(isIdleMark(hole("marked", "R1")), false);
  assert.equal(isIdleMark(hole("drilled", "")), false);
  assert.equal(nextState(hole("marked", "")), "planned");
  assert.deepEqual(["planned", "marked", "drilled"].map((s) => nextState(hole(s, "R1"))), ["marked", "drilled", "planned"]);
});
