// @ts-check
/** What gives off heat, hottest first. All figures are the server's. */

/** @import { Store } from "../store.js" */
import { get } from "../api.js";
import { el } from "../dom.js";

/** @param {Store} store @param {HTMLElement} host */
export function mountHeat(store, host) {
  const sum = el("p", { class: "sum" });
  const list = el("ul", { class: "heat" });
  const found = el("ul", { class: "heat-findings" });
  host.append(el("h2", {}, "Heat"), sum, found, el("h3", {}, "Hottest first"), list,
    el("p", { class: "safety" }, "The dotted frames on the plate are the clear space each device asks for; dashed where it is assumed."));

  store.listen(async ({ stage, checked }) => {
    if (stage !== "warm" || !checked) return;
    /** @type {{ rows: { tag: string, what: string, heat: number | null, limit: number | null }[], sum: number, unknown: number }} */
    const heat = await get("heat");
    const most = Math.max(1, ...heat.rows.map((row) => row.heat ?? 0));
    sum.textContent = `${heat.sum.toFixed(0)} W in all${heat.unknown ? `; ${heat.unknown} devices don’t state theirs` : ""}.`;
    const about = checked.findings.filter((f) => f.rule.startsWith("heat.") || f.rule === "data.heat");
    found.replaceChildren(...about.map((f) => el("li", { class: `finding ${f.verdict}` }, el("b", {}, `${f.verdict} `), `${f.message} `, f.cure)));
    list.replaceChildren(...heat.rows.map((row) => {
      const bar = el("span", { class: "meter warm" }, el("span", {}));
      /** @type {HTMLElement} */ (bar.firstChild).style.width = `${(100 * (row.heat ?? 0)) / most}%`;
      return el("li", {}, el("button", { onclick: () => store.set({ chosen: [row.tag] }) },
        el("b", {}, row.tag), el("span", { class: "dim" }, row.what), bar,
        el("span", {}, row.heat === null ? "not stated" : `${row.heat} W`)));
    }));
  }, "stage", "checked");
}
