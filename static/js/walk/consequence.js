// What a tap does beyond the item, shown before it is kept: whoever tapped confirms it or goes back.
import { say } from "../say.js";

/**
 * `words` say what follows, and are empty when nothing does; `place` is where they are shown.
 * @param {string} words
 * @param {HTMLElement} place
 * @param {() => unknown} keep
 */
export function confirmed(words, place, keep) {
  if (!words) return keep();
  place.querySelector(".consequence")?.remove();
  const panel = document.createElement("div");
  panel.className = "consequence";
  const text = document.createElement("p");
  text.setAttribute("role", "alert");
  text.textContent = words;
  const yes = button(say("Record it and withdraw the release"), () => (panel.remove(), keep()));
  panel.append(text, yes, button(say("Cancel: record nothing"), () => panel.remove()));
  place.append(panel);
  yes.focus();
  return null;
}

/**
 * @param {string} words
 * @param {() => unknown} onclick
 */
function button(words, onclick) {
  return Object.assign(document.createElement("button"), { type: /** @type {const} */ ("button"), textContent: words, onclick });
}
