// @ts-check
/** Ducts, rails, devices and holes: keyed nodes, changed in place, never rebuilt. */

/** @import { Store } from "../store.js" */
/** @import { Duct, Rail, Placed, Hole, Device, Job, Layout } from "../types.js" */
import { keyed, set, svg } from "../dom.js";
import { flip } from "../state/viewport.js";
import { shown, percent } from "../state/lengths.js";
import { isIdleMark } from "../state/marks.js";
import { spoken } from "../state/things.js";

/** @param {Store} store @param {(name: string) => SVGGElement} layer */
export function mountThings(store, layer) {
  const groups = {
    ducts: layer("ducts"), rails: layer("rails"), wires: layer("wires"), devices: layer("devices"),
    holes: layer("holes"), ghost: layer("ghost"),
  };
  /** @type {Record<string, Map<string, Element>>} */
  const kept = { ducts: new Map(), rails: new Map(), devices: new Map(), holes: new Map(), ghost: new Map() };

  function draw() {
    const { job, layout, ghost, beside } = store.state;
    if (!job) return;
    const height = job.plate.height;
    keyed(groups.ducts, kept.ducts, Object.entries(layout.ducts), makeThing, (node, duct) =>
      drawDuct(node, duct, height));
    keyed(groups.rails, kept.rails, Object.entries(layout.rails), makeThing, (node, rail) =>
      drawRail(node, rail, height));
    const devices = Object.entries(layout.devices).filter(([tag]) => tag in job.devices);
    keyed(groups.devices, kept.devices, devices, makeThing, (node, at, tag) =>
      drawDevice(node, at, job, tag));
    keyed(groups.holes, kept.holes, Object.entries(layout.holes), makeHole, (node, hole) =>
      drawHole(node, hole, height));
    drawGhost(beside ? null : ghost, job);
    speak();
    choose();
  }

  /** The plan's best plate over the one that stands. @param {Layout | null} ghost @param {Job} job */
  function drawGhost(ghost, job) {
    const entries = Object.entries(ghost?.devices ?? {}).filter(([tag]) => tag in job.devices);
    keyed(groups.ghost, kept.ghost, entries, (tag) => svg("rect", { class: "ghost-device", "data-ghost": tag }), (node, at, tag) => {
      const device = job.devices[tag];
      set(node, { x: at.x, y: flip(at.y + device.height, job.plate.height), width: device.width, height: device.height });
    });
    groups.devices.classList.toggle("behind", Boolean(ghost));
  }

  function speak() {
    const { state } = store;
    if (!state.job) return;
    const { unit } = state.job;
    for (const part of /** @type {const} */ (["ducts", "rails", "devices"])) {
      for (const [tag, node] of kept[part]) {
        const at = state.layout[part][tag];
        if (!at) continue;
        const locked = at.locked ? ", locked" : "";
        const fill = node.querySelector(".fill")?.textContent ?? "";
        node.setAttribute("aria-label",
          `${spoken(state, tag).replace(tag, tag + fill)} at ${shown(at.x, unit)}, ${shown(at.y, unit)}${locked}`);
      }
    }
  }

  function choose() {
    const { chosen, stage } = store.state;
    const now = new Set(chosen);
    for (const part of ["ducts", "rails", "devices"]) {
      for (const [tag, node] of kept[part]) {
        const is = now.has(tag);
        if (node.classList.contains("chosen") !== is || !node.hasAttribute("aria-pressed")) {
          node.classList.toggle("chosen", is);
          node.setAttribute("aria-pressed", String(is));
        }
      }
    }
    groups.holes.classList.toggle("live", stage === "drill");
  }

  function wires() {
    const { wires: all, wire, job } = store.state;
    if (!job) return;
    const height = job.plate.height;
    groups.wires.replaceChildren(...all.filter((w) => w.path.length).map((w) => {
      const points = w.path.map(([x, y]) => `${x},${flip(y, height)}`).join(" ");
      const group = job.groups.findIndex((g) => g.name === w.group);
      return svg("polyline", {
        class: `wire group-${group % 6}${w.number === wire ? " chosen" : ""}`, points, "data-wire": w.number,
      });
    }));
    const on = groups.wires.querySelector(".chosen");
    if (on) groups.wires.append(on);
    groups.wires.classList.toggle("one", Boolean(wire));
  }

  function fills() {
    const { checked, live } = store.state;
    for (const [tag, node] of kept.ducts) {
      const fill = live?.wires?.fill[tag] ?? checked?.fill[tag];
      const text = node.querySelector(".fill");
      if (text) text.textContent = fill === undefined ? "" : ` ${percent(fill)}`;
    }
    if (!live) speak();
  }

  store.listen(draw, "job", "layout", "ghost", "beside");
  store.listen(choose, "chosen", "stage");
  store.listen(wires, "wires", "wire", "job");
  store.listen(fills, "checked", "live", "layout");

  return {
    /** Show things shifted without touching the state: while the hand moves. @param {string[]} tags @param {number} dx @param {number} dy plate mm */
    shift(tags, dx, dy) {
      for (const tag of tags) {
        const node = kept.devices.get(tag) ?? kept.ducts.get(tag) ?? kept.rails.get(tag);
        node?.setAttribute("transform", `translate(${dx} ${-dy})`);
        node?.classList.add("in-hand");
      }
    },
    /** @param {string[]} tags */
    still(tags) {
      for (const tag of tags) {
        const node = kept.devices.get(tag) ?? kept.ducts.get(tag) ?? kept.rails.get(tag);
        node?.removeAttribute("transform");
        node?.classList.remove("in-hand");
      }
    },
    /** @param {string} tag */
    node: (tag) => kept.devices.get(tag) ?? kept.ducts.get(tag) ?? kept.rails.get(tag) ?? null,
  };
}

