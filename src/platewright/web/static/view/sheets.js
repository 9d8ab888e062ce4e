// @ts-check
/** Every sheet as it will be printed, to look at, take away or print. */

/** @import { Store } from "../store.js" */
/** @import { Actions } from "../actions.js" */
import { get } from "../api.js";
import { el } from "../dom.js";

/** @param {Store} store @param {Actions} actions @param {HTMLElement} host */
export function mountSheets(store, actions, host) {
  let now = "";
  let revision = -1;
  const names = el("ul", { class: "names" });
  const lists = el("ul", { class: "names" });
  const view = el("div", { class: "leaves", tabindex: 0, role: "region", "aria-label": "Sheet" });
  const whole = el("p", { class: "row" },
    el("button", { class: "main", onclick: () => actions.download("package.pdf") }, "Whole package, PDF"),
    el("button", { onclick: () => actions.download("layout.dxf") }, "Layout, DXF"),
    el("button", { onclick: () => print() }, "Print what is shown"));
  host.append(
    el("nav", { class: "sheet-names", "aria-label": "Sheets" }, el("h2", {}, "Sheets"), whole, names, el("h3", {}, "Lists for a spreadsheet"), lists,
      el("p", { class: "safety" }, "Print at 100 %, without fitting to the page; then measure the check ruler.")),
    view);

  store.listen(({ stage, checked }) => {
    if (stage === "build" && checked && checked.revision !== revision) load();
  }, "stage", "checked");

  async function load() {
    try {
      const found = await get("sheets");
      revision = found.revision;
      now = found.sheets.some((/** @type {{ id: string }} */ s) => s.id === now) ? now : found.sheets[0]?.id ?? "";
      names.replaceChildren(...found.sheets.map((/** @type {{ id: string, title: string }} */ s) => el("li", {},
        el("button", { "data-sheet": s.id, onclick: () => show(s.id) }, s.title),
        el("button", { class: "round", "aria-label": `${s.title}: PDF`, title: "PDF", onclick: () => actions.download(`${s.id}.pdf`) }, "↓"))));
      lists.replaceChildren(...found.lists.map((/** @type {{ id: string, title: string }} */ s) => el("li", {},
        el("span", {}, s.title),
        el("button", { onclick: () => actions.download(`${s.id}.csv`), "aria-label": `${s.title}: CSV` }, "CSV"),
        el("button", { onclick: () => actions.download(`${s.id}.xlsx`), "aria-label": `${s.title}: XLSX` }, "XLSX"))));
      if (now) await show(now);
    } catch (error) {
      actions.say(error);
    }
  }

  /** @param {string} id */
  async function show(id) {
    now = id;
    for (const button of names.querySelectorAll("[data-sheet]")) {
      button.setAttribute("aria-pressed", String(button.getAttribute("data-sheet") === id));
    }
    /** @type {string[]} */
    const pages = await get(`sheets/${id}/pages`);
    if (id !== now) return; // another one was chosen meanwhile
    for (const old of view.querySelectorAll("img")) URL.revokeObjectURL(old.src);
    const title = names.querySelector(`[data-sheet="${id}"]`)?.textContent ?? id;
    view.replaceChildren(...pages.map((text, i) => el("img", {
      alt: `${title}, page ${i + 1} of ${pages.length}`,
      src: URL.createObjectURL(new Blob([text], { type: "image/svg+xml" })),
    })));
  }
}
