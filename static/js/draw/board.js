// The house on the board: every change by name, undone and done again; a draft that outlives the tab.
import { say } from "../say.js";
import { words } from "./form.js";
import { at, inside, round, sides, wallsOf } from "./geometry.js";
import { byId, find, forget, free, stemOf, wallOf, whole } from "./parts.js";

const MOST = 200;

export class Board {
  /** @param {House.Given} house @param {() => void} changed */
  constructor(house, changed) {
    this.changed = changed;
    /** @type {House.Whole[]} */
    this.past = [];
    /** @type {House.Whole[]} */
    this.future = [];
    this.house = whole(house);
    this.storey = (this.house.storeys.find((s) => s.id === "main") ?? this.house.storeys[0]).id;
  }

  get rooms() {
    return this.house.rooms.filter((room) => room.storey === this.storey);
  }

  /**
   * Everything that changes the house goes through here; `change` is given a copy to write into.
   * @template T
   * @param {(house: House.Whole) => T} change
   * @returns {T extends void ? true : T}
   */
  change(change) {
    const next = structuredClone(this.house);
    const given = change(next);
    /** @typedef {T extends void ? true : T} Given */
    if (given === false) return /** @type {Given} */ (false);
    this.past.push(this.house);
    if (this.past.length > MOST) this.past.shift();
    this.future = [];
    this.house = next;
    this.changed();
    return /** @type {Given} */ (given ?? true);
  }

  undo() {
    if (this.past.length) this.step(this.past, this.future);
  }

  redo() {
    if (this.future.length) this.step(this.future, this.past);
  }

  /** @param {House.Whole[]} from @param {House.Whole[]} to */
  step(from, to) {
    const house = from.pop();
    if (!house) return;
    to.push(this.house);
    this.house = house;
    this.changed();
  }

  /** @param {House.Given} house */
  replace(house) {
    return this.change((next) => {
      const facts = /** @type {Record<string, unknown>} */ (/** @type {unknown} */ (next));
      for (const key of Object.keys(facts)) delete facts[key];
      Object.assign(facts, whole(house));
    });
  }

  /**
   * @param {House.Point[]} points @param {string} kind
   * @returns {House.Path | false}
   */
  addRoom(points, kind) {
    return this.change((house) => {
      const id = free(house.rooms, kind.slice(0, 12));
      const number = house.rooms.filter((room) => room.kind === kind).length;
      const name = say(words(kind)) + (number ? ` ${number + 1}` : "");
      house.rooms.push({
        id, name: name[0].toUpperCase() + name.slice(1), kind, area: house.areas[0].id, storey: this.storey,
        ...wallsOf(points), ceiling_mm: 2440, fixtures: [],
      });
      return ["rooms", id];
    });
  }

  /** @param {string} name @param {boolean} above */
  addStorey(name, above) {
    return this.change((house) => {
      const id = free(house.storeys, stemOf(name).slice(0, 20) || "storey");
      const index = house.storeys.findIndex((storey) => storey.id === this.storey) + (above ? 1 : 0);
      house.storeys.splice(index, 0, { id, name });
      this.storey = id;
      return true;
    });
  }

  /**
   * @param {string} roomId @param {string} wallId @param {number} middle
   * @param {Omit<House.Opening, "at_mm">} given
   * @returns {House.Path | false}
   */
  addOpening(roomId, wallId, middle, given) {
    return this.change((house) => {
      const wall = wallOf(house, roomId, wallId);
      const width = Math.min(given.width_mm, wall.length_mm);
      const left = begins(middle, width, wall.length_mm);
      if (taken(wall.openings ?? [], left, width)) return false;
      wall.openings = [...(wall.openings ?? []), { ...given, at_mm: round(left), width_mm: width }]
        .sort((a, b) => a.at_mm - b.at_mm);
      const index = wall.openings.findIndex((each) => each.at_mm === round(left));
      return ["rooms", roomId, "walls", wallId, "openings", index];
    });
  }

  /**
   * @param {string} roomId @param {string} wallId @param {number} middle
   * @param {{ kind: string, width_mm: number, depth_mm?: number, top_mm?: number }} given
   * @returns {House.Path | false}
   */
  addFixture(roomId, wallId, middle, given) {
    return this.change((house) => {
      const room = byId(house.rooms, roomId);
      const wall = wallOf(house, roomId, wallId);
      const width = Math.min(given.width_mm, wall.length_mm);
      const left = begins(middle, width, wall.length_mm);
      const id = free(room.fixtures ?? [], given.kind);
      room.fixtures = [...(room.fixtures ?? []), { id, ...given, wall: wallId, at_mm: round(left), width_mm: width }];
      return ["rooms", roomId, "fixtures", id];
    });
  }

