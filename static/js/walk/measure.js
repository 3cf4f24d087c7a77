// A figure of a tape against the limit of its item. The site compares the same when it comes in.
import { language, say } from "../say.js";

/** @param {number} mm */
export const figure = (mm) => mm.toLocaleString(language, { maximumFractionDigits: 3, useGrouping: false });

/**
 * What a tape is put to and what it is held against, as the label of its field says it.
 * @param {Walk.Measure} measure
 */
export const quantity = ({ what, limit }) =>
  limit ? say("{what}, measured, in mm ({limit})", { what, limit }) : say("{what}, measured, in mm", { what });

/**
 * What is wrong with a figure that an OK is given with: empty where nothing is.
 * @param {Walk.Measure | null} measure
 * @param {number | null} mm
 */
export function contradiction(measure, mm) {
  if (!measure || mm === null) return "";
  const given = { what: measure.what, n: figure(mm) };
  if (measure.min_mm !== null && mm < measure.min_mm) {
    return say("{what}: {n} mm measured, minimum {n2} mm. Record it as Fix, or correct the figure.", { ...given, n2: figure(measure.min_mm) });
  }
  if (measure.max_mm !== null && mm > measure.max_mm) {
    return say("{what}: {n} mm measured, maximum {n2} mm. Record it as Fix, or correct the figure.", { ...given, n2: figure(measure.max_mm) });
  }
  return "";
}
