// @ts-check
/** Work that may wait, one piece a picture of the screen: so that none of them comes late. */

/** @type {Map<string, () => void>} by name, in the order they were asked for */
const waiting = new Map();
let queued = 0;

/** Do something at the next free picture; asked again before that, the newer work takes its place. @param {string} name @param {() => void} work */
export function inTurn(name, work) {
  waiting.set(name, work);
  queued ||= requestAnimationFrame(next);
}

function next() {
  const [first] = waiting;
  queued = 0;
  if (!first) return;
  waiting.delete(first[0]);
  if (waiting.size) queued = requestAnimationFrame(next);
  first[1]();
}
