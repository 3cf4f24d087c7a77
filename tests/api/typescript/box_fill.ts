/** Reads box fills as a stranger's program would: by the types made of the published schema. */
import type { components } from "./api";

type Finding = components["schemas"]["Finding"];

/** What one finding says of the fill of a box: figure, limit, unit and section; or nothing. */
export function boxFill(finding: Finding): string | null {
  if (finding.rule !== "box-fill" || !("fill_ml" in finding.facts)) return null;
  const { fill_ml: fill, has_ml: has } = finding.facts;
  const parts = [`${fill.toFixed(1)} of ${has?.toFixed(1) ?? "?"} mL`, finding.section];
  for (const { name, value, unit, section } of finding.limits) {
    parts.push(`${name} ${String(value)} ${unit} (${section})`);
  }
  return parts.join("; ");
}
