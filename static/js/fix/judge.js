// A new figure of a fact against the limit it is held to, at once and without signal. The site checks
// the whole house again when the correction comes in.
import { lengthWords, parse } from "../lengths.js";
import { language, say } from "../say.js";

const CUBIC_INCH = 16.387064, POUND = 0.45359237;
const DUST = 0.01; // as rules allow for arithmetic: mm, mL, kg
const NUMBER = /^(\d{1,7}(?:[.,]\d{1,4})?|\d{0,7}[.,]\d{1,4}) ?([a-z. ³3°]*)$/i;
/** @type {Record<string, Record<string, number>>} */
const UNITS = {
  volume: { "cu. in": CUBIC_INCH, "cu in": CUBIC_INCH, in3: CUBIC_INCH, "in³": CUBIC_INCH, "po³": CUBIC_INCH, po3: CUBIC_INCH, ml: 1, cm3: 1, "cm³": 1 },
  weight: { lb: POUND, lbs: POUND, kg: 1 },
  angle: { "°": 1 },
};
/** @type {Record<string, number>} */
const IMPERIAL = { volume: CUBIC_INCH, weight: POUND };

/**
 * What is understood of what is typed, in mm, mL, kg, degrees or pieces; null where it is none.
 * @param {Fix.Kind} kind @param {string} typed @param {boolean} imperial
 * @returns {number | null}
 */
export function understand(kind, typed, imperial) {
  if (kind === "length") return parse(typed, { language, imperial });
  const found = NUMBER.exec(typed.trim());
  if (!found) return null;
  const number = Number(found[1].replace(",", "."));
  const unit = found[2].trim().toLowerCase().replace(/\.$/, "");
  if (kind === "count") return unit || !Number.isInteger(number) ? null : number;
  const size = sizeOf(kind, unit, imperial);
  return size ? number * size : null;
}

/**
 * How many mL, kg or degrees one of a unit is; without a unit, one of the reader's.
 * @param {Fix.Kind} kind @param {string} unit @param {boolean} imperial
 */
function sizeOf(kind, unit, imperial) {
  if (unit) return UNITS[kind]?.[unit];
  return imperial ? (IMPERIAL[kind] ?? 1) : 1;
}

/**
 * A figure as its reader's tape or plate shows it, on its own side of the limit.
 * @param {Fix.Kind} kind @param {number} value @param {boolean} imperial @param {"nearest" | "down" | "up"} [rounding]
 */
export function shown(kind, value, imperial, rounding = "nearest") {
  if (kind === "length") return lengthWords(value, { language, imperial }, rounding);
  if (kind === "volume" && imperial) return `${rounded(value / CUBIC_INCH, 2, rounding)} ${say("cu. in.")}`;
  if (kind === "volume") return `${rounded(value, 1, rounding)} mL`;
  if (kind === "weight" && imperial) return `${rounded(value / POUND, 1, rounding)} lb`;
  if (kind === "weight") return `${rounded(value, 1, rounding)} kg`;
  return `${rounded(value, 1, rounding)}${kind === "angle" ? "°" : ""}`;
}

/** @param {number} number @param {number} digits @param {"nearest" | "down" | "up"} rounding */
function rounded(number, digits, rounding) {
  const step = 10 ** digits, dust = 1e-6;
  const steps = { nearest: Math.round(number * step), down: Math.floor(number * step + dust), up: Math.ceil(number * step - dust) }[rounding];
  return (steps / step).toLocaleString(language, { maximumFractionDigits: digits });
}

/**
 * Whether a figure meets what the fix is held to; null where only a check of the house says.
 * @param {Fix.Limits} fix @param {number} value
 */
export function settles({ least, most }, value) {
  if (least === null && most === null) return null;
  return (least === null || value >= least - DUST) && (most === null || value <= most + DUST);
}

/**
 * What is said of a figure as it stands: still not to code by its limit, or what the site will check.
 * @param {Fix.Limits & { kind: Fix.Kind }} fix @param {number} value @param {boolean} imperial
 */
export function verdict(fix, value, imperial) {
  const ok = settles(fix, value);
  if (ok === null) return say("Checked when signal returns.");
  if (ok) return say("To code by its figure. The rest is checked when signal returns.");
  const { kind, least, most } = fix;
  if (least !== null && value < least) {
    return say("Still not to code: {figure}; minimum {limit}.", { figure: shown(kind, value, imperial, "down"), limit: shown(kind, least, imperial, "up") });
  }
  return say("Still not to code: {figure}; maximum {limit}.", { figure: shown(kind, value, imperial, "up"), limit: shown(kind, most ?? 0, imperial, "down") });
}
