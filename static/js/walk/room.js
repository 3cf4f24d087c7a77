// What is shown of the room that somebody stands in: first what is not to code, then at most three cards,
// then what is OK on plan and nobody has to see. It is laid out when the room is entered; from then on
// each line stays where it is, whatever is ticked, sent or read anew, so that none moves under a finger.
import { say } from "../say.js";
import { byTitle, checkOf } from "./checks.js";
import { make } from "./elements.js";
import { FirstLine } from "./first.js";
import { Line } from "./line.js";
import { CARDS, RoomCard } from "./room_card.js";

const KINDS = /** @type {Walk.CardKind[]} */ (Object.keys(CARDS));

/**
 * @param {Walk.Item} item
 * @returns {"first" | "passed" | Walk.CardKind}
 */
function slot(item) {
  if (item.first ?? ["not_to_code", "info_needed"].includes(item.verdict)) return "first";
  if (item.standing === "ok" && !checkOf(item) && !item.latest) return "passed";
  return item.card ?? "own";
}

export class Room {
  /** @type {string | null} */
  key = null;
  /** @type {Map<string, FirstLine>} */
  first = new Map();
  /** @type {Map<Walk.CardKind, RoomCard>} */
  cards = new Map();
  /** @type {Line[]} */
  onPlan = [];
  /** @type {Map<string, Walk.Item>} Those on plan, whose lines are made when they are first opened. */
  passed = new Map();
  /** @type {Map<string, Walk.Item>} */
  items = new Map();
  /** @type {(id: string) => Walk.Entry[]} */
  queueOf = () => [];

  /**
   * `open` and `fold` are where cards stand, and what is on plan.
   * @param {HTMLElement} open @param {HTMLDetailsElement} fold @param {HTMLElement} list @param {Walk.OnLine} on
   */
  constructor(open, fold, list, on) {
    this.open = open;
    this.fold = fold;
    this.list = list;
    this.on = on;
    this.fold.addEventListener("toggle", () => this.unfold());
  }

  // Whatever is shown next is laid out anew.
  leave() {
    this.key = null;
  }

  /**
   * Show a room with what of it waits in the queue; how many are OK, by site and by plan alone.
   * @param {string} key @param {Walk.Room} room @param {Walk.Entry[]} queue
   */
  show(key, room, queue) {
    this.items = new Map(room.items.map((item) => [item.id, item]));
    this.queueOf = (id) => queue.filter((entry) => entry.item === id);
    if (key !== this.key) this.enter(key);
    this.place(room);
    for (const [id, line] of this.first) line.update(this.items.get(id) ?? null, this.queueOf(id));
    for (const card of this.cards.values()) card.update(this.items, this.queueOf);
    for (const line of this.onPlan) line.update(this.items, this.queueOf);
    const answered = room.items.filter((item) => item.standing === "ok");
    const site = answered.filter((item) => item.latest?.outcome === "ok").length;
    const na = answered.filter((item) => item.latest?.outcome === "na").length;
    return { site, na, plan: this.passed.size };
  }

  /** @param {string} key */
  enter(key) {
    this.key = key;
    for (const card of this.cards.values()) card.leave();
    for (const each of [this.first, this.cards, this.passed]) each.clear();
    this.onPlan = [];
    this.open.replaceChildren();
    this.list.replaceChildren();
  }

  /**
   * A place for each item that has none yet, after those that have.
   * @param {Walk.Room} room
   */
  place({ items, sample }) {
    /** @type {Map<Walk.CardKind, Walk.Item[]>} */
    const fresh = new Map();
    for (const item of items.filter((each) => !this.placed(each.id))) {
      const where = slot(item);
      if (where === "first") this.begin(item);
      else if (where === "passed") this.passed.set(item.id, item);
      else fresh.set(where, [...(fresh.get(where) ?? []), item]);
    }
    for (const kind of KINDS) {
      const those = fresh.get(kind);
      if (those) this.card(kind).add(those);
    }
    if (sample?.length) this.cards.get("boxes")?.sample(sample);
    this.unfold();
  }

  /** @param {string} id */
  placed(id) {
    return this.first.has(id) || this.passed.has(id) || [...this.cards.values()].some((card) => card.ids.has(id));
  }

  /** @param {Walk.Item} item */
  begin(item) {
    const line = new FirstLine(item, this.on);
    const last = [...this.first.values()].at(-1);
    this.first.set(item.id, line);
    if (last) last.element.after(line.element);
    else this.open.prepend(line.element);
  }

  /** @param {Walk.CardKind} kind */
  card(kind) {
    const had = this.cards.get(kind);
    if (had) return had;
    const made = new RoomCard(kind, this.on);
    this.cards.set(kind, made);
    this.open.append(made.element);
    return made;
  }

  unfold() {
    if (!this.fold.open || this.list.childElementCount || !this.passed.size) return;
    const lines = [...byTitle([...this.passed.values()])].map(([title, same]) => new Line(title, same, this.on));
    this.onPlan = lines;
    this.list.append(make("ul", { className: "checks", ariaLabel: say("OK on plan") }, ...lines.map((line) => line.element)));
    for (const line of lines) line.update(this.items, this.queueOf);
  }

  /** The card whose OK is given next; none where nothing here waits for one. */
  get next() {
    const order = KINDS.map((kind) => this.cards.get(kind));
    return order.find((card) => card?.folds.some((fold) => fold.waits("card") || fold.waits("line")));
  }
}
