// What is missing of many parts alike, asked once: the answer, and which parts are not so.
import { say } from "../say.js";
import { make, put } from "../walk/elements.js";
import { fixForm } from "./form.js";
import { understand } from "./judge.js";

const FIGURES = new Set(["length", "volume", "weight", "angle", "count"]);

/** One part that a question is about: like the others, or with an answer of its own. */
class Part {
  /** @param {Fix.Asked} asked @param {string} name @param {Fix.Question} question @param {boolean} imperial */
  constructor(asked, name, question, imperial) {
    this.asked = asked;
    this.name = name;
    this.question = question;
    this.imperial = imperial;
    this.not = make("input", { type: "checkbox" });
    this.own = make("input", { hidden: true, autocomplete: "off", inputMode: /** @type {const} */ ("text") });
    this.own.setAttribute("aria-label", say("{part}: its own figure", { part: name }));
    this.not.addEventListener("change", () => put(this.own, { hidden: !this.not.checked || !FIGURES.has(question.kind) }));
    this.element = make("li", {}, make("label", { className: "tick" }, this.not, " ", name), this.own);
  }

  /**
   * What is recorded of this part when the others have that answer; null where nothing is.
   * @param {unknown} now @param {string} typed
   * @returns {Fix.Change | null}
   */
  change(now, typed) {
    const { path } = this.asked;
    if (!this.not.checked) return this.question.shared ? null : { path, was: null, now, typed };
    const own = understand(this.question.kind, this.own.value, this.imperial);
    if (own === null) return null; // it stays missing
    return { path, was: null, now: own, typed: this.question.kind === "length" ? this.own.value : "" };
  }

  /** A part of which something is typed that cannot be read. */
  get unread() {
    const typed = this.own.value.trim();
    return this.not.checked && typed !== "" && understand(this.question.kind, typed, this.imperial) === null;
  }

  /** Where one value stands for all, a part that differs needs its own. */
  get lacking() {
    return this.question.shared && this.not.checked && !this.own.value.trim();
  }
}

/**
 * The name of a part; where a box holds several, which one of them it is, from the left.
 * @param {Fix.Asked} one @param {Fix.Asked[]} all
 */
function nameOf(one, all) {
  const same = all.filter(({ part }) => part === one.part);
  return same.length > 1 ? `${one.part} (${same.indexOf(one) + 1})` : one.part;
}

/**
 * A question with its answer in place. `record` is given all changes of one answer, once.
 * @param {Fix.Question} question
 * @param {{ imperial: boolean, record: (changes: Fix.Change[]) => void }} given
 */
export function questionForm(question, { imperial, record }) {
  const parts = question.asked.map((asked, _, all) => new Part(asked, nameOf(asked, all), question, imperial));
  const fault = make("p", { className: "fault", role: "alert", hidden: true });
  const answer = (/** @type {Fix.Change} */ { now, typed }) => {
    const short = parts.find((part) => part.unread || part.lacking);
    put(fault, { hidden: !short, textContent: short ? say("{part}: enter its own figure.", { part: short.name }) : "" });
    if (short) return short.own.focus();
    const all = question.shared ? [{ path: question.path, was: null, now, typed }] : [];
    return record([...all, ...parts.map((part) => part.change(now, typed)).filter((change) => change !== null)]);
  };
  const fix = { ...question, name: question.says, now: null, now_says: "", to_says: "" };
  const form = fixForm(fix, { imperial, record: answer });
  if (question.where) form.querySelector(".fix-name")?.after(make("p", { className: "where" }, question.where));
  if (parts.length > 1) {
    const count = parts.length;
    const list = make("ul", { className: "parts-asked" }, ...parts.map((part) => part.element));
    form.append(make("details", {}, make("summary", {}, say("{n} alike. Which are not?", { n: count })), list));
  }
  form.append(fault);
  return form;
}
