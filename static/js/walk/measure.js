// A length off a tape against the limit of its item. The site compares the same when it comes in.
import { asTyped, INCHES, lengthWords, LONGEST_MM, METRIC, parse } from "../lengths.js";
import { language, say } from "../say.js";

/** Whoever reads this page, and in which unit: so a number alone is read. */
export const by = { language, imperial: document.body?.dataset.units !== "metric" };
/** A length as they type it, which a field for one shows. */
export const example = by.imperial ? INCHES : METRIC;

/** @param {number} mm */
export const figure = (mm) => mm.toLocaleString(language, { maximumFractionDigits: 3, useGrouping: false });

/**
 * What a tape is put to and what it is held against, as the label of its field says it.
 * @param {Walk.Measure} measure
 */
export const quantity = ({ what, limit }) =>
  limit ? say("{what}, measured ({limit})", { what, limit }) : say("{what}, measured", { what });

/**
 * A measure in words: as it was typed, or its figure where only that is known.
 * @param {string | undefined} typed @param {number} mm
 */
export const words = (typed, mm) => (typed ? asTyped(typed, mm, language) : `${figure(mm)} mm`);

/**
 * What is understood of what is typed, in the unit of whoever types; empty while it is no length.
 * @param {string} typed
 */
export function understood(typed) {
  const mm = parse(typed, by);
  if (mm === null) return "";
  const shown = lengthWords(mm, by);
  return `${parse(shown, by) === mm ? "=" : "≈"} ${shown}`;
}

/**
 * Why something typed is no length: empty where it is one, or nothing is typed.
 * @param {string} typed
 */
export function unread(typed) {
  if (!typed || parse(typed, by) !== null) return "";
  if (parse(typed, { ...by, longest: Infinity }) !== null) {
    return say("“{typed}” is longer than {longest}. Check the figure and its unit.", { typed, longest: lengthWords(LONGEST_MM, by) });
  }
  return say("“{typed}” cannot be read as a length. Enter a length such as {inches} or {metric}.", { typed, inches: INCHES, metric: METRIC });
}

/**
 * What is wrong with a figure that an OK is given with: empty where nothing is.
 * @param {Walk.Measure | null} measure
 * @param {number | null} mm
 */
export function contradiction(measure, mm) {
  if (!measure || mm === null) return "";
  const { what, min_mm, max_mm } = measure;
  if (min_mm !== null && mm < min_mm) {
    const given = { what, length: lengthWords(mm, by, "down"), limit: lengthWords(min_mm, by, "up") };
    return say("{what}: {length} measured, minimum {limit}. Record it as Fix, or correct the figure.", given);
  }
  if (max_mm !== null && mm > max_mm) {
    const given = { what, length: lengthWords(mm, by, "up"), limit: lengthWords(max_mm, by, "down") };
    return say("{what}: {length} measured, maximum {limit}. Record it as Fix, or correct the figure.", given);
  }
  return "";
}
