// What is not to code, lacks info or is to be fixed: a line each with its sign and its number, before the cards.
import { say } from "../say.js";
import { make, put } from "./elements.js";
import { Fixed, waitingFix } from "./fixed.js";
import { ItemFold } from "./line.js";

/** @param {Walk.Item} item @param {Walk.Entry[]} queue */
function sign(item, queue) {
  const fix = waitingFix(queue);
  if (fix?.ok) return say("Fixed");
  if (fix?.ok === null) return say("Fixed, to be checked");
  if (item.standing === "ok") return say("OK");
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
    this.fixed = new Fixed(item, on);
    this.element = make("article", { className: "first-line" }, this.fold.element, this.fixed.element);
    this.draw([]);
  }

  /** @param {Walk.Item | null} item @param {Walk.Entry[]} queue */
  update(item, queue) {
    this.fold.update(item, queue);
    if (item) this.fixed.update(item, queue);
    this.draw(queue);
  }

  /** @param {Walk.Entry[]} queue */
  draw(queue) {
    const { item } = this.fold;
    const settled = item.standing === "ok" || waitingFix(queue)?.ok;
    put(this.number, { textContent: item.number ? String(item.number) : "", hidden: !item.number });
    put(this.sign, { textContent: sign(item, queue) });
    this.element.dataset.verdict = settled ? "ok" : item.verdict;
  }
}