  /**
   * @param {string} roomId @param {string} wallId
   * @returns {House.Path | false}
   */
  addCounter(roomId, wallId) {
    return this.change((house) => {
      const wall = wallOf(house, roomId, wallId);
      const id = free(house.counters, "k");
      const along = [{ wall: wallId, at_mm: 0, width_mm: wall.length_mm }];
      house.counters.push({ id, room: roomId, kind: "wall", along, depth_mm: 635, top_mm: 910, interruptions: [] });
      return ["counters", id];
    });
  }

  /**
   * @param {string} roomId @param {string} kind
   * @returns {House.Path | false}
   */
  addIsland(roomId, kind) {
    return this.change((house) => {
      const id = free(house.counters, "k");
      house.counters.push({ id, room: roomId, kind, length_mm: 1800, depth_mm: 900, top_mm: 910 });
      return ["counters", id];
    });
  }

  /**
   * A sink or range in the counter that runs along that wall; false where there is no counter.
   * @param {string} roomId @param {string} wallId @param {number} middle
   * @param {Omit<House.Interruption, "at_mm">} given
   * @returns {House.Path | false}
   */
  addInterruption(roomId, wallId, middle, given) {
    return this.change((house) => {
      for (const counter of house.counters.filter((each) => each.room === roomId)) {
        let start = 0;
        for (const stretch of counter.along ?? []) {
          const along = middle - stretch.at_mm;
          if (stretch.wall === wallId && along >= 0 && along <= stretch.width_mm) {
            return interrupt(counter, { start, along, most: stretch.width_mm }, given);
          }
          start += stretch.width_mm;
        }
      }
      return false;
    });
  }

  /**
   * @param {string} stem @param {string} roomId @param {House.Place} place @param {House.Device[]} devices
   * @returns {House.Path | false}
   */
  addBox(stem, roomId, place, devices) {
    return this.change((house) => {
      const id = free([...house.boxes, ...house.panels, ...house.appliances], stem);
      house.boxes.push({ id, room: roomId, place, devices });
      return ["boxes", id];
    });
  }

  /**
   * @param {string} roomId
   * @returns {House.Path | false}
   */
  addPanel(roomId) {
    return this.change((house) => {
      const id = free([...house.boxes, ...house.panels, ...house.appliances], "P");
      house.panels.push({ id, room: roomId, rating_a: 200, spaces: 40 });
      return ["panels", id];
    });
  }

  /**
   * @param {string} roomId @param {string} name
   * @returns {House.Path | false}
   */
  addAppliance(roomId, name) {
    return this.change((house) => {
      const id = free([...house.boxes, ...house.panels, ...house.appliances], stemOf(name));
      house.appliances.push({ id, room: roomId, name });
      return ["appliances", id];
    });
  }

  /** @returns {House.Path | false} */
  addCircuit() {
    if (!this.house.panels.length) return false;
    return this.change((house) => {
      const id = free(house.circuits, "c");
      house.circuits.push({ id, panel: house.panels[0].id, name: say("Circuit {id}", { id }), breaker_a: 15 });
      return ["circuits", id];
    });
  }

  /**
   * @param {string} one @param {string} other @param {string} circuitId
   * @returns {House.Path | false}
   */
  addCable(one, other, circuitId) {
    return this.change((house) => {
      const circuit = house.circuits.find((each) => each.id === circuitId);
      const id = free(house.cables, `${circuitId || "cable"}-`, house.cables.length + 1);
      house.cables.push({ id, kind: "nm", ends: [one, other], awg: gauge(circuit), ...(circuit ? { circuit: circuitId } : {}) });
      return ["cables", id];
    });
  }

  /** @param {string} id @param {number} dx @param {number} dy */
  moveRoom(id, dx, dy) {
    return this.change((house) => {
      const room = byId(house.rooms, id);
      room.x_mm = round((room.x_mm ?? 0) + dx);
      room.y_mm = round((room.y_mm ?? 0) - dy);
      for (const box of house.boxes) {
        if (box.room === id) shift(box.place, dx, dy);
      }
    });
  }

