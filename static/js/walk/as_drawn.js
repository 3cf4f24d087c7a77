// The card of what is OK on plan in a room and nobody on site has confirmed: a short line for each
// rule, one tick for all that is as drawn, and a way out for whatever is not. Like other cards it is
// made once and changed in place: a line that is taken out stays where it is.
import { say } from "../say.js";
import { byTitle, ofRoom, stateOf } from "./checks.js";
import { make, put } from "./elements.js";
import { WAITING } from "./store.js";

const STATES = {
  waiting: "",
  ticked: say("OK, not sent yet"),
  sent: say("OK, sent and saved"),
  confirmed: say("OK on site"),
  apart: say("On its own card"),
  gone: say("No longer on the checklist"),
};
/** @typedef {keyof typeof STATES} State */

/** One item with its way out. */
class Line {
  /** @type {State} */
  state = "waiting";
  words = make("span", { className: "check-words" });
  told = make("span", { className: "check-state" });
  where = make("p", { className: "where" });

  /** @param {Walk.Item} item @param {() => void} out */
  constructor(item, out) {
    this.item = item;
    /** @type {Walk.Entry[]} */
    this.queue = [];
    this.out = make("button", { type: "button", className: "out", onclick: out });
  }

  /**
   * The item as it stands now; null once it is gone from the checklist.
   * @param {Walk.Item | null} item @param {Walk.Fields} typed @param {Walk.Entry[]} queue
   */
  update(item, typed, queue) {
    if (item) this.item = item;
    this.queue = queue;
    this.state = item ? stateOf(item, typed, queue) : "gone";
    const sent = this.state === "ticked" && queue.every((entry) => entry.state !== WAITING);
    put(this.told, { textContent: STATES[sent ? "sent" : this.state] });
    put(this.words, { textContent: this.item.says });
    put(this.where, { textContent: this.item.where });
    const back = this.state === "apart" && Boolean(typed.apart);
    put(this.out, { textContent: back ? say("As drawn after all") : say("Not as drawn") });
    put(this.out, { hidden: !back && !["waiting", "ticked"].includes(this.state) });
    const { title, says } = this.item;
    put(this.out, { ariaLabel: `${this.out.textContent}: ${title}: ${says}` });
  }
}

export class AsDrawn {
  /** @type {Map<string, Line>} By item. */
  lines = new Map();
  /** @type {Set<Element>} Lines that have not been on the screen since their facts came. */
  unseen = new Set();
  /** @type {Map<Line, HTMLElement>} What is on the screen when a line is. */
  heads = new Map();
  /** @type {Map<HTMLElement, Line[]>} Where it is told how the items of a rule are. */
  groups = new Map();
  list = make("ul", { className: "checks" });
  unread = make("p", { className: "small", role: "status" });
  all = make("button", { type: "button", className: "all", onclick: () => this.confirm() });
  told = make("span");
  undo = make("button", { type: "button", onclick: () => this.on.takeBack(this.untold.map((entry) => entry.id)) }, say("Undo: not sent yet"));
  given = make("p", { className: "row entry-state", hidden: true }, this.told, this.undo);

  /**
   * `on` has what the page does.
   * @param {Walk.Item[]} items @param {Walk.OnRoom} on
   */
  constructor(items, on) {
    this.on = on;
    this.screen = new IntersectionObserver((seen) => this.read(seen), { threshold: 0.5, rootMargin: "-100px 0px 0px" });
    const intro = say("OK on plan, not confirmed on site. Check each line against the wall and take out what is not as drawn.");
    this.element = make(
      "article", { className: "card as-drawn" },
      make("h3", {}, say("As drawn")), make("p", {}, intro), this.list, this.unread, this.all, this.given,
    );
    for (const [title, same] of byTitle(items)) this.list.append(this.check(title, same));
  }

  /** @param {string} id */
  has(id) {
    return this.lines.has(id);
  }

  leave() {
    this.screen.disconnect();
  }

