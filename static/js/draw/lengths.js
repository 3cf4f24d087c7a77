// Lengths as people type them, in mm inside: 12' 6 1/2", 8 ft, 30 in, 3.2 m, 45 cm, 3200.

const UNITS = { mm: 1, cm: 10, m: 1000, "'": 304.8, ft: 304.8, '"': 25.4, in: 25.4 };
const PART = /(\d+(?:[.,]\d+)?)?\s*(?:(\d+)\s*\/\s*(\d+))?\s*(mm|cm|m|ft|in|'|"|′|″)?/y;

// The length in mm, or null when it cannot be read.
export function parse(text) {
  const words = text.trim().toLowerCase().replaceAll("′", "'").replaceAll("″", '"');
  if (!words) return null;
  let total = 0, at = 0, parts = 0;
  const sign = words[0] === "-" ? -1 : 1;
  if (sign < 0) at = 1;
  while (at < words.length) {
    while (words[at] === " " || (words[at] === "-" && parts)) at += 1;
    if (at >= words.length) break;
    PART.lastIndex = at;
    const found = PART.exec(words);
    if (!found || !found[0].trim() || (!found[1] && !found[2])) return null;
    const whole = found[1] ? Number(found[1].replace(",", ".")) : 0;
    const rest = found[2] ? Number(found[2]) / Number(found[3]) : 0;
    if (!Number.isFinite(whole + rest)) return null;
    if (!found[4] && parts) return null;
    total += (whole + rest) * (UNITS[found[4] ?? "mm"]);
    at = PART.lastIndex;
    parts += 1;
  }
  return parts ? sign * Math.round(total * 1000) / 1000 : null;
}

// Whole millimetres where they are, three places where not.
export const told = (mm) => `${Math.round(mm * 1000) / 1000}`;
