// @ts-check
/** A new duct or rail by typed size and place, while its tool is on; the same size is drawn by hand. */

/** @import { Store } from "../store.js" */
/** @import { Actions } from "../actions.js" */
import { byId, el } from "../dom.js";
import { shown, typed } from "../state/lengths.js";
import { round } from "../state/snap.js";
import { toPlate } from "../state/viewport.js";

const RAIL = 35; // mm wide, as every 35 mm rail (IEC 60715); only for where it is proposed

/** @param {Store} store @param {Actions} actions @param {{ picture: SVGSVGElement, size: () => { width: number, height: number } }} plate */
export function mountLay(store, actions, plate) {
  const host = byId("lay");
  const title = el("h2", {});
  const stock = el("select", { "aria-label": "Size of the new duct", onchange: () => store.set({ layStock: stock.value }) });
  const stockLabel = el("label", { class: "from" }, el("span", {}, "size"), stock);
  const run = el("select", { "aria-label": "Which way it runs" }, el("option", { value: "across" }, "across"), el("option", { value: "upright" }, "upright"));
  const field = (/** @type {string} */ words) => el("input", { inputmode: "decimal", autocomplete: "off", "aria-label": words });
  const x = field("Left end or edge, from the left edge of the plate");
  const y = field("Lower end or edge, from the lower edge of the plate");
  const length = field("Length of the new piece");
  const unit = el("span", { class: "dim" });
  const what = el("p", { class: "dim" });
  const form = el("form", { class: "position" },
    el("label", {}, el("span", {}, "runs"), run), stockLabel,
    el("label", {}, el("span", {}, "x"), x), el("label", {}, el("span", {}, "y"), y),
    el("label", {}, el("span", {}, "length"), length), unit, el("button", { class: "main" }, "Lay it"));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    lay();
  });
  host.append(title, what, form);

  async function lay() {
    const { job, tool, layout } = store.state;
    if (!job) return;
    const values = [x, y, length].map((input) => typed(input.value, job.unit));
    values.forEach((value, i) => [x, y, length][i].setAttribute("aria-invalid", String(value === null)));
    const [left, bottom, long] = values;
    if (left === null || bottom === null || long === null) {
      actions.note(`Write a number such as 12.5 or 1-3/8, in ${job.unit.name}`, "trouble");
      return;
    }
    const place = { x: round(left), y: round(bottom), length: round(long), run: run.value };
    const answer = await actions.edit(tool === "duct" ? { do: "add-duct", ...place, stock: stock.value } : { do: "add-rail", ...place });
    if (!answer) return;
    const fresh = [...Object.keys(answer.state.layout.ducts), ...Object.keys(answer.state.layout.rails)]
      .find((tag) => !(tag in layout.ducts) && !(tag in layout.rails));
    store.set({ tool: "hand", chosen: fresh ? [fresh] : [] });
    plate.picture.focus();
  }

  store.listen(({ job, tool, view, layStock }) => {
    const laying = tool === "duct" || tool === "rail";
    host.hidden = !job || !laying;
    if (!job || !laying) return;
    const isDuct = tool === "duct";
    title.textContent = isDuct ? "New duct" : "New rail";
    what.textContent = `Draw it on the plate, or type where it lies${isDuct ? "" : " (x, y: its left or lower end, on its middle line)"}.`;
    stockLabel.hidden = !isDuct;
    stock.replaceChildren(...job.stock.map((s) => el("option", { value: s.name }, s.name)));
    stock.value = layStock || job.stock[Math.min(1, job.stock.length - 1)]?.name || "";
    unit.textContent = job.unit.name;
    if (host.dataset.tool === tool) return;
    host.dataset.tool = tool;
    const { width, height } = plate.size();
    const middle = toPlate(view, { x: width / 2, y: height / 2 }, job.plate.height);
    const { margin } = job.plate;
    x.value = shown(margin, job.unit);
    y.value = shown(Math.round(Math.min(Math.max(middle.y, margin), job.plate.height - margin - RAIL)), job.unit);
    length.value = shown(job.plate.width - 2 * margin, job.unit);
  }, "tool", "job", "layStock");
  store.listen(({ tool }) => {
    if (tool === "duct" || tool === "rail") store.set({ tool: "hand" });
  }, "stage");
  store.listen(({ tool }) => {
    if (tool === "hand" || tool === "box") delete host.dataset.tool;
  }, "tool");

  /** By key: take the tool, and begin to type. @param {"duct" | "rail"} tool */
  return (tool) => {
    store.set({ tool });
    run.focus();
  };
}
