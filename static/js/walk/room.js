// The cards of the room that somebody stands in. They are put in order when the room is entered; from
// then on each stays where it is, whatever is ticked, sent or read anew, so that none moves under a
// finger: one that passes stays among the open ones until the room is entered again.

/** @typedef {import("./card.js").Card} Card */

export class Room {
  /**
   * Two places for cards, and what makes one of an item.
   * @param {HTMLElement} open @param {HTMLElement} passed @param {(item: Walk.Item) => Card} card
   */
  constructor(open, passed, card) {
    this.open = open;
    this.passed = passed;
    this.card = card;
    /** @type {string | null} */
    this.key = null;
    /** @type {Map<string, Card>} */
    this.cards = new Map();
  }

  // Whatever is shown next is put in order anew.
  leave() {
    this.key = null;
  }

  /**
   * Show these items with what of each waits in the queue; how many stand among those that passed.
   * @param {string} key @param {Walk.Item[]} items @param {Walk.Entry[]} queue
   */
  show(key, items, queue) {
    if (key !== this.key) this.enter(key);
    const now = new Set(items.map((item) => item.id));
    for (const [id, card] of this.cards) {
      if (now.has(id) || card.busy) continue;
      card.element.remove();
      this.cards.delete(id);
    }
    for (const item of items) {
      const card = this.cards.get(item.id) ?? this.begin(item);
      card.update(item, queue.filter((entry) => entry.item === item.id));
    }
    return this.passed.childElementCount;
  }

  /** @param {string} key */
  enter(key) {
    this.key = key;
    this.cards.clear();
    this.open.replaceChildren();
    this.passed.replaceChildren();
  }

  /** @param {Walk.Item} item */
  begin(item) {
    const card = this.card(item);
    this.cards.set(item.id, card);
    (item.standing === "ok" ? this.passed : this.open).append(card.element);
    return card;
  }
}