/** @param {string} tag */
export function makeThing(tag) {
  return svg("g", { class: "thing", "data-tag": tag, tabindex: -1, role: "button" });
}

/** Draw once per form: nothing is done when nothing of it changed. @param {Element} node @param {unknown} form @param {() => (Node | false)[]} make */
function once(node, form, make) {
  const sign = JSON.stringify(form);
  const known = /** @type {Element & { form?: string }} */ (node);
  if (known.form === sign) return;
  known.form = sign;
  node.replaceChildren(...make().filter((child) => child !== false));
}

/** @param {Element} node @param {Duct} duct @param {number} height */
export function drawDuct(node, duct, height) {
  node.classList.toggle("locked", duct.locked);
  once(node, [duct, height], () => {
    const [left, bottom, right, top] = duct.box;
    const y = flip(top, height);
    const across = duct.run === "across";
    const size = Math.min(24, duct.width * 0.5);
    const [cx, cy] = [(left + right) / 2, y + (top - bottom) / 2];
    const label = svg("text", {
      class: "duct-tag", x: cx, y: cy, "text-anchor": "middle", "dominant-baseline": "central",
      transform: across ? null : `rotate(-90 ${cx} ${cy})`,
    }, svg("tspan", {}, String(node.getAttribute("data-tag") ?? node.getAttribute("data-beside"))), svg("tspan", { class: "fill" }));
    label.style.fontSize = `${size}px`;
    return [
      svg("rect", { class: "duct", x: left, y, width: right - left, height: top - bottom }),
      svg("path", { class: "slots", d: slots(left, y, right - left, top - bottom, across) }),
      label,
      duct.locked && padlock(left + 4, y + 4),
    ];
  });
}

/** The open fingers along both walls of a duct. @param {number} x @param {number} y @param {number} w @param {number} h @param {boolean} across */
function slots(x, y, w, h, across) {
  const deep = Math.min(across ? h : w, 40) * 0.16;
  let d = "";
  for (let at = 6; at < (across ? w : h) - 3; at += 8) {
    d += across
      ? `M${x + at} ${y}v${deep}M${x + at} ${y + h}v${-deep}`
      : `M${x} ${y + at}h${deep}M${x + w} ${y + at}h${-deep}`;
  }
  return d;
}

/** @param {Element} node @param {Rail} rail @param {number} height */
export function drawRail(node, rail, height) {
  node.classList.toggle("locked", rail.locked);
  once(node, [rail, height], () => {
    const [left, bottom, right, top] = rail.box;
    const y = flip(top, height);
    const across = rail.run === "across";
    const [w, h] = [right - left, top - bottom];
    const lip = (across ? h : w) * 0.13;
    const axis = across
      ? `M${left - 8} ${y + h / 2}H${right + 8}`
      : `M${left + w / 2} ${y - 8}V${y + h + 8}`;
    const lips = across
      ? `M${left} ${y + lip}H${right}M${left} ${y + h - lip}H${right}`
      : `M${left + lip} ${y}V${y + h}M${left + w - lip} ${y}V${y + h}`;
    return [
      svg("rect", { class: "rail", x: left, y, width: w, height: h }),
      svg("path", { class: "lips", d: lips }),
      svg("path", { class: "axis", d: axis }),
      rail.locked && padlock(left + 4, y + 4),
    ];
  });
}

