// @ts-check
/** The job's lists as tables edited in place; a spreadsheet's cells can be pasted. Faults are the files' own. */

/** @import { Store } from "../store.js" */
/** @import { Actions } from "../actions.js" */
/** @import { Fault } from "../types.js" */
import { client, get, post, Refused } from "../api.js";
import { el } from "../dom.js";
import { cellsOf, pasted } from "../state/paste.js";
import { told } from "../store.js";
import { faultEntries } from "./faults.js";
import { mountSettings } from "./settings.js";

const SETTINGS = "job.toml";
const NAMES = [[SETTINGS, "The job"], ["devices.csv", "Devices"], ["parts.csv", "Parts"], ["wires.csv", "Wires"]];
const MOST = 300; // rows drawn at once

/** @typedef {{ rows: string[][], known: { name: string, meaning: string, needed: boolean, choices: string[] }[], hash: string }} List */

/** @param {Store} store @param {Actions} actions @param {HTMLElement} host */
export function mountList(store, actions, host) {
  let name = NAMES[1][0];
  /** @type {List | null} */
  let list = null;
  /** @type {string[][]} */
  let rows = [];
  let dirty = false;
  let shownFrom = 1;
  const tabs = el("div", { class: "tabs", role: "group", "aria-label": "List" }, ...NAMES.map(([file, word]) =>
    el("button", { "data-list": file, onclick: () => show(file) }, word)));
  const save = el("button", { class: "main", onclick: keep }, "Save");
  const back = el("button", { onclick: () => show(name) }, "Take back");
  const add = el("button", { onclick: addRow }, "Add a row");
  const state = el("p", { class: "dim", role: "status" });
  const faults = el("ul", { class: "faults", "aria-live": "assertive" });
  const table = el("table", { class: "list" });
  const frame = el("div", { class: "list-frame", tabindex: 0, role: "region", "aria-label": "List" }, table);
  const doing = el("span", { class: "row" }, save, back, add, state);
  const settings = el("div", { class: "settings-part", hidden: true });
  const showSettings = mountSettings(store, actions, settings);
  host.append(el("h2", {}, "What’s in it"), el("p", { class: "row" }, tabs, doing), faults, frame, settings);

  store.listen(({ stage }) => {
    if (stage === "list" && !list) show(name);
  }, "stage");
  store.listen(({ stage }) => {
    if (stage === "list" && !dirty) refresh();
  }, "job");

  /** Show the list again if its file is another now; what was said of the last save stays else. */
  async function refresh() {
    if (name === SETTINGS) return; // the form looks after itself
    try {
      const fresh = /** @type {List} */ (await get(`list/${name}`));
      if (!list || fresh.hash !== list.hash) await show(name);
    } catch (error) {
      actions.say(error);
    }
  }

  /** @param {string} file */
  async function show(file) {
    const isForm = file === SETTINGS;
    for (const part of [doing, faults, frame]) part.hidden = isForm;
    settings.hidden = !isForm;
    for (const tab of tabs.children) tab.setAttribute("aria-pressed", String(tab.getAttribute("data-list") === file));
    if (isForm) {
      name = file;
      return showSettings();
    }
    try {
      list = /** @type {List} */ (await get(`list/${file}`));
    } catch (error) {
      return actions.say(error);
    }
    name = file;
    rows = list.rows.length ? list.rows : [list.known.filter((k) => k.needed).map((k) => k.name)];
    shownFrom = 1;
    mark(false, "");
    faults.replaceChildren();
    return draw();
  }

  /** @param {boolean} is @param {string} text */
  function mark(is, text) {
    dirty = is;
    save.disabled = back.disabled = !is;
    state.textContent = text;
  }

  function draw() {
    const [headings, ...body] = rows;
    const known = new Map(list?.known.map((k) => [k.name, k]));
    const part = body.slice(shownFrom - 1, shownFrom - 1 + MOST);
    table.replaceChildren(
      el("caption", {}, `${name}: ${body.length} rows`),
      el("thead", {}, el("tr", {}, el("th", { scope: "col" }, "row"), ...headings.map((h) =>
        el("th", { scope: "col", title: known.get(h)?.meaning ?? "" }, h)))),
      el("tbody", {}, ...part.map((line, i) => rowOf(line, i + shownFrom, headings))));
    if (body.length > MOST) {
      const turn = (/** @type {number} */ by) => () => {
        shownFrom = Math.max(1, Math.min(body.length - 1, shownFrom + by));
        draw();
      };
      table.append(el("tfoot", {}, el("tr", {}, el("td", { colspan: headings.length + 1 },
        el("button", { onclick: turn(-MOST) }, "Rows before"), el("button", { onclick: turn(MOST) }, "Rows after")))));
    }
  }

  /** @param {string[]} line @param {number} row @param {string[]} headings */
  function rowOf(line, row, headings) {
    return el("tr", { "data-row": row }, el("th", { scope: "row" }, String(row + 1)), ...headings.map((heading, column) =>
      el("td", {}, el("input", {
        value: line[column] ?? "", "aria-label": `row ${row + 1}, ${heading}`, "data-row": row, "data-column": column,
        autocomplete: "off", spellcheck: "false",
        oninput: (/** @type {Event} */ event) => change(row, column, /** @type {HTMLInputElement} */ (event.target).value),
        onpaste: (/** @type {ClipboardEvent} */ event) => paste(event, row, column),
        onkeydown: (/** @type {KeyboardEvent} */ event) => step(event, row, column),
      }))));
  }

  /** @param {number} row @param {number} column @param {string} value */
  function change(row, column, value) {
    rows = rows.map((line, i) => (i === row ? line.map((cell, j) => (j === column ? value : cell)) : line));
    mark(true, "Not saved yet");
  }

  /** @param {ClipboardEvent} event @param {number} row @param {number} column */
  function paste(event, row, column) {
    const text = event.clipboardData?.getData("text/plain") ?? "";
    const cells = cellsOf(text);
    if (cells.length === 1 && cells[0].length === 1) return;
    event.preventDefault();
    const done = pasted(rows, cells, row, column);
    rows = done.rows;
    mark(true, done.lost ? `${done.lost} cells had no column and were left out` : "Pasted, not saved yet");
    draw();
    focusOn(row, column);
  }

  /** Up and down go through the column. @param {KeyboardEvent} event @param {number} row @param {number} column */
  function step(event, row, column) {
    const by = { ArrowDown: 1, ArrowUp: -1, Enter: 1 }[event.key];
    if (!by) return;
    event.preventDefault();
    focusOn(row + by, column);
  }

  /** @param {number} row @param {number} column */
  function focusOn(row, column) {
    /** @type {HTMLElement | null} */ (table.querySelector(`input[data-row="${row}"][data-column="${column}"]`))?.focus();
  }

  function addRow() {
    rows = [...rows, Array(rows[0].length).fill("")];
    shownFrom = Math.max(1, rows.length - MOST);
    mark(true, "Not saved yet");
    draw();
    focusOn(rows.length - 1, 0);
  }

  async function keep() {
    if (!list) return;
    try {
      const answer = await post(`list/${name}`, { rows, hash: list.hash, client });
      store.set(told(store.state, answer.state));
      list = /** @type {List} */ (answer.list);
      rows = list.rows;
      faults.replaceChildren();
      mark(false, "Saved; Undo takes it back");
      draw();
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      tell(error.faults, error.message);
    }
  }

  /** @param {Fault[]} found @param {string} message */
  function tell(found, message) {
    faults.replaceChildren(...faultEntries(found, message, jump));
    state.textContent = "Not saved: correct these first";
  }

  /** @param {Fault} fault */
  function jump(fault) {
    if (fault.file !== name || fault.row === null) return;
    focusOn(fault.row - 1, Math.max(0, rows[0].indexOf(fault.field ?? "")));
  }
}
