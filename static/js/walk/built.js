// What was built otherwise than drawn, room by room: a box moved, removed, or one that no plan has.
import { lengthWords, parse } from "../lengths.js";
import { say } from "../say.js";
import { confirmed } from "./consequence.js";
import { make, put } from "./elements.js";
import { by, example, understood, unread } from "./measure.js";
import { REFUSED, WAITING } from "./store.js";

/** Under which name what the phone keeps of a part stands in its queue. @param {string} part */
export const keyOf = (part) => `built: ${part}`;

/** @type {Record<Walk.Change["kind"], string>} */
export const CHANGES = { moved: say("Moved"), removed: say("Removed"), added: say("Added"), named: say("Renamed") };

/**
 * What was typed of a change that the site refused, as its fields keep it.
 * @param {Walk.Built} entry
 * @returns {[string, Walk.Fields]}
 */
export function builtAgain({ part, change }) {
  if (change.kind === "named") return [keyOf(part), { named: change.name }];
  if (change.kind === "removed") return [keyOf(part), {}];
  const { at_typed, height_typed, wall } = change.where;
  return [keyOf(part), { from_left: at_typed, height: height_typed, wall }];
}

/** How a change of a part stands in the queue. @param {Walk.Entry} entry */
function stateOf(entry) {
  const what = entry.kind === "built" ? CHANGES[entry.change.kind] : "";
  if (entry.state === REFUSED) return say("Refused: {says}", { says: entry.says });
  return entry.state === WAITING ? `${what}. ${say("Not sent yet.")}` : `${what}.`;
}

/** @param {string} words @param {HTMLElement} field */
const labelled = (words, field) => make("label", {}, words, " ", field);

/** @param {[string, string][]} options value and words */
const select = (options) => make("select", {}, ...options.map(([value, words]) => new Option(words, value)));

/** Where it is drawn, in a field for where it is. @param {number | null | undefined} mm */
const drawnAt = (mm) => (typeof mm === "number" ? lengthWords(mm, by) : example);

/** A wall and how far along it, in the reader's unit; or the ceiling, where that may be. */
class Where {
  along = make("input", { autocomplete: "off", required: true, maxLength: 40 });
  up = make("input", { autocomplete: "off", maxLength: 40 });
  reads = make("span", { role: "status", className: "small" });

  /**
   * @param {string[]} walls @param {string} key @param {Walk.OnBuilt} on @param {{ drawn?: Walk.BuiltBox["place"], ceiling?: boolean }} more
   */
  constructor(walls, key, on, { drawn, ceiling = false } = {}) {
    this.key = key;
    this.on = on;
    const options = walls.map((each) => /** @type {[string, string]} */ ([each, say("wall {wall}", { wall: each })]));
    this.wall = select(ceiling ? [...options, ["", say("ceiling")]] : options);
    this.on_wall = make("div", {}, labelled(say("from the left end"), this.along), this.reads, labelled(say("height"), this.up));
    this.element = make("div", {}, labelled(say("Wall"), this.wall), this.on_wall);
    put(this.wall, { value: drawn?.wall ?? walls[0] ?? "" });
    put(this.along, { placeholder: drawnAt(drawn?.at_mm) });
    put(this.up, { placeholder: drawn ? drawnAt(drawn.height_mm) : "" });
    this.refill();
    this.wall.onchange = () => this.typed();
    for (const field of [this.along, this.up]) field.oninput = () => this.typed();
  }

  /** What is kept of it on the phone, into fields that nobody is typing in. */
  refill() {
    const { from_left = "", height = "", wall } = this.on.typed(this.key);
    if (this.element.contains(document.activeElement)) return;
    put(this.along, { value: from_left });
    put(this.up, { value: height });
    if (wall) put(this.wall, { value: wall });
    this.understand();
  }

  typed() {
    this.on.type(this.key, { from_left: this.along.value, height: this.up.value, wall: this.wall.value });
    for (const field of [this.along, this.up]) field.setCustomValidity("");
    this.understand();
  }

  understand() {
    put(this.reads, { textContent: understood(this.along.value.trim()) });
    put(this.on_wall, { hidden: !this.wall.value });
  }

  /** As it is sent; null where a length is missing or cannot be read, which its field then says. @returns {Walk.Where | null} */
  read() {
    const none = { at_mm: null, at_typed: "", height_mm: null, height_typed: "" };
    if (!this.wall.value) return { surface: "ceiling", wall: "", ...none };
    for (const field of [this.along, this.up]) field.setCustomValidity(unread(field.value.trim()));
    if (!this.along.reportValidity() || !this.up.reportValidity()) return null;
    const [at_typed, height_typed] = [this.along.value.trim(), this.up.value.trim()];
    return { surface: "wall", wall: this.wall.value, at_mm: parse(at_typed, by), at_typed, height_mm: parse(height_typed, by), height_typed };
  }
}