/** @param {Element} node @param {Placed} at @param {Job} job @param {string} tag */
export function drawDevice(node, at, job, tag) {
  const device = job.devices[tag];
  node.classList.toggle("locked", at.locked);
  once(node, [at, device, job.plate.height], () => {
    const { width: w, height: h } = device;
    const [x, y] = [at.x, flip(at.y + h, job.plate.height)];
    const [left, bottom, right, top] = device.covers;
    const covered = left || bottom || right || top;
    const group = job.groups.findIndex((g) => g.name === device.group[0]);
    const stripe = Math.min(5, h * 0.09);
    return [
      Boolean(covered) && svg("rect", {
        class: "cover", x: x - left, y: y - top, width: w + left + right, height: h + top + bottom,
      }),
      svg("rect", { class: "body", x, y, width: w, height: h }),
      group >= 0 && svg("rect", { class: `stripe group-${group % 6}`, x, y, width: w, height: stripe }),
      ...lettering(tag, device, x, y),
      at.locked && padlock(x + w - 11, y + stripe + 2),
    ];
  });
}

/** Tag, and what it is where there is room. @param {string} tag @param {Device} device @param {number} x @param {number} y */
function lettering(tag, device, x, y) {
  const { width: w, height: h } = device;
  const wide = 0.6 * tag.length;
  const level = Math.min(28, h * 0.42, (w - 5) / wide);
  const turned = Math.min(28, w * 0.78, (h - 8) / wide);
  const isTurned = level < 12 && turned > level;
  const size = isTurned ? turned : level;
  const [cx, cy] = [x + w / 2, y + h / 2];
  const label = svg("text", {
    class: "tag", x: cx, y: cy, "text-anchor": "middle", "dominant-baseline": "central",
    transform: isTurned ? `rotate(-90 ${cx} ${cy})` : null,
  }, tag);
  label.style.fontSize = `${size}px`;
  if (isTurned || h < 60 || w < 60) return [label];
  const words = svg("text", { class: "what", x: cx, y: cy + size * 1.1, "text-anchor": "middle" });
  words.textContent = ` ${shortened(device.what, Math.floor((w - 6) / (7.5 * 0.5)))}`;
  words.style.fontSize = "7.5px";
  return [label, words];
}

/** Whole words, as many as there is room for. @param {string} words @param {number} room letters */
function shortened(words, room) {
  if (words.length <= room) return words;
  const cut = words.slice(0, room + 1);
  return cut.slice(0, Math.max(cut.lastIndexOf(" "), 0));
}

/** @param {number} x @param {number} y */
function padlock(x, y) {
  return svg("path", { class: "padlock", d: `M${x} ${y + 4}h8v6h-8zM${x + 1.5} ${y + 4}v-1.5a2.5 2.5 0 0 1 5 0v1.5` });
}

/** @param {string} tag */
function makeHole(tag) {
  return svg("g", { class: "hole", "data-hole": tag }, svg("title", {}, tag));
}

/** @param {Element} node @param {Hole} hole @param {number} height */
function drawHole(node, hole, height) {
  set(node, { class: `hole ${hole.state}${hole.holds ? "" : " idle"}` });
  once(node, [hole, height], () => {
    const [x, y, r] = [hole.x, flip(hole.y, height), Math.max(hole.drill / 2, 1.5)];
    return [
      svg("title", {}, `${node.getAttribute("data-hole")}: ${hole.size}, ${isIdleMark(hole) ? "a mark to wipe off, not to drill" : `drill ${hole.drill}, ${hole.state}, ${hole.holds ? `holds ${hole.holds}` : "left over"}`}`),
      svg("circle", { cx: x, cy: y, r }),
      svg("path", { class: "cross", d: `M${x - r * 2} ${y}h${r * 4}M${x} ${y - r * 2}v${r * 4}` }),
    ];
  });
}
