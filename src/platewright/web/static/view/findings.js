// @ts-check
/** The list of findings: numbered as the balloons are, worst first, each with what cures it. */

/** @import { Store } from "../store.js" */
/** @import { Actions } from "../actions.js" */
/** @import { Finding, Verdict } from "../types.js" */
import { el } from "../dom.js";
import { get } from "../api.js";
import { grouped } from "../state/findings.js";

/** @type {Record<string, string>} */
const COUNTED = { FAIL: "break a limit", CAUTION: "fall short", UNDECIDED: "lack a datum", PASS: "pass" };
/** @type {Record<string, string>} */
export const MEANING = {
  FAIL: "breaks a limit", CAUTION: "short of good practice", UNDECIDED: "a datum is missing", PASS: "within its limit",
};

const MOST = 200; // alike findings listed

/** @param {Store} store @param {Actions} actions @param {HTMLElement} host */
export function mountFindings(store, actions, host) {
  const counts = el("p", { class: "counts" });
  const list = el("ol", { class: "findings", "aria-live": "polite", "aria-relevant": "additions" });
  const passed = el("details", { class: "passed" }, el("summary", {}, "What is within its limits"));
  const evidence = el("ul", {});
  passed.append(evidence);
  passed.addEventListener("toggle", async () => {
    if (!passed.open) return;
    /** @type {Finding[]} */
    const found = await get("passed");
    evidence.replaceChildren(...found.slice(0, 400).map((f) => el("li", {}, el("b", {}, `${f.subject} `), f.message)));
  });
  host.append(el("h2", {}, "Findings"), counts, list, passed,
    el("p", { class: "safety" }, "Drafting aid, not an approval: device instructions, local code and a qualified person decide."));

  store.listen(({ checked, finding }) => {
    if (!checked) return;
    counts.replaceChildren(...(/** @type {Verdict[]} */ (["FAIL", "CAUTION", "UNDECIDED", "PASS"])).map((verdict) =>
      el("span", { class: `count ${verdict}` }, el("b", {}, String(checked.counts[verdict])), ` ${COUNTED[verdict]}`)));
    const open = new Set([...list.querySelectorAll("details[open]")].map((d) => d.getAttribute("data-key")));
    const items = grouped(checked.findings).map((group) => {
      if (group.items.length === 1) return el("li", {}, line(group.items[0], finding));
      const holds = group.items.some((f) => f.number === finding) || open.has(group.key);
      const inside = el("ol", {});
      const fill = () => {
        if (!inside.childElementCount) inside.append(...group.items.slice(0, MOST).map((f) => el("li", {}, line(f, store.state.finding))));
      };
      if (holds) fill();
      return el("li", {}, el("details", { class: `alike ${group.verdict}`, "data-key": group.key, open: holds, ontoggle: fill },
        el("summary", {}, el("span", { class: `number ${group.verdict}` }, `${group.items.length}×`), ` ${group.title}`), inside));
    });
    list.replaceChildren(...items);
    if (!items.length) list.append(el("li", { class: "none" }, "Nothing to find fault with."));
    list.querySelector(".finding.chosen")?.scrollIntoView({ block: "nearest" });
  }, "checked", "finding", "cure");

  /** @param {Finding} f @param {number | null} chosen */
  function line(f, chosen) {
    const is = f.number === chosen;
    const head = el("button", {
      class: "finding-head", "aria-expanded": String(is), "data-number": f.number,
      onclick: () => choose(f, is),
    }, el("span", { class: `number ${f.verdict}` }, String(f.number)),
    el("span", { class: "say" }, el("b", {}, `${f.headline}. `), f.message));
    const node = el("div", { class: `finding ${f.verdict}${is ? " chosen" : ""}` }, head);
    if (!is) return node;
    node.append(el("div", { class: "more" },
      f.cure && el("p", {}, el("b", {}, "Cure: "), f.cure),
      cureOf(f),
      el("p", {}, el("b", {}, "By: "), f.source),
      el("p", { class: "why" }, f.why),
      el("p", { class: "verdict" }, `${f.verdict}: ${MEANING[f.verdict]}`)));
    return node;
  }

  /** What the server has tried and found to cure it, as a button. @param {Finding} f */
  function cureOf(f) {
    const { cure, checked } = store.state;
    const known = cure && cure.number === f.number && cure.revision === checked?.revision ? cure : null;
    if (!known) return el("p", { class: "dim", role: "status" }, "Trying moves, swaps and other sizes…");
    if (!known.words) return el("p", { class: "dim" }, "No move, swap or other size was found that cures it and breaks nothing else.");
    const [was, will] = known.fails ?? [0, 0];
    return el("div", { class: "do-it" },
      el("button", { class: "main", onclick: actions.doCure }, `Do it: ${known.words}`),
      el("p", { class: "dim" }, `Tried: this finding goes; ${will} then break a limit${was === will ? "" : `, ${was} do now`}.`));
  }

  store.listen(({ finding, checked, cure }) => {
    if (finding === null || !checked) return;
    if (cure?.number !== finding || cure.revision !== checked.revision) actions.findCure();
  }, "finding", "checked");

  /** @param {Finding} f @param {boolean} is */
  function choose(f, is) {
    const { layout } = store.state;
    const stands = f.subject in layout.devices || f.subject in layout.ducts || f.subject in layout.rails;
    store.set({ finding: is ? null : f.number, chosen: !is && stands ? [f.subject] : store.state.chosen });
    /** @type {HTMLElement | null} */ (host.querySelector(`[data-number="${f.number}"]`))?.focus();
  }
}
