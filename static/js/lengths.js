// Lengths as people type them off a tape, in mm: 6 1/4", 6-1/4 in, 2' 4", 2'4, 160, 16 cm, 0.16 m, 152,5.
// config/messages/lengths.py reads the same; tests/config/messages/lengths.json has the cases of both.

export const LONGEST_MM = 100_000;
const MOST_TYPED = 40;
const AGREES_MM = 0.01;
export const INCHES = `6 1/4"`, METRIC = "160 mm";

// In tenths of a mm, so that every unit is whole.
const FOOT = 3048n, INCH = 254n, M = 10_000n, CM = 100n, MM = 10n;
/** @type {Record<string, bigint>} */
const UNITS = {
  "'": FOOT, ft: FOOT, foot: FOOT, feet: FOOT, pi: FOOT, pied: FOOT, pieds: FOOT, pie: FOOT, pies: FOOT,
  '"': INCH, in: INCH, inch: INCH, inches: INCH, po: INCH, pouce: INCH, pouces: INCH, pulg: INCH, pulgada: INCH, pulgadas: INCH,
  m: M, cm: CM, mm: MM,
};
/** @type {Map<bigint | null, bigint[]>} */
const FOLLOWERS = new Map([[FOOT, [INCH]], [M, [CM, MM]], [CM, [MM]]]);

// In Spanish a comma before three figures sets thousands apart, as pages do.
const NUMBERS = {
  en: ["[0-9]{1,3}(?:,[0-9]{3})+(?:\\.[0-9]{1,6})?", "[0-9]{0,7}\\.[0-9]{1,6}|[0-9]{1,7}"],
  fr: ["[0-9]{1,3}(?: [0-9]{3})+(?:[.,][0-9]{1,6})?", "[0-9]{0,7}[.,][0-9]{1,6}|[0-9]{1,7}"],
  es: ["[1-9][0-9]{0,2}(?:,[0-9]{3})+(?:\\.[0-9]{1,6})?", "[0-9]{0,7}[.,][0-9]{1,6}|[0-9]{1,7}"],
};
const FRACTION = "(?:(?<whole>[0-9]{1,6})(?: ?- ?| ))?(?<over>[0-9]{1,3}) ?/ ?(?<under>[0-9]{1,3})";
const NAMES = Object.keys(UNITS).filter((name) => /[a-z]/.test(name)).sort((a, b) => b.length - a.length).join("|");
/** @param {string[]} number */
const partOf = ([grouped, plain]) =>
  new RegExp(`(?:${FRACTION}|(?<grouped>${grouped})|(?<plain>${plain})) ?(?<unit>(?:${NAMES})(?![a-z])\\.?|['"])?`, "y");
/** @type {Record<string, RegExp>} */
const PARTS = { en: partOf(NUMBERS.en), fr: partOf(NUMBERS.fr), es: partOf(NUMBERS.es) };
const BETWEEN = / ?-? ?/y;
/** @type {[RegExp, string][]} */
const SIGNS = [
  [/[″”“]/g, '"'], [/[′’‘]/g, "'"], [/[‐‑–]/g, "-"], [/[\u00a0\u202f\u2009\t]/g, " "], [/⁄/g, "/"],
  [/½/g, " 1/2"], [/¼/g, " 1/4"], [/¾/g, " 3/4"], [/⅛/g, " 1/8"], [/⅜/g, " 3/8"], [/⅝/g, " 5/8"], [/⅞/g, " 7/8"],
  [/''/g, '"'], [/ +/g, " "],
];

/** @typedef {{ language: string, imperial: boolean, longest?: number }} By Whoever types. */
/** @typedef {{ over: bigint, under: bigint, unit: bigint | null, broken: boolean }} Part */

/**
 * The length in mm, or null where it is none. Exact: a tape at its limit is not judged by dust.
 * @param {string} typed @param {By} by
 */
export function parse(typed, { language, imperial, longest = LONGEST_MM }) {
  const parts = partsOf(typed, language);
  if (!parts) return null;
  let over = 0n, under = 1n;
  for (const part of parts) {
    const unit = part.unit ?? (imperial ? INCH : MM);
    if (part.broken && unit !== INCH && unit !== FOOT) return null;
    over = over * part.under + part.over * unit * under;
    under *= part.under;
  }
  const mm = quotient(over, under * 10n);
  return mm <= longest ? mm : null;
}

/**
 * As near as a number can be: both are whole and small once what they share is taken out.
 * @param {bigint} over @param {bigint} under
 */
function quotient(over, under) {
  let [a, b] = [over, under];
  while (b) [a, b] = [b, a % b];
  return Number(over / a) / Number(under / a);
}

/**
 * What was typed of a measure of so many mm; with its unit, where that was not typed.
 * @param {string} typed @param {number} mm @param {string} language
 */
export function asTyped(typed, mm, language) {
  const languages = Object.keys(PARTS);
  if (!languages.some((each) => partsOf(typed, each)?.at(-1)?.unit === null)) return typed;
  const metric = languages.some((each) => {
    const found = parse(typed, { language: each, imperial: false });
    return found !== null && Math.abs(found - mm) <= AGREES_MM;
  });
  return metric ? `${typed} mm` : `${typed} ${wordsOf(language).inches}`;
}

/**
 * Numbers with their units, in the order typed; null where something else is among them.
 * @param {string} typed @param {string} language
 */
