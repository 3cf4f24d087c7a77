// Lines of a card: one a rule, opened to its items, and an item opened to its answers. Each is made once
// and changed in place; what is inside an item is made when it is first opened.
import { say } from "../say.js";
import { checkOf, inShort, lacksPhotograph, stateOf } from "./checks.js";
import { make, put } from "./elements.js";

/** @typedef {(id: string) => Walk.Entry[]} QueueOf */

/** One item, shut to its title or to what it says. */
export class ItemFold {
  /** @type {import("./card.js").Card | null} */
  card = null;
  /** @type {Walk.Entry[]} */
  queue = [];
  gone = false;
  /** Whether its facts were corrected from this phone, so that others are no news. */
  fixed = false;
  words = make("span", { className: "check-words" });
  told = make("span", { className: "check-state" });
  changed = make("p", { className: "do", hidden: true, textContent: say("The facts have changed. Read them again.") });
  ok = make("button", { type: "button", className: "line-ok", hidden: true, onclick: () => this.on.confirm([this.item], this.item.title, !this.eyes) }, say("OK"));

  /**
   * `named` is what stands in the shut line, and is not said again inside.
   * @param {Walk.Item} item @param {Walk.OnLine} on @param {"title" | "says"} named
   * @param {{ signs?: Node[], placed?: boolean }} more
   */
  constructor(item, on, named, { signs = [], placed = false } = {}) {
    this.item = item;
    this.placed = placed;
    this.on = on;
    this.named = named;
    this.head = make("summary", {}, ...signs, this.words, " ", this.told, this.changed);
    this.element = make("details", { className: "item-line" }, this.head);
    this.element.dataset.item = item.id;
    this.key = `line: ${item.id}`;
    this.element.open = Boolean(on.typed(this.key).listed);
    this.element.ontoggle = () => this.toggled();
    this.draw();
    if (this.element.open) this.fill();
  }

  /** What is named by its title alone has its place beside it where a card has several. */
  get title() {
    return this.placed ? `${this.item.title}: ${this.item.where}` : this.item.title;
  }

  /** Whether the OK is of eyes alone, not of what the plan has already. */
  get eyes() {
    return this.item.verdict === "verify";
  }

  toggled() {
    this.on.type(this.key, { listed: this.element.open });
    if (this.element.open) this.fill();
  }

  fill() {
    if (!this.card) {
      this.card = this.on.card(this.item, this.named);
      this.element.append(this.card.element);
    }
    this.card.update(this.item, this.queue);
  }

  /**
   * The item as it stands now; null once it is gone from the checklist. Whether its facts are others.
   * @param {Walk.Item | null} item @param {Walk.Entry[]} queue
   */
  update(item, queue) {
    const other = Boolean(item) && item?.fingerprint !== this.item.fingerprint;
    if (item) this.item = item;
    this.gone = !item;
    this.queue = queue;
    this.fixed ||= queue.some((entry) => entry.kind === "fix");
    if (other && !this.fixed) put(this.changed, { hidden: false });
    this.draw();
    this.card?.update(this.item, queue);
    return other;
  }

  draw() {
    const { item, queue } = this;
    put(this.words, { textContent: this.named === "title" ? this.title : item.says });
    put(this.told, { textContent: this.gone ? say("No longer on the checklist") : inShort(item, this.on.typed(item.id), queue) });
    put(this.ok, { hidden: !this.waits("line"), disabled: lacksPhotograph(item, queue), ariaLabel: say("OK: {title}", { title: this.title }) });
  }

  /** @param {Walk.Check} check */
  waits(check) {
    return !this.gone && checkOf(this.item) === check && stateOf(this.item, this.on.typed(this.item.id), this.queue) === "waiting";
  }
}

/** A rule with its items in this room. */
export class Line {
  told = make("span", { className: "check-state" });
  ok = make("button", { type: "button", className: "line-ok", hidden: true, onclick: () => this.confirm() }, say("OK"));

  /** @param {string} title @param {Walk.Item[]} items @param {Walk.OnLine} on @param {boolean} placed */
  constructor(title, items, on, placed = false) {
    this.title = title;
    this.on = on;
    const one = items.length === 1;
    this.folds = items.map((item) => new ItemFold(item, on, one ? "title" : "says", { placed }));
    const [first] = this.folds;
    if (one) {
      this.head = first.head;
      this.element = make("li", {}, first.element, first.ok);
      return;
    }
    this.head = make("summary", {}, make("span", { className: "check-words" }, `${title} (${items.length})`), " ", this.told);
    this.rows = make("ul", {}, ...this.folds.map((each) => make("li", {}, each.element, each.ok)));
    this.element = make("li", {}, fold(this.head, this.rows, on, `line: ${items[0].card ?? ""} ${title}`), this.ok);
  }

  /** @param {Map<string, Walk.Item>} items @param {QueueOf} queueOf */
  update(items, queueOf) {
    let other = false;
    for (const each of this.folds) other = each.update(items.get(each.item.id) ?? null, queueOf(each.item.id)) || other;
    if (this.folds.length === 1) return other;
    put(this.told, { textContent: alike(this.folds) });
    const waiting = this.folds.filter((each) => each.waits("line"));
    const together = waiting.length > 0 && waiting.every((each) => !each.eyes);
    put(this.ok, { hidden: !together, ariaLabel: say("OK: {title}", { title: this.title }) });
    if (together) for (const each of this.folds) put(each.ok, { hidden: true });
    return other;
  }

  // What is on plan at several places of one line is confirmed by one tap there.
  confirm() {
    const waiting = this.folds.filter((each) => each.waits("line")).map((each) => each.item);
    this.on.confirm(waiting, this.title, true);
  }
}

/** Everything of a card that is OK on plan and is seen on site by one look, rule by rule. */
export class DrawnLine {
  told = make("span", { className: "check-state" });

  /** @param {Line[]} lines @param {string} card @param {Walk.OnLine} on */
  constructor(lines, card, on) {
    this.lines = lines;
    this.folds = lines.flatMap((line) => line.folds);
    const words = say("All as drawn ({n})", { n: this.folds.length });
    this.head = make("summary", {}, make("span", { className: "check-words" }, words), " ", this.told);
    this.rows = make("ul", {}, ...lines.map((line) => line.element));
    this.element = make("li", { className: "drawn" }, fold(this.head, this.rows, on, `line: ${card} as drawn`));
  }

  /** @param {Map<string, Walk.Item>} items @param {QueueOf} queueOf */
  update(items, queueOf) {
    let other = false;
    for (const line of this.lines) other = line.update(items, queueOf) || other;
    put(this.told, { textContent: alike(this.folds) });
    return other;
  }
}

/**
 * @param {HTMLElement} head @param {HTMLElement} rows @param {Walk.OnLine} on @param {string} key
 */
function fold(head, rows, on, key) {
  const made = make("details", { className: "rule-line" }, head, rows);
  made.open = Boolean(on.typed(key).listed);
  made.ontoggle = () => on.type(key, { listed: made.open });
  return made;
}

/**
 * How the items of a line are, where they are folded away: in a word if all are alike.
 * @param {ItemFold[]} folds
 */
function alike(folds) {
  /** @type {Map<string, number>} */
  const counts = new Map();
  for (const each of folds) {
    const words = each.told.textContent ?? "";
    counts.set(words, (counts.get(words) ?? 0) + 1);
  }
  if (counts.size === 1) return [...counts.keys()][0];
  return [...counts].filter(([words]) => words).map(([words, n]) => `${words}: ${n}`).join("; ");
}
