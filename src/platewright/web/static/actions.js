// @ts-check
/** What a hand can do, by mouse, touch or key: every edit goes to the server, which saves it at once. */

/** @import { Store } from "./store.js" */
/** @import { Shift, Plan, Checked, Compared } from "./types.js" */
import { client, get, getFile, post, Refused } from "./api.js";
import { told, withWords } from "./store.js";
import { placeOf } from "./state/things.js";

/** @typedef {ReturnType<typeof makeActions>} Actions */

/** @param {Store} store @param {(text: string, kind?: string) => void} note */
export function makeActions(store, note) {
  /** Ask; take over the answer; say what went wrong. @param {string} path @param {object} body @returns {Promise<any>} */
  async function step(path, body) {
    try {
      const answer = await post(path, { ...body, client });
      if (answer.state) store.set(told(store.state, answer.state));
      for (const text of answer.notes ?? []) note(text);
      return answer;
    } catch (error) {
      say(error);
      if (store.state.server) store.set({ layout: store.state.server.layout });
      return null;
    }
  }

  /** @param {unknown} error */
  function say(error) {
    if (!(error instanceof Refused)) throw error;
    note(error.message, "trouble");
  }

  /** @param {object} edit */
  const edit = (edit) => step("edit", { edit });

  return {
    edit, step, say, note,
    undo: () => step("undo", {}),
    redo: () => step("redo", {}),
    putBack: () => step("put-back", {}),
    readNotices: () => step("read-notices", {}),
    /** @param {Shift} shift */
    move: (shift) => edit({ do: "move", ...shift }),
    /** @param {string} tag @param {number} x @param {number} y */
    put: (tag, x, y) => edit({ do: "put", tag, x, y }),
    takeOff() {
      const { chosen } = store.state;
      return chosen.length ? edit({ do: "take-off", tags: chosen }) : null;
    },
    toggleLock() {
      const { chosen, layout } = store.state;
      if (!chosen.length) return null;
      const locked = chosen.every((tag) => placeOf(layout, tag)?.locked);
      return edit({ do: "lock", tags: chosen, locked: !locked });
    },
    swap() {
      const [one, other] = store.state.chosen;
      return other ? edit({ do: "swap", one, other }) : note("Choose two devices, then swap them");
    },
    /** @param {string} edge */
    align: (edge) => edit({ do: "align", tags: store.state.chosen, edge }),
    /** @param {string} along */
    space: (along) => edit({ do: "space", tags: store.state.chosen, along }),
    chooseRow() {
      const { chosen, checked } = store.state;
      const rows = (checked?.rows ?? []).filter((row) => row.tags.some((tag) => chosen.includes(tag)));
      if (!rows.length) return note("Choose a device of the row first");
      store.set({ chosen: [...new Set([...chosen, ...rows.flatMap((row) => row.tags)])] });
      return null;
    },
    /** Ask the server for steps that cure the chosen finding. */
    async findCure() {
      const { finding, checked } = store.state;
      if (finding === null || !checked) return;
      const { revision } = checked;
      try {
        const found = await post("cure", { revision, number: finding, client });
        const now = store.state;
        if (now.finding === finding && now.checked?.revision === revision) store.set({ cure: { revision, number: finding, ...found } });
      } catch (error) {
        say(error);
      }
    },
    doCure() {
      const { cure } = store.state;
      return cure ? step("cure/do", { revision: cure.revision, number: cure.number }) : null;
    },
    /** @param {string} how @param {string} [preset] */
    plan: (how, preset = "") => step("plan", { how, seed: 1, preset }).then(() => undefined),
    compare: () => step("plan/compare", {}).then(() => undefined),
    async wires() {
      try {
        store.set({ wires: await get("wires") });
      } catch (error) {
        say(error);
      }
    },
    /** The straightened photo, if there is one. */
    async photo() {
      try {
        const found = await get("photo");
        if (store.state.photo) URL.revokeObjectURL(store.state.photo.url);
        if (!found.corners) return store.set({ photo: null });
        const url = URL.createObjectURL(await getFile("photo/straight"));
        return store.set({ photo: { url, share: store.state.photo?.share ?? 0.6 } });
      } catch (error) {
        return say(error);
      }
    },
    /** @param {string} name of a file of the package */
    async download(name) {
      try {
        const url = URL.createObjectURL(await getFile(`sheets/file/${name}`));
        const link = document.createElement("a");
        link.href = url;
        link.download = name;
        link.click();
        setTimeout(() => URL.revokeObjectURL(url), 10_000);
      } catch (error) {
        say(error);
      }
    },
  };
}

/** News from the server, put into the state. @param {Store} store @param {any} message @param {(text: string, kind?: string) => void} note */
export function hear(store, message, note) {
  const { state } = store;
  switch (message.type) {
    case "state":
      if (state.dragging) return void waiting.push(message);
      return store.set(told(state, message.state));
    case "job":
      return store.set({ job: message.job, ...told(state, message.state) });
    case "checked":
      if (state.dragging) return void waiting.push(message);
      return hearChecks(store, withWords(message.checked));
    case "live":
      return state.dragging && message.live ? store.set({ live: message.live }) : undefined;
    case "warm":
      return (state.dragging || state.nudging) && state.heat ? store.set({ heat: { ...state.heat, ...message.heat } }) : undefined;
    case "plan":
      return hearPlan(store, message.plan);
    case "compared":
      return hearCompared(store, message.compared);
    case "trouble":
      return note(`${message.problem}. ${message.cure}`, "trouble");
    default:
      return undefined;
  }
}

/** @param {Store} store @param {Checked | null} checked */
function hearChecks(store, checked) {
  if (checked) store.set({ checked, finding: sameFinding(store, checked) });
}

/** The search's own best is shown while it goes on; the judged one when there is news of it. @param {Store} store @param {Plan | null} plan */
export function hearPlan(store, plan) {
  if (!plan) return store.set({ plan: null, ghost: null, ghostOf: "", planBest: null });
  const planBest = plan.layout ?? (plan.best ? store.state.planBest : null);
  if (plan.trying) return store.set({ plan, planBest, ghost: plan.trying, ghostOf: "Best so far, not judged yet" });
  if (plan.layout || plan.ended) return store.set({ plan, planBest, ghost: planBest, ghostOf: "Best so far" });
  return store.set({ plan, planBest });
}

/** @param {Store} store @param {Compared | null} compared */
export function hearCompared(store, compared) {
  const first = compared?.plates[1];
  if (!compared) return store.set({ compared, ...(store.state.plan ? {} : { ghost: null, ghostOf: "" }) });
  return store.set(first ? { compared, ghost: first.layout, ghostOf: first.name } : { compared });
}

/** A finding stays chosen when it is still there. @param {Store} store @param {Checked} checked */
function sameFinding({ state }, checked) {
  const old = state.checked?.findings.find((f) => f.number === state.finding);
  if (!old) return null;
  const now = checked.findings.find((f) => f.rule === old.rule && f.subject === old.subject);
  return now?.number ?? null;
}

/** @type {any[]} news that wait until the hand lets go */
const waiting = [];

/** @param {Store} store @param {(text: string, kind?: string) => void} note */
export function mountLateNews(store, note) {
  store.listen((state) => {
    if (state.dragging) return;
    for (const news of waiting.splice(0)) hear(store, news, note);
  }, "dragging");
}
