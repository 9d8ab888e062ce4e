import assert from "node:assert/strict";
import { test } from "node:test";
import { balloonPlaces, ballooned, grouped, spanOf } from "../../src/platewright/web/static/state/findings.js";

const finding = (number, more = {}) => ({
  number, rule: "space.x", verdict: "FAIL", subject: "A", measured: 2, limit: 15, unit: "mm", source: "", message: "",
  cure: "", place: [0, 0, 10, 10], headline: "Not kept: x", title: "X", why: "", move: null, ...more,
});

test("many alike stand together, but not those that fail", () => {
  const many = [1, 2, 3, 4, 5].map((n) => finding(n, { verdict: "UNDECIDED" }));
  assert.equal(grouped(many).length, 1);
  assert.equal(grouped(many)[0].title, "Not kept: x");
  assert.equal(grouped(many.slice(0, 3)).length, 3);
  assert.equal(grouped([1, 2, 3, 4, 5].map((n) => finding(n))).length, 5);
});

test("balloons for what fails or falls short, and for the chosen one", () => {
  const list = [finding(1), finding(2, { verdict: "CAUTION" }), finding(3, { verdict: "UNDECIDED" }), finding(4, { place: null })];
  assert.deepEqual(ballooned(list, null).map((f) => f.number), [1, 2]);
  assert.deepEqual(ballooned(list, 3).map((f) => f.number), [1, 2, 3]);
});

test("balloons do not lie on each other", () => {
  const wanted = Array.from({ length: 30 }, (_, i) => ({ number: i + 1, box: [100, 100, 140, 180], size: 20 }));
  const places = [...balloonPlaces(wanted, [[100, 100, 140, 180]]).values()];
  assert.equal(places.length, 30);
  for (const [i, a] of places.entries()) {
    for (const b of places.slice(i + 1)) assert.ok(Math.hypot(a.x - b.x, a.y - b.y) > 20);
  }
});

test("a strip beside its subject is drawn as what is needed and what there is", () => {
  const subject = [100, 100, 140, 180];
  const right = spanOf(finding(1, { place: [140, 100, 155, 180] }), subject);
  assert.deepEqual([right.from.x, right.to.x, right.part.x], [140, 155, 142]);
  const left = spanOf(finding(1, { place: [85, 100, 100, 180] }), subject);
  assert.deepEqual([left.from.x, left.to.x, left.part.x], [100, 85, 98]);
  const below = spanOf(finding(1, { place: [100, 85, 140, 100], measured: -7 }), subject);
  assert.deepEqual([below.from.y, below.to.y, below.part.y], [100, 85, 100]);
  assert.equal(spanOf(finding(1, { limit: 0 }), subject), null);
  assert.equal(spanOf(finding(1, { unit: "%" }), subject), null);
});
