// @ts-check
/**
 * What goes over the wire (see wire_format.py) and what the page keeps. Lengths: mm, origin lower
 * left, y up.
 *
 * @typedef {{ x: number, y: number }} Point
 * @typedef {[number, number, number, number]} Box  left, bottom, right, top
 * @typedef {{ x: number, y: number, locked: boolean }} Placed
 * @typedef {{ x: number, y: number, length: number, width: number, height: number, run: "across" | "upright", stock: string, locked: boolean, box: Box }} Duct
 * @typedef {{ x: number, y: number, length: number, profile: string, run: "across" | "upright", locked: boolean, box: Box, rise: number }} Rail
 * @typedef {{ x: number, y: number, kind: string, size: string, drill: number, holds: string, state: "planned" | "marked" | "drilled" }} Hole
 * @typedef {{ devices: Record<string, Placed>, ducts: Record<string, Duct>, rails: Record<string, Rail>, holes: Record<string, Hole> }} Layout
 * @typedef {{ part: string, kind: string, what: string, group: string[], place: "plate" | "door", at_door: [number, number] | null, width: number, height: number, depth: number, reach: number, covers: Box, axis: number | null, holes: [number, number][], heat: number | null, mass: number | null }} Device
 * @typedef {{ name: string, per_mm: number, decimals: number }} Unit
 * @typedef {{ width: number, height: number, thickness: number, material: string, margin: number, fixings: [number, number, number][], keep_outs: [number, number, number, number, string][] }} Plate
 * @typedef {{ title: Record<string, string>, unit: Unit, plate: Plate, door: number, presets: [string, string][], preset: string, groups: { name: string, title: string }[], stock: { name: string, width: number, height: number, cover: number }[], devices: Record<string, Device> }} Job
 * @typedef {{ tags: string[], dx: number, dy: number }} Shift
 * @typedef {"FAIL" | "CAUTION" | "UNDECIDED" | "PASS"} Verdict
 * @typedef {{ number: number, rule: string, verdict: Verdict, subject: string, measured: number | null, limit: number | null, unit: string, source: string, message: string, cure: string, place: Box | null, headline: string, title: string, why: string }} Finding
 * @typedef {{ devices: number, placed: number, wires: number, wire_m: number, plate_used: number, duct_m: number, rail_m: number, holes: number, highest_fill: number, bars: number, offcuts: number, bars_proven: boolean }} Totals
 * @typedef {{ revision: number, findings: Finding[], counts: Record<Verdict, number>, totals: Totals, fill: Record<string, number>, clear: Record<string, [number, number, number, number, boolean]>, rows: { name: string, tags: string[] }[] }} Checked
 * @typedef {{ problem: string, where: string, cure: string }} Trouble
 * @typedef {Trouble & { file: string, row: number | null, field: string | null, value: string | null }} Fault
 * @typedef {{ revision: number, layout: Layout, undo: string | null, redo: string | null, faults: Fault[], notices: string[] }} ServerState
 * @typedef {{ rule: string, subject: string, other: string, measured: number, limit: number, place: Box }} Clash
 * @typedef {{ side: "left" | "right" | "top" | "bottom", other: string, distance: number, needed: number }} Gap
 * @typedef {{ clashes: Clash[], gaps: Gap[], wires: { cut: number, unrouted: number, fill: Record<string, number> } | null }} LiveFrame
 * @typedef {{ counts: Record<Verdict, number>, totals: Totals }} Candidate
 * @typedef {{ words: string, values: string[], better: boolean | null }} WorthRow
 * @typedef {{ name: string, title: string, remarks: string[], fails: number, layout: Layout }} ComparedPlate
 * @typedef {{ share: number, text: string, ended: boolean, problem: string, plates: ComparedPlate[], lines: { words: string, values: string[], best: boolean[] }[], failed: Record<string, string> }} Compared
 * @typedef {{ how: string, share: number, text: string, before: Candidate, best: Candidate | null, layout: Layout | null, trying: Layout | null, worth: WorthRow[], differences: Record<string, string>, ended: boolean, problem: string, cures: string[] }} Plan
 * @typedef {{ number: string, from: string, to: string, size: string, colour: string, group: string, cut: number, problem: string, path: [number, number][] }} Wire
 * @typedef {{ low: number, step: number }} Scale  °C
 * @typedef {{ box: number[], columns: number, values: number[] }} Field  tenths of °C, row by row from below
 * @typedef {{ revision: number, rows: { tag: string, what: string, heat: number | null, limit: number | null }[], sum: number, parts: string, unknown: number, level: { inside: number[], wanted: number, outside: number, by_walls: number, by_power_law: number | null, no_power_law: string }, assumed: string[], cautions: string[], colours: string[], scales: { air: Scale, surfaces: Scale }, devices: Record<string, number[]>, ducts: Record<string, [number, number, number, string]>, front: Field, side: Field, plate: Field }} Heat  devices: air, its band, housing, its band; ducts: warmest wall, its band, limit, beside what
 * @typedef {"list" | "place" | "wire" | "warm" | "drill" | "build"} Stage
 * @typedef {"hand" | "duct" | "rail" | "box"} Tool
 * @typedef {{ x: number, y: number, k: number }} View  lower left of the window in mm (svg y down from the plate's top), pixels per mm
 */

/**
 * @typedef {object} State
 * @property {Job | null} job
 * @property {ServerState | null} server
 * @property {Layout} layout  as shown: the server's, or a step ahead of it
 * @property {Checked | null} checked
 * @property {Plan | null} plan
 * @property {Layout | null} ghost  the plate on offer: of a plan, or of the comparison
 * @property {string} ghostOf  what it is, in words
 * @property {Layout | null} planBest  the plan's best plate that the checks have judged
 * @property {Compared | null} compared
 * @property {boolean} beside  show the plate on offer beside the one that stands, not over it
 * @property {Wire[]} wires
 * @property {string[]} chosen
 * @property {number | null} finding  number of the finding shown
 * @property {{ revision: number, number: number, words: string, fails: [number, number] | null } | null} cure  of the finding shown; no words: none was found
 * @property {string | null} wire
 * @property {Stage} stage
 * @property {string | null} tracing  device whose place in the photo is being marked
 * @property {Tool} tool
 * @property {string} layStock  duct size of the next duct; blank: not chosen yet
 * @property {Record<string, boolean>} layers
 * @property {View} view
 * @property {number} grid  mm; 0: none
 * @property {string} datum  edges that typed positions are measured from
 * @property {boolean} dragging
 * @property {boolean} nudging  keys have shifted something that is not saved yet
 * @property {LiveFrame | null} live
 * @property {Heat | null} heat
 * @property {"air" | "surfaces"} warm  which temperatures are shown
 * @property {boolean} connected
 * @property {{ url: string, share: number } | null} photo
 */

export {};
