// @ts-check
/** The title block: what the plate amounts to, following the hand; and whether all is saved. */

/** @import { Store } from "../store.js" */
import { byId, el } from "../dom.js";
import { metres, percent } from "../state/lengths.js";

/** @param {Store} store */
export function mountBlock(store) {
  const cell = (/** @type {string} */ name) => {
    const value = el("output", {});
    const node = el("div", { class: "cell" }, el("span", { class: "label" }, name), value);
    return { node, value };
  };
  const cells = {
    placed: cell("Placed"), wire: cell("Wire"), fill: cell("Fullest duct"), used: cell("Plate used"),
    fails: cell("Break a limit"), saved: cell("Saved"),
  };
  const title = el("h1", {}, "Platewright");
  const number = el("p", { class: "label" });
  byId("block").append(el("div", { class: "cell name" }, title, number), ...Object.values(cells).map((c) => c.node));
  cells.fails.node.classList.add("fails");

  store.listen(({ job }) => {
    if (!job) return;
    title.textContent = job.title.title;
    title.title = job.title.title;
    number.textContent = [job.title.number, job.title.revision && `rev ${job.title.revision}`, job.title.owner].filter(Boolean).join(" · ");
    document.title = `${job.title.title} – plate`;
  }, "job");
  store.listen(({ checked, live, server, connected, dragging, layout }) => {
    if (!checked || !server) return;
    const { totals, counts } = checked;
    const current = checked.revision === server.revision && !dragging;
    const wire = live?.wires ? live.wires.cut : totals.wire_m * 1000;
    const change = live?.wires ? live.wires.cut - totals.wire_m * 1000 : 0;
    cells.placed.value.textContent = `${Object.keys(layout.devices).length} of ${totals.devices}`;
    cells.wire.value.textContent = metres(wire) + (Math.abs(change) >= 50 ? ` (${change > 0 ? "+" : "−"}${Math.abs(change / 1000).toFixed(1)})` : "");
    cells.wire.node.classList.toggle("live", Boolean(live?.wires));
    const fills = Object.values({ ...checked.fill, ...(live?.wires?.fill ?? {}) });
    cells.fill.value.textContent = percent(Math.max(0, ...fills));
    cells.used.value.textContent = percent(totals.plate_used);
    cells.fails.value.textContent = live ? `${live.clashes.length} in hand` : String(counts.FAIL);
    cells.fails.node.classList.toggle("bad", live ? live.clashes.length > 0 : counts.FAIL > 0);
    cells.saved.value.textContent = connected ? (current ? `step ${server.revision}` : dragging ? "in hand" : "checking…") : "no server";
    cells.saved.node.classList.toggle("bad", !connected);
    document.body.dataset.checked = String(checked.revision);
    document.body.dataset.settled = current ? "yes" : "no";
  }, "checked", "live", "server", "connected", "dragging", "layout");
}
