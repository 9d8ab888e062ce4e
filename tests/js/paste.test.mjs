import assert from "node:assert/strict";
import { test } from "node:test";
import { cellsOf, pasted } from "../../src/platewright/web/static/state/paste.js";

test("cells of a spreadsheet", () => {
  assert.deepEqual(cellsOf("a\tb\r\nc\td\r\n"), [["a", "b"], ["c", "d"]]);
  assert.deepEqual(cellsOf('"two\nlines"\t"a ""word"""'), [["two\nlines", 'a "word"']]);
  assert.deepEqual(cellsOf('8" pipe\t3'), [['8" pipe', "3"]]);
  assert.deepEqual(cellsOf("one"), [["one"]]);
});

test("pasting grows downwards, tells what had no column, leaves the old table", () => {
  const rows = [["tag", "part"], ["-Q1", "x"]];
  const done = pasted(rows, [["-Q2", "y", "lost", ""], ["-Q3", "z"]], 1, 0);
  assert.deepEqual(done.rows, [["tag", "part"], ["-Q2", "y"], ["-Q3", "z"]]);
  assert.equal(done.lost, 1);
  assert.deepEqual(rows[1], ["-Q1", "x"]);
});
