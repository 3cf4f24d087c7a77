// What is not to code, lacks info or is to be fixed: a line each with its sign and its number, before the cards.
import { say } from "../say.js";
import { make, put } from "./elements.js";
import { fixedControl } from "./fixed.js";
import { ItemFold } from "./line.js";

/** @param {Walk.Item} item */
function sign(item) {
  if (item.verdict === "not_to_code") return say("Not to code");
  if (item.verdict === "info_needed") return say("Info needed");
  return item.contest.length ? say("Someone disagrees") : say("Fix");
}

export class FirstLine {
  number = make("span", { className: "number" });
  sign = make("b", { className: "sign-words" });

  /** @param {Walk.Item} item @param {Walk.OnLine} on */
  constructor(item, on) {
    this.fold = new ItemFold(item, on, "says", { signs: [this.number, this.sign, document.createTextNode(" ")] });
    const control = fixedControl(item);
    this.element = make("article", { className: "first-line" }, this.fold.element, ...(control ? [control] : []));
    this.draw();
  }

  /** @param {Walk.Item | null} item @param {Walk.Entry[]} queue */
  update(item, queue) {
    this.fold.update(item, queue);
    this.draw();
  }

  draw() {
    const { item } = this.fold;
    put(this.number, { textContent: item.number ? String(item.number) : "", hidden: !item.number });
    put(this.sign, { textContent: sign(item) });
    this.element.dataset.verdict = item.verdict;
  }
}
