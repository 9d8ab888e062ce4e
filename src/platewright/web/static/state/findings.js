// @ts-check
/** Findings put in order for a reader, and balloons put where they do not hide each other. */

/** @import { Finding, Box, Point } from "../types.js" */

/** @typedef {{ key: string, title: string, verdict: string, items: Finding[] }} Group */

const ALONE = 3; // alike findings beyond so many stand together under one heading

/** Worst first; alike ones that are not FAIL stand together when they are many. @param {Finding[]} findings @returns {Group[]} */
export function grouped(findings) {
  /** @type {Map<string, Group>} */
  const groups = new Map();
  for (const finding of findings) {
    const key = `${finding.verdict} ${finding.rule}`;
    const group = groups.get(key) ?? { key, title: finding.headline, verdict: finding.verdict, items: [] };
    group.items.push(finding);
    groups.set(key, group);
  }
  return [...groups.values()].flatMap((group) =>
    group.verdict === "FAIL" || group.items.length <= ALONE
      ? group.items.map((item) => ({ ...group, key: `${group.key} ${item.number}`, items: [item] }))
      : [group],
  );
}

/** Which findings get a balloon: those with a place that fail, or fall short and are few alike. @param {Finding[]} findings @param {number | null} chosen */
export function ballooned(findings, chosen) {
  /** @type {Map<string, number>} */
  const alike = new Map();
  for (const f of findings) alike.set(f.rule + f.verdict, (alike.get(f.rule + f.verdict) ?? 0) + 1);
  const few = (/** @type {Finding} */ f) => (alike.get(f.rule + f.verdict) ?? 0) <= ALONE;
  return findings.filter(
    (f) => f.place && (f.verdict === "FAIL" || (f.verdict === "CAUTION" && few(f)) || f.number === chosen),
  );
}

/**
 * Places of balloons round their boxes: clear of those before, and where they hide least.
 * @param {{ number: number, box: Box, size: number }[]} wanted drawing coordinates: left, top, right, bottom; size in drawing units
 * @param {Box[]} bodies what had better not be hidden
 * @returns {Map<number, Point>}
 */
export function balloonPlaces(wanted, bodies) {
  /** @type {Map<number, Point>} */
  const places = new Map();
  /** @type {(Point & { size: number })[]} */
  const taken = [];
  for (const { number, box, size } of wanted) {
    let best = null;
    let least = Infinity;
    for (let ring = 0; ring < 12 && least > ring * 0.6; ring += 1) {
      for (const at of around(box, size, ring)) {
        const hit = taken.some((t) => Math.hypot(t.x - at.x, t.y - at.y) < (t.size + size) * 0.53);
        if (hit) continue;
        const worth = ring * 0.6 + hidden(at, size, bodies);
        if (worth < least) [best, least] = [at, worth];
      }
    }
    const place = best ?? { x: box[2], y: box[1] };
    taken.push({ ...place, size });
    places.set(number, place);
  }
  return places;
}

/** Places on a ring round a box. @param {Box} box @param {number} size @param {number} ring @returns {Point[]} */
function around([left, top, right, bottom], size, ring) {
  const off = size * (0.72 + ring * 0.9);
  const [x, y] = [(left + right) / 2, (top + bottom) / 2];
  return [
    { x: right + off, y: top - off }, { x: left - off, y: top - off }, { x: right + off, y: bottom + off },
    { x: left - off, y: bottom + off }, { x, y: top - off }, { x, y: bottom + off }, { x: right + off, y }, { x: left - off, y },
  ];
}

/** How much of a body's middle, where its tag is, a balloon hides. @param {Point} at @param {number} size @param {Box[]} bodies */
function hidden(at, size, bodies) {
  let sum = 0;
  for (const [left, top, right, bottom] of bodies) {
    const dx = Math.max(left - at.x, at.x - right, 0);
    const dy = Math.max(top - at.y, at.y - bottom, 0);
    if (dx * dx + dy * dy < (size * size) / 4) {
      const inside = Math.hypot(at.x - (left + right) / 2, at.y - (top + bottom) / 2) < size * 1.1;
      sum += inside ? 3 : 1;
    }
  }
  return sum;
}

/** @typedef {{ from: Point, to: Point, part: Point | null }} Span  needed from–to; measured from–part */

/**
 * How a finding is drawn as a dimension: the room it needs, and how much of it there is.
 * Only where its place is the strip that must be free beside its subject.
 * @param {Finding} finding @param {Box | null} subject  envelope or body of the subject
 * @returns {Span | null}
 */
export function spanOf(finding, subject) {
  const { place, limit, measured, unit } = finding;
  if (!place || !subject || limit === null || unit !== "mm" || limit <= 0) return null;
  const [left, bottom, right, top] = place;
  const near = (/** @type {number} */ a, /** @type {number} */ b) => Math.abs(a - b) < 0.01;
  const have = measured === null ? null : Math.max(0, Math.min(measured, limit));
  const middleY = (bottom + top) / 2;
  const middleX = (left + right) / 2;
  if (near(right - left, limit)) {
    const isRight = left >= subject[0] + 0.01;
    const from = { x: isRight ? left : right, y: middleY };
    const way = isRight ? 1 : -1;
    return { from, to: { x: from.x + way * limit, y: middleY },
      part: have === null ? null : { x: from.x + way * have, y: middleY } };
  }
  if (near(top - bottom, limit)) {
    const isUp = bottom >= subject[1] + 0.01;
    const from = { x: middleX, y: isUp ? bottom : top };
    const way = isUp ? 1 : -1;
    return { from, to: { x: middleX, y: from.y + way * limit },
      part: have === null ? null : { x: middleX, y: from.y + way * have } };
  }
  return null;
}