/** Gives one change to the phone, once whoever tapped has seen what follows from it. */
class Giver {
  /** @param {string} part @param {Walk.OnBuilt} on @param {HTMLElement} place */
  constructor(part, on, place) {
    this.part = part;
    this.on = on;
    this.place = place;
  }

  /** @param {Walk.Change} change @param {string} title @param {() => void} after */
  give(change, title, after) {
    const withdraws = this.on.withdraws();
    /** @type {Walk.Built} */
    const given = { kind: "built", part: this.part, change, withdraws: Boolean(withdraws) };
    return confirmed(withdraws, this.place, async () => {
      if (await this.on.built(given, title)) after();
    });
  }
}

/** One box: shut to where it is drawn, opened to what became of it. */
class BoxRow {
  words = make("span", { className: "check-words" });
  told = make("span", { className: "check-state" });
  body = make("div", { className: "fixed" });
  filled = false;
  /** @type {Where | null} */
  where = null;

  /** @param {Walk.BuiltBox} box @param {string[]} walls @param {Walk.OnBuilt} on */
  constructor(box, walls, on) {
    this.box = box;
    this.walls = walls;
    this.on = on;
    this.giver = new Giver(box.id, on, this.body);
    this.fold = make("details", { ontoggle: () => this.fill() }, make("summary", {}, this.words, " ", this.told), this.body);
    this.element = make("li", {}, this.fold);
    this.element.dataset.box = box.id;
  }

  fill() {
    if (this.filled || !this.fold.open) return;
    this.filled = true;
    const { place } = this.box;
    if (place.surface === "wall") {
      this.where = new Where(this.walls, keyOf(this.box.id), this.on, { drawn: place });
      this.body.append(this.where.element, make("button", { type: "button", onclick: () => this.moved() }, say("Record as moved")));
    }
    this.body.append(make("button", { type: "button", onclick: () => this.give({ kind: "removed", box: this.box.id, shown: this.box.place }) }, say("Removed: not there")),
      make("p", { className: "small" }, say("If removed, the next box is fed by a new cable. Its length and supports are not recorded yet.")));
  }

  moved() {
    const where = this.where?.read();
    if (where) this.give({ kind: "moved", box: this.box.id, shown: this.box.place, where });
  }

  /** @param {Walk.Change} change */
  give(change) {
    return this.giver.give(change, this.box.id, () => {
      this.on.type(keyOf(this.box.id), { from_left: "", height: "", wall: "" });
      this.fold.open = false;
      put(/** @type {HTMLElement} */ (this.element), { tabIndex: -1 });
      this.element.focus();
    });
  }

  /** @param {Walk.BuiltBox} box @param {Walk.Entry[]} queue */
  update(box, queue) {
    this.box = box;
    const last = queue.filter((entry) => entry.item === keyOf(box.id)).at(-1);
    put(this.words, { textContent: [box.id, box.what, "·", box.where].filter(Boolean).join(" ") });
    put(this.told, { textContent: last ? stateOf(last) : "" });
    this.where?.refill();
  }
}

/** A box that no plan has, put into a room. */
class Added {
  drawn = "";
  offered = "";
  states = make("div");
  body = make("div", { className: "fixed" });

  /** @param {string} room @param {Walk.Job} data @param {Walk.OnBuilt} on */
  constructor(room, data, on) {
    this.room = room;
    this.on = on;
    this.part = `in ${room}`;
    const walls = data.walls?.[room] ?? [];
    this.device = select((data.devices ?? []).map(({ kind, says }) => [kind, says]));
    this.where = new Where(walls, keyOf(this.part), on, { ceiling: true });
    this.from = make("select");
    this.offer(data.boxes ?? []);
    this.giver = new Giver(this.part, on, this.body);
    this.body.append(labelled(say("Device"), this.device), this.where.element, labelled(say("Fed from"), this.from),
      make("button", { type: "button", onclick: () => this.give() }, say("Record the new box")), this.states);
    this.element = make("details", {}, make("summary", {}, say("Add a box")), this.body);
  }

  give() {
    const where = this.where.read();
    if (!where) return null;
    const device = this.device.value;
    /** @type {Walk.Change} */
    const change = { kind: "added", room: this.room, device, where, fed_from: this.from.value };
    const title = this.device.selectedOptions[0]?.text ?? device;
    return this.giver.give(change, title, () => {
      this.on.type(keyOf(this.part), { from_left: "", height: "", wall: "" });
      for (const field of [this.where.along, this.where.up, this.from]) put(field, { value: "" });
    });
  }

  /** What it can be fed from: the boxes of this room, then all others. @param {Walk.BuiltBox[]} boxes */
  offer(boxes) {
    const known = boxes.map(({ id }) => id).join(" ");
    if (known === this.offered) return;
    this.offered = known;
    const { value } = this.from;
    /** @param {string} label @param {Walk.BuiltBox[]} those */
    const group = (label, those) => make("optgroup", { label }, ...those.map(({ id, what }) => new Option(`${id} ${what}`, id)));
    const here = boxes.filter((each) => each.room === this.room), others = boxes.filter((each) => each.room !== this.room);
    this.from.replaceChildren(new Option(say("not recorded yet"), ""), group(say("This room"), here), group(say("Other boxes"), others));
    put(this.from, { value: boxes.some(({ id }) => id === value) ? value : "" });
  }

