// @ts-check
/** Lengths as people read and type them. The factor of the unit comes from the server. */

/** @import { Unit } from "../types.js" */

/** A length in the job's unit, without the unit. @param {number} mm @param {Unit} unit */
export function shown(mm, unit) {
  const text = (mm * unit.per_mm).toFixed(unit.decimals);
  const plain = text.includes(".") ? text.replace(/0+$/, "").replace(/\.$/, "") : text;
  return plain === "-0" ? "0" : plain;
}

/** A length with its unit. @param {number} mm @param {Unit} unit */
export const told = (mm, unit) => `${shown(mm, unit)} ${unit.name}`;

/**
 * A typed length in mm: 12.5, 12,5, 1-3/8, 3/4; null when it can't be read.
 * @param {string} text @param {Unit} unit @returns {number | null}
 */
export function typed(text, unit) {
  const words = text.trim().replace(",", ".");
  const number = /^([+-]?)(?:(\d+(?:\.\d*)?|\.\d+)|(?:(\d+)[-\s])?(\d+)\/([1-9]\d*))$/.exec(words);
  if (!number) return null;
  const [, sign, plain, whole, above, below] = number;
  const size = plain !== undefined ? Number(plain) : Number(whole ?? 0) + Number(above) / Number(below);
  return ((sign === "-" ? -1 : 1) * size) / unit.per_mm;
}

/** Wire in metres. @param {number} mm */
export const metres = (mm) => `${(mm / 1000).toFixed(1)} m`;

/** A share in per cent. @param {number} share */
export const percent = (share) => `${Math.round(share * 100)} %`;
