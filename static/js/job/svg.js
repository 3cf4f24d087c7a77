// Elements that are put on the plan.
// @ts-check
const SVG = "http://www.w3.org/2000/svg";

/** @param {"g" | "path" | "circle" | "text"} kind @param {Record<string, string | number>} [given] */
export function svgElement(kind, given = {}) {
  const made = document.createElementNS(SVG, kind);
  for (const [name, value] of Object.entries(given)) made.setAttribute(name, String(value));
  return made;
}
