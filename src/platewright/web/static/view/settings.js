// @ts-check
/** The job's settings as a form, or as the text of job.toml. Faults are the file's own. */

/** @import { Store } from "../store.js" */
/** @import { Actions } from "../actions.js" */
/** @import { Fault } from "../types.js" */
import { client, get, post, Refused } from "../api.js";
import { el } from "../dom.js";
import { told } from "../store.js";
import { faultEntries } from "./faults.js";

/** @typedef {{ key: string, meaning: string, needed: boolean, choices: string[], default: string, text: string }} Cell */
/** @typedef {{ path: string, meaning: string, cells: Cell[] }} Section */
/** @typedef {{ path: string, meaning: string, cells: Cell[], rows: string[][] }} Listing */
/** @typedef {{ form: { sections: Section[], lists: Listing[], fault: string }, text: string, hash: string }} Settings */
/** @typedef {{ was: number, cells: Record<string, string> }} Row */

/** @param {Store} store @param {Actions} actions @param {HTMLElement} host */
export function mountSettings(store, actions, host) {
  /** @type {Settings | null} */
  let now = null;
  let asText = false;
  /** @type {Record<string, string>} */
  let cells = {};
  /** @type {Record<string, Row[]>} */
  let lists = {};
  const save = el("button", { class: "main", onclick: keep }, "Save settings");
  const back = el("button", { onclick: show }, "Take back");
  const turn = el("button", { onclick: () => { asText = !asText; show(); } }, "As text");
  const state = el("p", { class: "dim", role: "status" });
  const faults = el("ul", { class: "faults", "aria-live": "assertive" });
  const text = el("textarea", { class: "whole", spellcheck: "false", "aria-label": "job.toml as text", oninput: () => mark(true, "Not saved yet") });
  const body = el("div", { class: "settings", tabindex: 0, role: "region", "aria-label": "Settings of the job" });
  host.append(el("p", { class: "row" }, save, back, turn, state), faults, body);

  store.listen(({ stage }) => {
    if (stage === "list" && !host.hidden && save.disabled) refresh();
  }, "job");

  /** Show it again if the file is another now; what was said of the last save stays else. */
  async function refresh() {
    try {
      const fresh = /** @type {Settings} */ (await get("settings"));
      if (!now || fresh.hash !== now.hash) take(fresh, "");
    } catch (error) {
      actions.say(error);
    }
  }

  async function show() {
    try {
      take(await get("settings"), "");
    } catch (error) {
      actions.say(error);
    }
  }

  /** @param {Settings} found @param {string} words */
  function take(found, words) {
    now = found;
    cells = {};
    lists = {};
    faults.replaceChildren();
    if (found.form.fault) asText = true;
    turn.textContent = asText ? "As a form" : "As text";
    mark(false, found.form.fault || words);
    if (asText) {
      text.value = found.text;
      body.replaceChildren(text);
    } else {
      body.replaceChildren(...found.form.sections.map(sectionOf), ...found.form.lists.map(listOf));
    }
  }

  /** @param {boolean} is @param {string} words */
  function mark(is, words) {
    save.disabled = back.disabled = !is;
    state.textContent = words;
  }

  /** @param {Section} section */
  function sectionOf(section) {
    return el("fieldset", {}, el("legend", {}, section.meaning), ...section.cells.map((cell) => {
      const path = section.path ? `${section.path}.${cell.key}` : cell.key;
      return el("label", { class: "setting" }, el("span", { class: "key" }, spelled(cell.key)), field(cell, cell.text, path, (value) => {
        cells[path] = value;
        if (value === cell.text) delete cells[path];
        mark(Boolean(Object.keys(cells).length || Object.keys(lists).length), "Not saved yet");
      }), el("span", { class: "hint" }, cell.meaning));
    }));
  }

  /** @param {Cell} cell @param {string} value @param {string} path @param {(value: string) => void} change */
  function field(cell, value, path, change) {
    const common = { "data-path": path, "aria-label": `${path}: ${cell.meaning}`, "aria-required": cell.needed ? "true" : null };
    if (cell.choices.length) {
      const known = value && !cell.choices.includes(value) ? [value] : [];
      const choice = el("select", { ...common, onchange: () => change(choice.value) },
        el("option", { value: "" }, cell.default ? `– (${cell.default})` : "–"),
        ...[...known, ...cell.choices].map((word) => el("option", { value: word }, word)));
      choice.value = value;
      return choice;
    }
    const input = el("input", { ...common, value, placeholder: cell.default ? `${cell.default} if blank` : "", autocomplete: "off", spellcheck: "false", oninput: () => change(input.value) });
    return input;
  }

  /** @param {Listing} list */
  function listOf(list) {
    const rows = lists[list.path] ?? list.rows.map((_, i) => ({ was: i + 1, cells: {} }));
    const node = el("fieldset", { class: "wide" }, el("legend", {}, list.meaning));
    const redraw = () => {
      lists[list.path] = rows;
      mark(true, "Not saved yet");
      const fresh = listOf(list);
      node.replaceWith(fresh);
      return fresh;
    };
    node.append(el("div", { class: "list-frame", tabindex: 0, role: "region", "aria-label": list.meaning }, el("table", { class: "list" },
      el("thead", {}, el("tr", {}, ...list.cells.map((c) => el("th", { scope: "col", title: c.meaning }, spelled(c.key))), el("td", {}))),
      el("tbody", {}, ...rows.map((row, i) => el("tr", {}, ...list.cells.map((cell, j) => {
        const old = row.was ? list.rows[row.was - 1][j] : "";
        return el("td", {}, field(cell, row.cells[cell.key] ?? old, `${list.path}[${i + 1}].${cell.key}`, (value) => {
          row.cells[cell.key] = value;
          lists[list.path] = rows;
          mark(true, "Not saved yet");
        }));
      }), el("td", {}, el("button", { class: "round", "aria-label": `Take row ${i + 1} out of ${list.path}`, title: "Take it out", onclick: () => {
        rows.splice(i, 1);
        redraw();
      } }, "×"))))))),
    el("button", { "data-add": list.path, onclick: () => {
      rows.push({ was: 0, cells: {} });
      /** @type {HTMLElement | null} */ (redraw().querySelector("tbody tr:last-child input"))?.focus();
    } }, "Add a row"));
    return node;
  }

  async function keep() {
    if (!now) return;
    try {
      const what = asText ? { text: text.value } : { cells, lists };
      const answer = await post("settings", { ...what, hash: now.hash, client });
      store.set(told(store.state, answer.state));
      take(answer, "Saved; Undo takes it back");
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      tell(error.faults, error.message);
    }
  }

  /** @param {Fault[]} found @param {string} message */
  function tell(found, message) {
    faults.replaceChildren(...faultEntries(found, message, jump));
    state.textContent = "Not saved: correct these first";
    for (const input of body.querySelectorAll("[data-path]")) {
      const is = found.some((f) => f.field === input.getAttribute("data-path"));
      input.setAttribute("aria-invalid", String(is));
    }
    if (found[0]) jump(found[0]);
  }

  /** @param {Fault} fault */
  function jump(fault) {
    if (asText) {
      const lines = text.value.split("\n");
      const row = Math.max(1, Math.min(fault.row ?? 1, lines.length));
      const start = lines.slice(0, row - 1).join("\n").length + (row > 1 ? 1 : 0);
      text.focus();
      text.setSelectionRange(start, start + lines[row - 1].length);
      return;
    }
    /** @type {HTMLElement | null} */ (body.querySelector(`[data-path="${CSS.escape(fault.field ?? "")}"]`))?.focus();
  }

  return show;
}

/** A key as people say it: width_mm -> width, mm. @param {string} key */
function spelled(key) {
  return key.replace(/_(mm2?|degc|percent|share|w|v|m3_per_h|w_per_k|w_per_m2|m)$/, (_, unit) =>
    `, ${/** @type {Record<string, string>} */ (UNITS)[unit] ?? unit}`).replaceAll("_", " ");
}

const UNITS = { mm2: "mm²", degc: "°C", share: "0 to 1", w: "W", v: "V", m3_per_h: "m³/h", w_per_k: "W/K", w_per_m2: "W/m²" };
