// @ts-check
/** Plan the rest, polish, or plan anew: progress, the best plate so far over the one that stands, take or leave. */

/** @import { Store } from "../store.js" */
/** @import { Actions } from "../actions.js" */
/** @import { Candidate } from "../types.js" */
import { byId, el } from "../dom.js";
import { percent } from "../state/lengths.js";

const WAYS = [
  ["rest", "Plan the rest", "What stands, stays. Devices in the tray find a place."],
  ["polish", "Polish", "Goes on from what stands, and offers only a better plate."],
  ["anew", "Plan anew", "All may move but what is locked or drilled."],
];

/** @param {Store} store @param {Actions} actions */
export function mountPlan(store, actions) {
  const host = byId("plan");
  let open = false;
  const choice = el("div", { class: "ways" }, ...WAYS.map(([how, name, words]) =>
    el("button", { "data-how": how, onclick: () => actions.plan(how) }, el("b", {}, name), el("span", {}, words))));
  const bar = el("progress", { max: 1, value: 0, "aria-label": "Progress of the plan" });
  const text = el("p", { class: "dim" });
  const table = el("div", {});
  const stop = el("button", { onclick: () => actions.step("plan/stop", {}) }, "Stop");
  const take = el("button", { class: "main", onclick: takeIt }, "Take it");
  const leave = el("button", { onclick: () => actions.step("plan/drop", {}) }, "Leave as it was");
  const running = el("div", {}, bar, text, table, el("p", { class: "row" }, stop, take, leave));
  const close = el("button", { class: "round", "aria-label": "Close the plan", onclick: () => show(false) }, "×");
  host.append(el("header", {}, el("h2", {}, "Plan"), close), choice, running);

  async function takeIt() {
    await actions.step("plan/take", {});
    show(false);
  }

  /** @param {boolean} now */
  function show(now) {
    open = now;
    host.hidden = !(open || store.state.plan);
    if (open) /** @type {HTMLElement | null} */ (choice.querySelector("button"))?.focus();
  }

  store.listen(({ plan }) => {
    host.hidden = !(open || plan);
    choice.hidden = Boolean(plan);
    running.hidden = !plan;
    if (!plan) return;
    bar.value = plan.share;
    bar.hidden = plan.ended;
    text.textContent = plan.problem || (plan.ended ? "Ended." : plan.text);
    stop.hidden = plan.ended;
    take.hidden = !plan.best;
    leave.textContent = plan.best ? "Leave as it was" : "Close";
    table.replaceChildren(...(plan.best ? [compared(plan.before, plan.best, plan.differences)] : []),
      ...plan.cures.map((cure) => el("p", {}, el("b", {}, "Cure: "), cure)));
  }, "plan");
  return () => {
    if (!["place", "wire", "warm", "drill"].includes(store.state.stage)) store.set({ stage: "place" });
    show(host.hidden);
  };
}

/** @param {Candidate} before @param {Candidate} best @param {Record<string, string>} differences */
function compared(before, best, differences) {
  /** @type {[string, (c: Candidate) => string][]} */
  const rows = [
    ["break a limit", (c) => String(c.counts.FAIL)], ["fall short", (c) => String(c.counts.CAUTION)],
    ["placed", (c) => `${c.totals.placed} of ${c.totals.devices}`], ["wire", (c) => `${c.totals.wire_m} m`],
    ["plate used", (c) => percent(c.totals.plate_used)], ["fullest duct", (c) => percent(c.totals.highest_fill)],
    ["duct", (c) => `${c.totals.duct_m} m`], ["holes", (c) => String(c.totals.holes)],
  ];
  return el("div", {},
    el("table", { class: "compare" },
      el("thead", {}, el("tr", {}, el("th", { scope: "col" }, "Compared"), el("th", { scope: "col" }, "as it stands"), el("th", { scope: "col" }, "best so far"))),
      el("tbody", {}, ...rows.map(([name, of]) => el("tr", {}, el("th", { scope: "row" }, name), el("td", {}, of(before)), el("td", {}, of(best)))))),
    el("p", { class: "dim" }, Object.entries(differences).map(([what, count]) => `${what}: ${count}`).join(" · ")));
}
