// The words of a page in its reader's language: the page carries them, English stands for itself.
const carried = document.getElementById("words");
/** @type {Record<string, string>} */
const words = carried ? JSON.parse(carried.textContent) : {};

export const language = document.documentElement.lang || "en";

/**
 * A sentence with {holes} filled. `make lint` reads what is said here and asks for it in each language.
 * @param {string} english
 * @param {Record<string, unknown>} [holes]
 */
export function say(english, holes = {}) {
  return (words[english] ?? english).replace(/\{(\w+)\}(\.?)/g, (_, name, stop) => {
    const filled = String(holes[name] ?? `{${name}}`);
    return filled.endsWith(".") ? filled : filled + stop; // the full stop of "in." ends the sentence too
  });
}