function partsOf(typed, language) {
  if (typed.length > MOST_TYPED) return null;
  const words = SIGNS.reduce((text, [sign, plain]) => text.replace(sign, plain), typed.toLowerCase()).replace(/^ | $/g, "");
  const part = PARTS[language.split("-")[0]] ?? PARTS.en;
  /** @type {Part[]} */
  const parts = [];
  let at = 0;
  do {
    if (parts.length) at += lengthAt(BETWEEN, words, at);
    const one = afterFeet(parts.at(-1), partAt(part, words, at));
    if (!one || (parts.length && !goesOn(parts[parts.length - 1], one))) return null;
    parts.push(one);
    at += lengthAt(part, words, at);
  } while (at < words.length);
  return parts;
}

/**
 * After feet a number alone is inches: 2'4.
 * @param {Part | undefined} feet @param {Part | null} part
 */
function afterFeet(feet, part) {
  return part && part.unit === null && feet?.unit === FOOT ? { ...part, unit: INCH } : part;
}

/** @param {RegExp} sticky @param {string} words @param {number} at */
function matchAt(sticky, words, at) {
  sticky.lastIndex = at;
  return sticky.exec(words);
}

/** @param {RegExp} sticky @param {string} words @param {number} at */
const lengthAt = (sticky, words, at) => matchAt(sticky, words, at)?.[0].length ?? 0;

/**
 * A number and its unit; null for none, and for a fraction that is in doubt.
 * @param {RegExp} part @param {string} words @param {number} at
 * @returns {Part | null}
 */
function partAt(part, words, at) {
  const found = matchAt(part, words, at);
  if (!found) return null;
  const { unit: name, over, ...groups } = /** @type {Record<string, string | undefined>} */ (found.groups);
  const unit = name ? UNITS[name.replace(".", "")] : null;
  if (!over) return { ...number(groups.grouped, groups.plain), unit, broken: false };
  const under = BigInt(groups.under ?? 0), n = BigInt(over);
  if (n >= under) return null; // 61/4 may be 6 1/4 without its space
  return { over: BigInt(groups.whole ?? 0) * under + n, under, unit, broken: true };
}

/** @param {string | undefined} grouped @param {string | undefined} plain */
function number(grouped, plain) {
  const commas = grouped && !grouped.includes(" ");
  const text = commas ? grouped.replaceAll(",", "") : `${grouped ?? plain}`;
  const [whole, part = ""] = text.replaceAll(" ", "").replace(",", ".").split(".");
  return { over: BigInt(whole + part), under: 10n ** BigInt(part.length) };
}

/**
 * Whether another part may come after one: 2 ft is whole, and 4 in. is less of it.
 * @param {Part} part @param {Part} after
 */
function goesOn(part, after) {
  if (part.unit === null || after.unit === null || part.over % part.under) return false;
  return (FOLLOWERS.get(part.unit) ?? []).includes(after.unit) && after.over * after.unit < part.unit * after.under;
}

/** @type {Record<string, { feet: string, foot: string, inches: string, locale: string }>} */
const WORDS = {
  en: { feet: "ft", foot: "ft", inches: "in.", locale: "en-US" },
  fr: { feet: "pi", foot: "pi", inches: "po", locale: "fr-CA" },
  es: { feet: "pies", foot: "pie", inches: "pulg.", locale: "es-US" },
};
/** @param {string} language */
const wordsOf = (language) => WORDS[language.split("-")[0]] ?? WORDS.en;
const DUST = 1e-6;
const ROUNDED = {
  nearest: (/** @type {number} */ steps) => Math.floor(steps + 0.5 + DUST),
  down: (/** @type {number} */ steps) => Math.floor(steps + DUST),
  up: (/** @type {number} */ steps) => Math.ceil(steps - DUST),
};

/**
 * A length as its reader's tape shows it: 6 ft 1/2 in. or 1,842 mm.
 * @param {number} mm @param {By} by @param {keyof typeof ROUNDED} [rounding]
 */
export function lengthWords(mm, { language, imperial }, rounding = "nearest") {
  const words = wordsOf(language), { inches, locale } = words;
  if (!imperial) {
    const step = Math.abs(mm) < 100 ? 0.1 : 1;
    return `${(ROUNDED[rounding](mm / step) * step).toLocaleString(locale, { maximumFractionDigits: 1 })} mm`;
  }
  const sixteenths = ROUNDED[rounding](mm / (25.4 / 16));
  const whole = Math.floor(sixteenths / 192), rest = Math.floor((sixteenths % 192) / 16), part = sixteenths % 16;
  const shown = [rest || (!part && !whole) ? `${rest}` : "", part ? fraction(part) : ""].filter(Boolean);
  return [feetWords(whole, words), shown.length ? `${shown.join(" ")} ${inches}` : ""].filter(Boolean).join(" ");
}

/** @param {number} whole @param {{ feet: string, foot: string }} words */
function feetWords(whole, { feet, foot }) {
  if (!whole) return "";
  return `${whole} ${whole === 1 ? foot : feet}`;
}

/** @param {number} sixteenths */
function fraction(sixteenths) {
  let [over, under] = [sixteenths, 16];
  while (over % 2 === 0) [over, under] = [over / 2, under / 2];
  return `${over}/${under}`;
}
