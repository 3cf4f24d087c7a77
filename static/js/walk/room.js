// The cards of the room that somebody stands in. They are put in order when the room is entered; from
// then on each stays where it is, whatever is ticked, sent or read anew, so that none moves under a
// finger: one that passes stays among the open ones until the room is entered again. What is as drawn
// has one card for all of it, and cards of their own what is taken out there.
import { stateOf, together } from "./checks.js";

/** @typedef {import("./card.js").Card} Card */
/** @typedef {import("./as_drawn.js").AsDrawn} AsDrawn */

export class Room {
  /**
   * Two places for cards, what makes one of an item, and one of all that is as drawn.
   * @param {HTMLElement} open @param {HTMLElement} passed
   * @param {{ card(item: Walk.Item): Card, asDrawn(items: Walk.Item[]): AsDrawn, typed(item: string): Walk.Fields }} makes
   */
  constructor(open, passed, makes) {
    this.open = open;
    this.passed = passed;
    this.makes = makes;
    /** @type {string | null} */
    this.key = null;
    /** @type {Map<string, Card>} */
    this.cards = new Map();
    /** @type {AsDrawn[]} One, and one more for what became as drawn since the room was entered. */
    this.lists = [];
  }

  // Whatever is shown next is put in order anew.
  leave() {
    this.key = null;
  }

  /**
   * Show these items with what of each waits in the queue; how many stand among those that passed,
   * by what somebody saw on site and by the plan alone.
   * @param {string} key @param {Walk.Item[]} items @param {Walk.Entry[]} queue
   */
  show(key, items, queue) {
    if (key !== this.key) this.enter(key);
    /** @param {Walk.Item} item */
    const of = (item) => queue.filter((entry) => entry.item === item.id);
    const fresh = items.filter((item) => this.belongs(item, of(item)));
    const apart = items.filter((item) => {
      const listed = fresh.includes(item) || this.listed(item.id);
      return !listed || stateOf(item, this.makes.typed(item.id), of(item)) === "apart";
    });
    this.drop(new Set(apart.map((item) => item.id)));
    for (const item of apart) {
      const card = this.cards.get(item.id) ?? this.begin(item);
      card.update(item, of(item));
    }
    this.list(items, fresh, queue);
    return this.counts();
  }

  /** @param {string} id */
  listed(id) {
    return this.lists.some((list) => list.has(id));
  }

  /**
   * Whether an item belongs to what is as drawn and is not there yet. One that has a card of its own
   * keeps it until the room is entered again.
   * @param {Walk.Item} item @param {Walk.Entry[]} queue
   */
  belongs(item, queue) {
    const typed = { ...this.makes.typed(item.id), apart: false }; // its line is the way back
    return !this.listed(item.id) && !this.cards.has(item.id) && together(item, typed, queue);
  }

  /**
   * The cards that nobody needs, but for those with something under somebody's hands.
   * @param {Set<string>} now
   */
  drop(now) {
    for (const [id, card] of this.cards) {
      if (now.has(id) || card.busy) continue;
      card.element.remove();
      this.cards.delete(id);
    }
  }

  /**
   * What is as drawn, in the card where it is; what became so meanwhile in a card after all others.
   * @param {Walk.Item[]} items @param {Walk.Item[]} fresh @param {Walk.Entry[]} queue
   */
  list(items, fresh, queue) {
    if (fresh.length) {
      const made = this.makes.asDrawn(fresh);
      this.lists.push(made);
      this.open.append(made.element);
    }
    const byId = new Map(items.map((item) => [item.id, item]));
    for (const list of this.lists) list.update(byId, queue);
  }

  counts() {
    const passed = [...this.cards.values()].filter((card) => card.element.parentElement === this.passed);
    const site = passed.filter((card) => card.item.latest?.outcome === "ok").length;
    const na = passed.filter((card) => card.item.latest?.outcome === "na").length;
    return { site, na, plan: passed.length - site - na };
  }

  /** @param {string} key */
  enter(key) {
    this.key = key;
    this.cards.clear();
    for (const list of this.lists) list.leave();
    this.lists = [];
    this.open.replaceChildren();
    this.passed.replaceChildren();
  }

  /** @param {Walk.Item} item */
  begin(item) {
    const card = this.makes.card(item);
    this.cards.set(item.id, card);
    (item.standing === "ok" && !item.as_drawn ? this.passed : this.open).append(card.element);
    return card;
  }
}
