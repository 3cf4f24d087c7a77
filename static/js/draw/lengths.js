// Lengths on the drawing board, in mm inside: 12' 6 1/2", 8 ft 4 in., 8 pi 4 po, 3.2 m, 45 cm, 3200.
import { parse as read } from "../lengths.js";

// A number alone is in mm here, and a comma begins its decimals, whoever reads. Ground has no bounds.
const BY = { language: "fr", imperial: false, longest: Infinity };

/**
 * The length in mm, or null when it cannot be read.
 * @param {string} text
 */
export function parse(text) {
  const words = text.trim();
  const below = words.startsWith("-");
  const mm = read(below ? words.slice(1) : words, BY);
  return mm === null ? null : (below ? -1 : 1) * Math.round(mm * 1000) / 1000;
}

/**
 * Whole millimetres where they are, three places where not.
 * @param {number} mm
 */
export const told = (mm) => `${Math.round(mm * 1000) / 1000}`;
