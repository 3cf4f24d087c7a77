// Photographs on the plan: a mark where each was taken. All of them stand beneath it, for whoever reads
// by ear or key; a tap on a mark leaves those of its place.
// @ts-check
import { make, put } from "../walk/elements.js";
import { say } from "../say.js";
import { svgElement } from "./svg.js";

/**
 * @typedef {object} Taken the photographs of one place, in mm of the sheet
 * @property {number} x
 * @property {number} y
 * @property {{ address: string, words: string }[]} photographs
 */

/** A button that shows them and hides them again; they are asked for once. */
export class Photographs {
  /** @type {SVGElement | null} */
  group = null;
  /** @type {Taken[]} */
  places = [];

  /** @param {HTMLElement} box */
  constructor(box) {
    this.svg = /** @type {SVGSVGElement} */ (box.querySelector("svg"));
    this.shown = /** @type {HTMLElement} */ (box.querySelector(".photographs-shown"));
    this.button = /** @type {HTMLButtonElement} */ (box.querySelector("button.photographs"));
    this.address = box.dataset.photographs ?? "";
    this.button.addEventListener("click", () => this.toggle());
  }

  async toggle() {
    const on = this.button.getAttribute("aria-pressed") !== "true";
    this.button.setAttribute("aria-pressed", String(on));
    this.shown.replaceChildren();
    if (on) await this.draw();
    if (this.group) put(this.group.style, { display: on ? "" : "none" });
    if (on && this.places.length) this.show(this.places.flatMap((place) => place.photographs));
  }

  async draw() {
    if (this.group) return;
    const answer = await fetch(this.address).catch(() => null);
    if (!answer?.ok) return this.say(say("No signal. Try again with a signal."));
    this.places = /** @type {Taken[]} */ (await answer.json());
    if (!this.places.length) return this.say(say("No photos on this storey yet."));
    this.group = svgElement("g", { class: "photographs" });
    this.group.append(...this.places.map((place) => this.mark(place)));
    this.svg.append(this.group);
  }

  /** @param {string} words */
  say(words) {
    this.shown.replaceChildren(make("p", { className: "small" }, words));
  }

  /** @param {Taken} place */
  mark({ x, y, photographs }) {
    const mark = svgElement("g", { class: "photograph" });
    const words = svgElement("text", { x, y, dy: "0.34em", "text-anchor": "middle" });
    words.textContent = String(photographs.length);
    mark.append(svgElement("circle", { cx: x, cy: y }), words);
    mark.addEventListener("click", (event) => {
      event.stopPropagation(); // the room beneath stays as it is
      this.show(photographs);
    });
    return mark;
  }

  /** @param {Taken["photographs"]} photographs */
  show(photographs) {
    this.shown.replaceChildren(...photographs.map(({ address, words }) => {
      const picture = make("img", { src: address, alt: "", loading: "lazy" });
      return make("figure", {}, make("a", { href: address, target: "_blank", rel: "noopener" }, picture, make("figcaption", {}, words)));
    }));
  }
}
