import assert from "node:assert/strict";
import { test } from "node:test";
import { firstState, makeStore, told, withWords } from "../../src/platewright/web/static/store.js";

const server = (revision, devices = {}) => ({
  revision, layout: { devices, ducts: {}, rails: {}, holes: {} }, undo: null, redo: null, faults: [], notices: [],
});

test("who asked is told of what changed, and of nothing else", () => {
  const store = makeStore(firstState());
  const heard = [];
  store.listen((_, changed) => heard.push([...changed]), "chosen");
  store.set({ grid: 5 });
  store.set({ chosen: ["A"], grid: 5 });
  store.set({ chosen: store.state.chosen });
  assert.deepEqual(heard, [["chosen"]]);
});

test("an older telling changes nothing; what is gone is no longer chosen", () => {
  const state = { ...firstState(), server: server(5), chosen: ["A", "B"] };
  assert.deepEqual(told(state, server(4)), {});
  assert.deepEqual(told(state, server(6, { B: { x: 0, y: 0, locked: false } })).chosen, ["B"]);
});

test("findings get their rule's words", () => {
  const checked = { findings: [{ rule: "r" }, { rule: "unknown" }], rules: { r: ["title", "why"] } };
  const [one, other] = withWords(checked).findings;
  assert.deepEqual([one.title, one.why, other.title], ["title", "why", "unknown"]);
  assert.equal(withWords(null), null);
});
