// Lengths as people type them, in mm inside: 12' 6 1/2", 8 ft 4 in., 8 pi 4 po, 3.2 m, 45 cm, 3200.

/** @type {Record<string, number>} */
const UNITS = { mm: 1, cm: 10, m: 1000, "'": 304.8, ft: 304.8, pi: 304.8, pies: 304.8, '"': 25.4, in: 25.4, po: 25.4, pulg: 25.4 };
// A number, a fraction or both, and a unit; what stands before a stroke is no number of its own.
const PART = /(?:(\d+(?:[.,]\d+)?)(?![\d.,]*\s*\/))?\s*(?:(\d+)\s*\/\s*(\d+))?\s*(mm|cm|m|(?:ft|pies|pi|in|po|pulg)\.?|'|"|′|″)?/y;

/**
 * The length in mm, or null when it cannot be read.
 * @param {string} text
 */
export function parse(text) {
  const words = text.trim().toLowerCase().replaceAll("′", "'").replaceAll("″", '"');
  const sign = words.startsWith("-") ? -1 : 1;
  let total = 0, parts = 0;
  let at = past(words, sign < 0 ? 1 : 0, " ");
  while (at < words.length) {
    const part = read(words, at);
    if (!part || (!part.unit && parts)) return null;
    total += part.number * UNITS[part.unit ?? "mm"];
    parts += 1;
    at = past(words, part.end, " -");
  }
  return parts ? sign * Math.round(total * 1000) / 1000 : null;
}

/**
 * The first place from `at` on that holds none of these.
 * @param {string} words @param {number} at @param {string} skipped
 */
function past(words, at, skipped) {
  let next = at;
  while (next < words.length && skipped.includes(words[next])) next += 1;
  return next;
}

/**
 * One number with its unit, if it has one, and where it ends; null where there is none.
 * @param {string} words @param {number} at
 */
function read(words, at) {
  PART.lastIndex = at;
  const [, whole, over, under, unit] = PART.exec(words) ?? [];
  if (!whole && !over) return null;
  const number = (whole ? Number(whole.replace(",", ".")) : 0) + (over ? Number(over) / Number(under) : 0);
  return Number.isFinite(number) ? { number, unit: unit?.replace(".", ""), end: PART.lastIndex } : null;
}

/**
 * Whole millimetres where they are, three places where not.
 * @param {number} mm
 */
export const told = (mm) => `${Math.round(mm * 1000) / 1000}`;
