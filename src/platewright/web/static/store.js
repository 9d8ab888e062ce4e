// @ts-check
/** The page's state: one object, replaced as a whole; whoever asked is told what changed. */

/** @import { State, ServerState, Checked } from "./types.js" */

/** @returns {State} */
export function firstState() {
  return {
    job: null, server: null, layout: { devices: {}, ducts: {}, rails: {}, holes: {} },
    checked: null, plan: null, ghost: null, ghostOf: "", planBest: null, compared: null, beside: true, wires: [], chosen: [], finding: null, cure: null, wire: null,
    tracing: null, stage: "place", tool: "hand", layStock: "",
    layers: { covers: true, clear: false, wires: false, holes: false, fixings: true, balloons: true,
      side: true, places: false, photo: true, warmth: false },
    view: { x: 0, y: 0, k: 1 }, grid: 1, datum: "left bottom", dragging: false, nudging: false, live: null, heat: null, warm: "air",
    connected: false, photo: null,
  };
}

/**
 * @typedef {(state: State, changed: Set<keyof State>) => void} Listener
 * @typedef {{ readonly state: State, set: (change: Partial<State>) => void, hushed: (does: () => void) => void, listen: (listener: Listener, ...parts: (keyof State)[]) => void, tellAll: () => void }} Store
 */

/** @param {State} state @returns {Store} */
export function makeStore(state) {
  /** @type {{ listener: Listener, parts: (keyof State)[] }[]} */
  const listeners = [];
  let isHushed = false;
  return {
    get state() {
      return state;
    },
    set(change) {
      const changed = new Set(
        /** @type {(keyof State)[]} */ (Object.keys(change)).filter(
          (name) => change[name] !== state[name],
        ),
      );
      if (!changed.size) return;
      state = { ...state, ...change };
      if (isHushed) return;
      for (const { listener, parts } of listeners) {
        if (!parts.length || parts.some((part) => changed.has(part))) listener(state, changed);
      }
    },
    /** Change the state and tell nobody: ``tellAll`` follows. */
    hushed(does) {
      isHushed = true;
      does();
      isHushed = false;
    },
    tellAll() {
      const all = new Set(/** @type {(keyof State)[]} */ (Object.keys(state)));
      for (const { listener } of listeners) listener(state, all);
    },
    listen(listener, ...parts) {
      listeners.push({ listener, parts });
    },
  };
}

/**
 * What the state becomes when the server tells its own; an older telling changes nothing.
 * @param {State} state @param {ServerState} server @returns {Partial<State>}
 */
export function told(state, server) {
  if (state.server && server.revision < state.server.revision) return {};
  const { layout } = server;
  const known = { ...layout.devices, ...layout.ducts, ...layout.rails, ...layout.holes };
  const chosen = state.chosen.filter((tag) => tag in known);
  return {
    server,
    layout,
    chosen: chosen.length === state.chosen.length ? state.chosen : chosen,
  };
}

/**
 * What the checks say, each finding with its rule's words (these come once a rule).
 * @param {Checked & { rules?: Record<string, [string, string]> } | null} checked @returns {Checked | null}
 */
export function withWords(checked) {
  if (!checked) return null;
  const rules = checked.rules ?? {};
  const findings = checked.findings.map((f) => ({ ...f, title: rules[f.rule]?.[0] ?? f.rule, why: rules[f.rule]?.[1] ?? "" }));
  return { ...checked, findings };
}