  /**
   * The line of one rule: itself the item where there is one, opened to the items where there are more.
   * @param {string} title @param {Walk.Item[]} items
   */
  check(title, items) {
    const lines = items.map((item) => this.line(item));
    const head = make("summary", {}, make("b", {}, items.length > 1 ? `${title} (${items.length})` : title));
    const fold = make("details", { className: "rule-line" }, head);
    if (lines.length === 1) {
      const [one] = lines;
      head.append(": ", one.words, " ", one.told);
      fold.append(one.where);
    } else {
      const told = make("span", { className: "check-state" });
      head.append(" ", told);
      fold.append(make("ul", {}, ...lines.map(item)));
      this.groups.set(told, lines);
    }
    const key = `as drawn: ${title}`;
    fold.open = Boolean(this.on.typed(key).listed);
    fold.ontoggle = () => this.on.type(key, { listed: fold.open });
    for (const line of lines) this.heads.set(line, head);
    this.anew(head);
    return make("li", {}, fold, ...(lines.length === 1 ? [lines[0].out] : []));
  }

  /** @param {Walk.Item} given */
  line(given) {
    const line = new Line(given, () => this.turn(line));
    this.lines.set(given.id, line);
    return line;
  }

  /** @param {Line} line */
  turn(line) {
    if (line.state === "apart") this.on.together(line.item);
    else this.on.apart(line.item, line.queue.filter(ofRoom).map((entry) => entry.id));
  }

  /** @param {Element} head */
  anew(head) {
    this.unseen.add(head);
    this.screen.unobserve(head);
    this.screen.observe(head); // tells once more where it is
  }

  /** @param {IntersectionObserverEntry[]} seen */
  read(seen) {
    for (const each of seen) if (each.isIntersecting) this.unseen.delete(each.target);
    this.offer();
  }

  /**
   * The items as they stand now with what of each waits in the queue.
   * @param {Map<string, Walk.Item>} items @param {Walk.Entry[]} queue
   */
  update(items, queue) {
    for (const [id, line] of this.lines) {
      const item = items.get(id) ?? null, had = line.item.fingerprint;
      line.update(item, this.on.typed(id), queue.filter((entry) => entry.item === id));
      if (line.item.fingerprint !== had) this.changed(line);
    }
    for (const [told, lines] of this.groups) put(told, { textContent: inShort(lines) });
    this.offer();
  }

  /** @param {Line} line */
  changed(line) {
    const head = this.heads.get(line);
    if (!head) return;
    if (!head.querySelector(".do")) head.append(make("p", { className: "do" }, say("The facts have changed. Read them again.")));
    this.anew(head);
  }

  /** Those that the tick of the room would be of. */
  get waiting() {
    return [...this.lines.values()].filter((line) => line.state === "waiting").map((line) => line.item);
  }

  /** What of the room's tick the phone still has to itself. */
  get untold() {
    const entries = [...this.lines.values()].flatMap((line) => line.queue.filter(ofRoom));
    return entries.filter((entry) => entry.state === WAITING && !entry.sent);
  }

  // The tick is offered once every line has been on the screen.
  offer() {
    const { waiting, untold } = this;
    const n = [...this.lines.values()].filter((line) => line.state === "ticked").length;
    put(this.all, { hidden: !waiting.length, disabled: this.unseen.size > 0, textContent: `${say("All as drawn")} (${waiting.length})` });
    const left = this.unseen.size && waiting.length;
    put(this.unread, { textContent: left ? say("Lines not on screen yet: {n}. Scroll through the list first.", { n: this.unseen.size }) : "" });
    put(this.told, { textContent: say("OK as drawn: {n}", { n }) });
    put(this.given, { hidden: !n });
    put(this.undo, { hidden: !untold.length });
  }

  confirm() {
    if (!this.unseen.size) this.on.confirm(this.waiting);
  }
}

/**
 * How the items of a rule are, where they are folded away.
 * @param {Line[]} lines
 */
function inShort(lines) {
  const out = lines.filter((line) => line.state === "apart").length;
  const told = new Set(lines.filter((line) => line.state !== "apart").map((line) => line.told.textContent));
  const alike = told.size === 1 ? [...told] : [];
  return [...alike, out ? say("On their own cards: {n}", { n: out }) : ""].filter(Boolean).join("; ");
}

/** @param {Line} line */
const item = (line) => make("li", {}, make("div", {}, line.words, " ", line.told, line.where), line.out);
