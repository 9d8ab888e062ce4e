// @ts-check
/** The ticket of what is chosen: what it is, where it stands from any datum edge, what to do with it. */

/** @import { Store } from "../store.js" */
/** @import { Actions } from "../actions.js" */
/** @import { Box } from "../types.js" */
import { byId, el } from "../dom.js";
import { shown, typed } from "../state/lengths.js";
import { around, bodyOf, placeOf, spoken } from "../state/things.js";
import { round } from "../state/snap.js";

const DATUMS = /** @type {const} */ ([
  ["left bottom", "left, lower edge"], ["right bottom", "right, lower edge"],
  ["left top", "left, upper edge"], ["right top", "right, upper edge"],
]);

/** @param {Store} store @param {Actions} actions */
export function mountTicket(store, actions) {
  const host = byId("ticket");
  const name = el("h2", {});
  const what = el("p", { class: "dim" });
  const x = el("input", { inputmode: "decimal", autocomplete: "off", "aria-label": "Measured from the side edge" });
  const y = el("input", { inputmode: "decimal", autocomplete: "off", "aria-label": "Measured from the lower or upper edge" });
  const datum = el("select", { "aria-label": "Measured from which edges of the plate" },
    ...DATUMS.map(([value, words]) => el("option", { value }, words)));
  datum.addEventListener("change", () => store.set({ datum: datum.value }));
  const unit = el("span", { class: "dim" });
  const form = el("form", { class: "position" },
    el("label", {}, el("span", {}, "x"), x), el("label", {}, el("span", {}, "y"), y), unit,
    el("label", { class: "from" }, el("span", {}, "from"), datum), el("button", {}, "Put there"));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    putThere();
  });
  const length = el("input", { inputmode: "decimal", autocomplete: "off", "aria-label": "Length of the piece" });
  const hold = el("select", { "aria-label": "Which end stays" });
  const cut = el("form", { class: "position cut" }, el("label", {}, el("span", {}, "length"), length),
    el("label", { class: "from" }, el("span", {}, "stays"), hold), el("button", {}, "Cut to it"));
  cut.addEventListener("submit", (event) => {
    event.preventDefault();
    cutIt();
  });
  const stock = el("select", { "aria-label": "Duct size", onchange: () => actions.edit({ do: "restock", tag: store.state.chosen[0], stock: stock.value }) });
  const stockLabel = el("label", { class: "from" }, el("span", {}, "size"), stock);
  const button = (/** @type {string} */ text, /** @type {() => unknown} */ does, /** @type {string} */ kind = "") =>
    el("button", { type: "button", class: kind, onclick: does }, text);
  const lock = button("Lock", actions.toggleLock);
  const one = [lock, button("Row", actions.chooseRow), button("Take off", actions.takeOff, "away")];
  const many = [
    button("Swap", actions.swap), button("Lefts", () => actions.align("left")), button("Tops", () => actions.align("top")),
    button("Bottoms", () => actions.align("bottom")), button("Rail line", () => actions.align("axis")),
    button("Space evenly →", () => actions.space("x")), button("Space evenly ↑", () => actions.space("y")),
  ];
  const alone = el("div", { class: "alone" }, form, cut, stockLabel);
  const together = el("div", { class: "together", role: "group", "aria-label": "Bring into line" }, ...many);
  host.append(el("div", { class: "who" }, name, what), alone, together, el("div", { class: "all" }, ...one));

  /** @returns {Box | null} */
  function body() {
    const { job, layout, chosen } = store.state;
    return job ? around(chosen.flatMap((tag) => {
      const box = bodyOf(job, layout, tag);
      return box ? [box] : [];
    })) : null;
  }

  function putThere() {
    const { job, chosen, layout, datum: from } = store.state;
    const box = body();
    const at = chosen.length === 1 ? placeOf(layout, chosen[0]) : null;
    if (!job || !box || !at) return;
    const values = [typed(x.value, job.unit), typed(y.value, job.unit)];
    values.forEach((value, i) => [x, y][i].setAttribute("aria-invalid", String(value === null)));
    const [across, upright] = values;
    if (across === null || upright === null) {
      actions.note(`Write a number such as 12.5 or 1-3/8, in ${job.unit.name}`, "trouble");
      return;
    }
    const left = from.startsWith("left") ? across : job.plate.width - across - (box[2] - box[0]);
    const bottom = from.endsWith("bottom") ? upright : job.plate.height - upright - (box[3] - box[1]);
    actions.put(chosen[0], round(left + at.x - box[0]), round(bottom + at.y - box[1]));
  }

  function cutIt() {
    const { job, chosen, layout } = store.state;
    const piece = layout.ducts[chosen[0]] ?? layout.rails[chosen[0]];
    const long = job && typed(length.value, job.unit);
    length.setAttribute("aria-invalid", String(long === null));
    if (!job || !piece) return;
    if (long === null) return actions.note(`Write a number such as 12.5 or 1-3/8, in ${job.unit.name}`, "trouble");
    const low = piece.run === "across" ? piece.x : piece.y;
    const high = low + piece.length;
    const middle = (low + high) / 2;
    const [start, end] = { first: [low, low + long], last: [high - long, high], middle: [middle - long / 2, middle + long / 2] }[hold.value] ?? [low, high];
    actions.edit({ do: "stretch", tag: chosen[0], start: round(start), end: round(end) });
    return undefined;
  }

  store.listen((state) => {
    const { job, layout, chosen } = state;
    const box = body();
    host.hidden = !job || !box;
    if (!job || !box) return;
    const single = chosen.length === 1;
    name.textContent = single ? chosen[0] : `${chosen.length} things`;
    what.textContent = single ? spoken(state, chosen[0]).slice(chosen[0].length + 1) : chosen.slice(0, 8).join(" ");
    alone.hidden = !single;
    together.hidden = single;
    const duct = single ? layout.ducts[chosen[0]] : null;
    stockLabel.hidden = !duct;
    const piece = single ? layout.ducts[chosen[0]] ?? layout.rails[chosen[0]] : null;
    cut.hidden = !piece;
    if (piece) {
      const was = hold.value || "first";
      const ends = piece.run === "across" ? ["left end", "right end"] : ["lower end", "upper end"];
      hold.replaceChildren(el("option", { value: "first" }, ends[0]), el("option", { value: "last" }, ends[1]), el("option", { value: "middle" }, "middle"));
      hold.value = was;
      if (document.activeElement !== length) length.value = shown(piece.length, job.unit);
      for (const part of [length, hold, stock, cut.querySelector("button")]) if (part) part.disabled = piece.locked;
    }
    if (duct) {
      stock.replaceChildren(...job.stock.map((s) => el("option", { value: s.name }, s.name)));
      stock.value = duct.stock;
    }
    const locked = chosen.every((tag) => placeOf(layout, tag)?.locked);
    lock.textContent = locked ? "Unlock" : "Lock";
    lock.setAttribute("aria-pressed", String(locked));
    for (const field of [x, y, form.querySelector("button")]) if (field) field.disabled = locked;
    unit.textContent = job.unit.name;
    datum.value = state.datum;
    const left = state.datum.startsWith("left") ? box[0] : job.plate.width - box[2];
    const bottom = state.datum.endsWith("bottom") ? box[1] : job.plate.height - box[3];
    if (document.activeElement !== x) x.value = shown(left, job.unit);
    if (document.activeElement !== y) y.value = shown(bottom, job.unit);
  }, "chosen", "layout", "job", "datum");
}