  /** @param {string} id @param {Partial<House.Place>} place @param {string} roomId */
  moveBox(id, place, roomId) {
    return this.change((house) => {
      const box = byId(house.boxes, id);
      Object.assign(box, { place: { ...box.place, ...place }, room: roomId });
    });
  }

  /**
   * A wall and the one opposite become longer or shorter together, so that the room still closes.
   * @param {string} roomId @param {string} wallId @param {number} length
   */
  setWallLength(roomId, wallId, length) {
    return this.change((house) => {
      const room = byId(house.rooms, roomId);
      const walls = room.walls ?? [];
      const all = sides(room);
      const index = walls.findIndex((wall) => wall.id === wallId);
      const [dx, dy] = all[index].along;
      const by = length - walls[index].length_mm;
      const opposite = all
        .map((side, i) => ({ i, wall: side.wall, facing: side.along[0] * dx + side.along[1] * dy, length: side.wall.length_mm }))
        .filter((each) => each.i !== index && each.facing < -0.999 && each.length + by > 0)
        .sort((a, b) => b.length - a.length).at(0);
      if (room.closed !== false && !opposite) return false;
      walls[index].length_mm = length;
      if (room.closed !== false && opposite) opposite.wall.length_mm = round(opposite.wall.length_mm + by);
      return true;
    });
  }

  // Outside is what no other room of the storey stands against.
  markOutside() {
    const rooms = this.rooms;
    return this.change((house) => {
      for (const room of house.rooms.filter((each) => each.storey === this.storey)) {
        for (const side of sides(room)) {
          const beyond = at(side, side.wall.length_mm / 2, -300);
          side.wall.outside = !rooms.some((other) => other.id !== room.id && inside(other, beyond));
        }
      }
    });
  }

  /** @param {House.Path} path @param {string} name @param {unknown} value */
  set(path, name, value) {
    return this.change((house) => {
      const part = find(house, path);
      if (!part) return false;
      if (value === null || value === "") delete part[name];
      else part[name] = value;
      return true;
    });
  }

  /** @param {House.Path} path */
  remove(path) {
    return this.change((house) => {
      const [list, key] = path.slice(-2);
      const parts = /** @type {House.Part[] | undefined} */ (find(house, path.slice(0, -2))?.[list]);
      const index = typeof key === "number" ? key : (parts ?? []).findIndex((part) => part.id === key);
      if (!parts?.[index]) return false;
      parts.splice(index, 1);
      if (path.length === 2) forget(house, list, key);
      return true;
    });
  }
}

/**
 * The conductors of a cable on such a circuit.
 * @param {House.Circuit | undefined} circuit
 */
function gauge(circuit) {
  if (!circuit || circuit.breaker_a <= 15) return "14";
  return circuit.breaker_a <= 20 ? "12" : "10";
}

/**
 * Where something so wide begins that is put in the middle of a place, within from nothing to `most`.
 * @param {number} middle @param {number} width @param {number} most
 */
const begins = (middle, width, most) => Math.min(Math.max(middle - width / 2, 0), most - width);

/**
 * Whether one of these is in the way.
 * @param {House.Stretch[] | House.Opening[] | House.Interruption[]} parts @param {number} left @param {number} width
 */
const taken = (parts, left, width) => parts.some((each) => left < each.at_mm + each.width_mm && each.at_mm < left + width);

/**
 * Put a sink or a range in a counter, in a stretch that begins so far along it; false where one is in the way.
 * @param {House.Counter} counter
 * @param {{ start: number, along: number, most: number }} place
 * @param {Omit<House.Interruption, "at_mm">} given
 */
function interrupt(counter, { start, along, most }, given) {
  const width = Math.min(given.width_mm, most);
  const left = start + begins(along, width, most);
  const items = counter.interruptions ?? [];
  if (taken(items, left, width)) return false;
  counter.interruptions = [...items, { ...given, at_mm: round(left), width_mm: width }].sort((a, b) => a.at_mm - b.at_mm);
  return ["counters", counter.id, "interruptions", counter.interruptions.findIndex((each) => each.at_mm === round(left))];
}

/**
 * Move what stands at a point of the sheet; what is not known stays so.
 * @param {House.Place} place @param {number} dx @param {number} dy
 */
function shift(place, dx, dy) {
  if (typeof place.x_mm === "number") place.x_mm = round(place.x_mm + dx);
  if (typeof place.y_mm === "number") place.y_mm = round(place.y_mm - dy);
}