  /** @param {Walk.Entry[]} queue @param {Walk.BuiltBox[]} boxes */
  update(queue, boxes) {
    this.offer(boxes);
    const own = queue.filter((entry) => entry.item === keyOf(this.part));
    const words = own.map((entry) => `${titleOf(entry)}${stateOf(entry)}`);
    if (words.join("\n") === this.drawn) return;
    this.drawn = words.join("\n");
    this.states.replaceChildren(...words.map((each) => make("p", { className: "fixed-says", role: "status" }, each)));
    this.where.refill();
  }

}

/** Where a box that was added is. @param {Walk.Entry} entry */
function titleOf(entry) {
  if (entry.kind !== "built" || entry.change.kind !== "added") return "";
  const { wall, at_typed } = entry.change.where;
  return wall ? `${say("wall {wall}", { wall })}, ${at_typed}: ` : `${say("ceiling")}: `;
}

/** The boxes of the room that is walked, beneath its cards. */
export class BuiltRoom {
  list = make("ul", { className: "checks" });
  /** @type {Map<string, BoxRow>} */
  rows = new Map();
  /** @type {Added | null} */
  added = null;
  room = "";

  /** @param {HTMLElement} place @param {Walk.OnBuilt} on */
  constructor(place, on) {
    this.place = place;
    this.on = on;
    place.append(this.list);
  }

  /** @param {Walk.Job} data @param {string} room @param {Walk.Entry[]} queue */
  update(data, room, queue) {
    const boxes = (data.boxes ?? []).filter((each) => each.room === room);
    put(this.place, { hidden: !room || !data.boxes });
    if (room !== this.room) this.turn(data, room);
    this.drop(boxes);
    for (const box of boxes) this.row(box, data.walls?.[room] ?? []).update(box, queue);
    this.added?.update(queue, data.boxes ?? []);
  }

  /** @param {Walk.BuiltBox} box @param {string[]} walls */
  row(box, walls) {
    const had = this.rows.get(box.id);
    if (had) return had;
    const made = new BoxRow(box, walls, this.on);
    this.list.append(made.element);
    this.rows.set(box.id, made);
    return made;
  }

  /** Rows of boxes that are gone. @param {Walk.BuiltBox[]} boxes */
  drop(boxes) {
    const there = new Set(boxes.map(({ id }) => id));
    for (const [id, row] of this.rows) {
      if (there.has(id)) continue;
      row.element.remove();
      this.rows.delete(id);
    }
  }

  /** @param {Walk.Job} data @param {string} room */
  turn(data, room) {
    this.room = room;
    this.rows.clear();
    this.list.replaceChildren();
    this.added?.element.remove();
    this.added = room ? new Added(room, data, this.on) : null;
    if (this.added) this.place.append(this.added.element);
  }
}

/** The name of a circuit, as its panel will say it. */
export class CircuitName {
  field = make("input", { autocomplete: "off", maxLength: 120 });
  told = make("p", { className: "fixed-says", role: "status" });
  element = make("div", { className: "row" });

  /** @param {Walk.Circuit} circuit @param {Walk.OnBuilt} on */
  constructor(circuit, on) {
    this.circuit = circuit;
    this.on = on;
    this.key = keyOf(circuit.id);
    this.giver = new Giver(circuit.id, on, this.element);
    const rename = make("button", { type: "button", onclick: () => this.give() }, say("Rename"));
    this.element.append(labelled(say("Name"), this.field), rename, this.told);
    this.field.oninput = () => on.type(this.key, { named: this.field.value });
  }

  give() {
    const name = this.field.value.trim(), shown = this.circuit.name ?? "";
    if (!name || name === shown) return this.field.focus();
    return this.giver.give({ kind: "named", circuit: this.circuit.id, shown, name }, `${this.circuit.label} → ${name}`, () => this.on.type(this.key, { named: "" }));
  }

  /** @param {Walk.Circuit} circuit @param {Walk.Entry[]} queue */
  update(circuit, queue) {
    this.circuit = circuit;
    const last = queue.filter((entry) => entry.item === this.key).at(-1);
    put(this.told, { textContent: last ? stateOf(last) : "" });
    put(this.element, { hidden: circuit.name === undefined });
    if (document.activeElement !== this.field) put(this.field, { value: this.on.typed(this.key).named || given(last) || (circuit.name ?? "") });
  }
}

/** The name that waits to be sent. @param {Walk.Entry | undefined} entry */
const given = (entry) => (entry?.kind === "built" && entry.change.kind === "named" ? entry.change.name : "");
