import assert from "node:assert/strict";
import { test } from "node:test";
import * as v from "../../src/platewright/web/static/state/viewport.js";

const near = (a, b) => assert.ok(Math.abs(a - b) < 1e-9, `${a} is not ${b}`);

test("a place goes to the screen and back, and y is flipped once", () => {
  const view = { x: -20, y: 35, k: 1.7 };
  const at = v.toScreen(view, { x: 100, y: 50 });
  const back = v.toDrawing(view, at);
  near(back.x, 100);
  near(back.y, 50);
  assert.equal(v.toPlate(view, at, 1150).y, 1100);
});

test("what lies under the pointer stays there when one zooms", () => {
  const view = { x: 3, y: 4, k: 0.8 };
  const before = v.toDrawing(view, { x: 200, y: 90 });
  const after = v.toDrawing(v.zoomed(view, 2.5, { x: 200, y: 90 }), { x: 200, y: 90 });
  near(before.x, after.x);
  near(before.y, after.y);
});

test("zoom ends somewhere", () => {
  assert.equal(v.zoomed({ x: 0, y: 0, k: 1 }, 1e9, { x: 0, y: 0 }).k, v.NEAREST);
  assert.equal(v.zoomed({ x: 0, y: 0, k: 1 }, 1e-9, { x: 0, y: 0 }).k, v.FARTHEST);
});

test("a box is shown as large as it goes, in the middle", () => {
  const view = v.fitted([0, 0, 100, 200], { width: 400, height: 420 }, 10);
  near(view.k, 2);
  const middle = v.toScreen(view, { x: 50, y: 100 });
  near(middle.x, 200);
  near(middle.y, 210);
});

test("two fingers keep what is under them", () => {
  const view = { x: 0, y: 0, k: 1 };
  const before = [{ x: 100, y: 100 }, { x: 200, y: 100 }];
  const after = [{ x: 90, y: 130 }, { x: 290, y: 130 }];
  const next = v.pinched(view, before, after);
  near(next.k, 2);
  for (const i of [0, 1]) {
    const was = v.toDrawing(view, before[i]);
    const is = v.toDrawing(next, after[i]);
    near(was.x, is.x);
    near(was.y, is.y);
  }
});
