// What closes a line where one stands: the change of one fact, kept on the phone until it is sent. A
// figure is put to its limit at once; all else is checked when signal returns.
import { fixForm } from "../fix/form.js";
import { settles, verdict } from "../fix/judge.js";
import { say } from "../say.js";
import { confirmed } from "./consequence.js";
import { make, put } from "./elements.js";
import { by } from "./measure.js";
import { camera } from "./picture.js";
import { REFUSED, WAITING } from "./store.js";

/** @typedef {Walk.Entry<Walk.Fix>} FixEntry */

/**
 * Where what is typed for a fact is kept.
 * @param {string} item @param {(string | number)[]} path
 */
const keyOf = (item, path) => `fix: ${item} ${path.join("/")}`;

/**
 * A change that the site refused is typed again.
 * @param {FixEntry} entry
 * @returns {[string, Walk.Fields]}
 */
export const typedAgain = ({ item, change }) => [keyOf(item, change.path), { figure: change.typed }];

/**
 * The last change of an item that the phone still has.
 * @param {Walk.Entry[]} queue
 */
const lastFix = (queue) => /** @type {FixEntry | undefined} */ (queue.filter((entry) => entry.kind === "fix").at(-1));

/**
 * The change of an item that waits on the phone.
 * @param {Walk.Entry[]} queue
 */
export function waitingFix(queue) {
  const last = lastFix(queue);
  return last?.state === WAITING ? last : undefined;
}

/** How a line's facts are corrected. It is made once; its forms are made anew only while nobody types in them. */
export class Fixed {
  says = make("p", { className: "fixed-says", role: "status", hidden: true });
  forms = make("div", { hidden: true });
  start = make("button", { type: "button", className: "main", onclick: () => this.open() }, "");
  camera = camera(make("span", {}, say("Photo")), (file) => this.on.shot(this.item, file));
  element = make("div", { className: "fixed" }, this.start, this.says, this.forms, this.camera.button);
  drawn = "";
  /** @type {FixEntry | undefined} */
  last = undefined;
  /** @type {Walk.Entry[]} */
  queue = [];

  /** @param {Walk.Item} item @param {Walk.OnLine} on */
  constructor(item, on) {
    this.item = item;
    this.on = on;
    this.name();
    put(this.camera.input, { ariaLabel: say("Photo of {title}", { title: item.title }) });
    put(this.camera.button, { hidden: true });
    if (this.fixes.some(({ path }) => on.typed(keyOf(item.id, path)).figure)) this.open(false);
  }

  /** What lacks a figure is entered; what is wrong was fixed. */
  name() {
    const { title } = this.item;
    const missing = this.item.verdict === "info_needed";
    put(this.start, { textContent: missing ? say("Enter") : say("Fixed") });
    put(this.start, { ariaLabel: missing ? say("Enter: {title}", { title }) : say("Fixed: {title}", { title }) });
  }

  get fixes() {
    return this.item.fixes ?? [];
  }

  /** @param {boolean} focused */
  open(focused = true) {
    put(this.start, { hidden: true });
    put(this.forms, { hidden: false });
    put(this.camera.button, { hidden: false });
    this.draw();
    if (focused) /** @type {HTMLElement | null} */ (this.forms.querySelector("input, button"))?.focus();
  }

  /** @param {Walk.Item} item @param {Walk.Entry[]} queue */
  update(item, queue) {
    this.item = item;
    this.queue = queue;
    this.name();
    const last = (this.last = lastFix(queue));
    const waiting = last?.state === WAITING && last.ok !== false;
    put(this.says, { hidden: !last, textContent: last ? this.words(last) : "" });
    put(this.element, { hidden: !this.fixes.length && !last });
    put(this.start, { hidden: waiting || !this.forms.hidden || !this.fixes.length });
    if (!this.forms.hidden && !this.forms.contains(document.activeElement)) this.draw();
  }

  /** @param {FixEntry} entry */
  words({ state, says, change, judged }) {
    if (state === REFUSED) return say("Refused: {says}", { says });
    const what = change.typed ? `${change.typed}. ${judged}` : judged;
    return state === WAITING ? `${what} ${say("Not sent yet.")}` : what;
  }

  /** The forms, where the facts are others than those that are shown. */
  draw() {
    const now = JSON.stringify(this.fixes);
    if (now === this.drawn) return;
    this.drawn = now;
    this.forms.replaceChildren(...this.fixes.map((fix) => this.form(fix)));
  }

  /** @param {Fix.Fix} fix */
  form(fix) {
    const key = keyOf(this.item.id, fix.path);
    return fixForm(fix, {
      imperial: by.imperial,
      typed: this.on.typed(key).figure,
      keep: (typed) => this.on.type(key, { figure: typed }),
      record: (change) => confirmed(this.item.withdraws, this.forms, () => this.record(fix, change)),
    });
  }

  /** @param {Fix.Fix} fix @param {Fix.Change} made */
  async record(fix, made) {
    const { last } = this;
    // After one that is not sent yet, the house will say what that one says.
    const after = last?.state === WAITING && `${last.change.path}` === `${made.path}`;
    const change = after ? { ...made, was: last.change.now } : made;
    const figure = typeof change.now === "number";
    const limits = { ...fix, least: figure ? fix.least : null, most: figure ? fix.most : null };
    /** @type {Walk.Fix} */
    const given = {
      kind: "fix", change, withdraws: Boolean(this.item.withdraws),
      ok: figure ? settles(limits, /** @type {number} */ (change.now)) : null,
      judged: verdict(limits, Number(change.now), by.imperial),
    };
    if (!(await this.on.answer(this.item, given, {}))) return;
    this.on.type(keyOf(this.item.id, change.path), { figure: "" });
    this.drawn = "";
    this.forms.replaceChildren();
    put(this.forms, { hidden: true });
    this.update(this.item, this.queue);
  }
}
