// The house on the board: every change by name, undone and done again; a draft that outlives the tab.
import { say } from "../say.js";
import { words } from "./form.js";
import { inside, round, sides, wallsOf } from "./geometry.js";

const MOST = 200;
const LISTS = ["storeys", "areas", "rooms", "counters", "panels", "circuits", "appliances", "boxes", "cables"];

export class Board {
  constructor(house, changed) {
    this.changed = changed;
    this.past = [];
    this.future = [];
    this.house = whole(house);
    this.storey = (this.house.storeys.find((s) => s.id === "main") ?? this.house.storeys[0]).id;
  }

  get rooms() {
    return this.house.rooms.filter((room) => room.storey === this.storey);
  }

  // Everything that changes the house goes through here; `change` is given a copy to write into.
  change(change) {
    const next = structuredClone(this.house);
    const given = change(next);
    if (given === false) return false;
    this.past.push(this.house);
    if (this.past.length > MOST) this.past.shift();
    this.future = [];
    this.house = next;
    this.changed();
    return given ?? true;
  }

  undo() {
    if (this.past.length) this.step(this.past, this.future);
  }

  redo() {
    if (this.future.length) this.step(this.future, this.past);
  }

  step(from, to) {
    to.push(this.house);
    this.house = from.pop();
    this.changed();
  }

  replace(house) {
    return this.change((next) => {
      for (const key of Object.keys(next)) delete next[key];
      Object.assign(next, whole(house));
    });
  }

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

  addStorey(name, above) {
    return this.change((house) => {
      const id = free(house.storeys, stemOf(name).slice(0, 20) || "storey");
      const index = house.storeys.findIndex((storey) => storey.id === this.storey) + (above ? 1 : 0);
      house.storeys.splice(index, 0, { id, name });
      this.storey = id;
      return true;
    });
  }

  addOpening(roomId, wallId, middle, given) {
    return this.change((house) => {
      const wall = wallOf(house, roomId, wallId);
      const width = Math.min(given.width_mm, wall.length_mm);
      const left = Math.min(Math.max(middle - width / 2, 0), wall.length_mm - width);
      const clash = (wall.openings ?? []).some(
        (each) => left < each.at_mm + each.width_mm && each.at_mm < left + width,
      );
      if (clash) return false;
      wall.openings = [...(wall.openings ?? []), { ...given, at_mm: round(left), width_mm: width }]
        .sort((a, b) => a.at_mm - b.at_mm);
      const index = wall.openings.findIndex((each) => each.at_mm === round(left));
      return ["rooms", roomId, "walls", wallId, "openings", index];
    });
  }

  addFixture(roomId, wallId, middle, given) {
    return this.change((house) => {
      const room = house.rooms.find((each) => each.id === roomId);
      const wall = wallOf(house, roomId, wallId);
      const width = Math.min(given.width_mm, wall.length_mm);
      const left = Math.min(Math.max(middle - width / 2, 0), wall.length_mm - width);
      const id = free(room.fixtures ?? [], given.kind);
      room.fixtures = [...(room.fixtures ?? []), { id, ...given, wall: wallId, at_mm: round(left), width_mm: width }];
      return ["rooms", roomId, "fixtures", id];
    });
  }

  addCounter(roomId, wallId) {
    return this.change((house) => {
      const wall = wallOf(house, roomId, wallId);
      const id = free(house.counters, "k");
      const along = [{ wall: wallId, at_mm: 0, width_mm: wall.length_mm }];
      house.counters.push({ id, room: roomId, kind: "wall", along, depth_mm: 635, top_mm: 910, interruptions: [] });
      return ["counters", id];
    });
  }

  addIsland(roomId, kind) {
    return this.change((house) => {
      const id = free(house.counters, "k");
      house.counters.push({ id, room: roomId, kind, length_mm: 1800, depth_mm: 900, top_mm: 910 });
      return ["counters", id];
    });
  }

  // A sink or range in the counter that runs along that wall; false where there is no counter.
  addInterruption(roomId, wallId, middle, given) {
    return this.change((house) => {
      for (const counter of house.counters.filter((each) => each.room === roomId)) {
        let start = 0;
        for (const stretch of counter.along ?? []) {
          const along = middle - stretch.at_mm;
          if (stretch.wall === wallId && along >= 0 && along <= stretch.width_mm) {
            const width = Math.min(given.width_mm, stretch.width_mm);
            const left = start + Math.min(Math.max(along - width / 2, 0), stretch.width_mm - width);
            const items = counter.interruptions ?? [];
            if (items.some((each) => left < each.at_mm + each.width_mm && each.at_mm < left + width)) return false;
            counter.interruptions = [...items, { ...given, at_mm: round(left), width_mm: width }]
              .sort((a, b) => a.at_mm - b.at_mm);
            return ["counters", counter.id, "interruptions", counter.interruptions.findIndex((e) => e.at_mm === round(left))];
          }
          start += stretch.width_mm;
        }
      }
      return false;
    });
  }

  addBox(stem, roomId, place, devices) {
    return this.change((house) => {
      const id = free([...house.boxes, ...house.panels, ...house.appliances], stem);
      house.boxes.push({ id, room: roomId, place, devices });
      return ["boxes", id];
    });
  }

  addPanel(roomId) {
    return this.change((house) => {
      const id = free([...house.boxes, ...house.panels, ...house.appliances], "P");
      house.panels.push({ id, room: roomId, rating_a: 200, spaces: 40 });
      return ["panels", id];
    });
  }

  addAppliance(roomId, name) {
    return this.change((house) => {
      const id = free([...house.boxes, ...house.panels, ...house.appliances], stemOf(name));
      house.appliances.push({ id, room: roomId, name });
      return ["appliances", id];
    });
  }

  addCircuit() {
    if (!this.house.panels.length) return false;
    return this.change((house) => {
      const id = free(house.circuits, "c");
      house.circuits.push({ id, panel: house.panels[0].id, name: say("Circuit {id}", { id }), breaker_a: 15 });
      return ["circuits", id];
    });
  }

  addCable(one, other, circuitId) {
    return this.change((house) => {
      const circuit = house.circuits.find((each) => each.id === circuitId);
      const taken = house.cables.length + 1;
      const id = free(house.cables, `${circuitId || "cable"}-`, taken);
      const awg = !circuit || circuit.breaker_a <= 15 ? "14" : circuit.breaker_a <= 20 ? "12" : "10";
      house.cables.push({ id, kind: "nm", ends: [one, other], awg, ...(circuit ? { circuit: circuitId } : {}) });
      return ["cables", id];
    });
  }

  moveRoom(id, dx, dy) {
    return this.change((house) => {
      const room = house.rooms.find((each) => each.id === id);
      room.x_mm = round((room.x_mm ?? 0) + dx);
      room.y_mm = round((room.y_mm ?? 0) - dy);
      for (const box of house.boxes) {
        if (box.room === id && box.place.x_mm !== undefined) {
          box.place.x_mm = round(box.place.x_mm + dx);
          box.place.y_mm = round(box.place.y_mm - dy);
        }
      }
    });
  }

  moveBox(id, place, roomId) {
    return this.change((house) => {
      const box = house.boxes.find((each) => each.id === id);
      Object.assign(box, { place: { ...box.place, ...place }, room: roomId });
    });
  }

  // A wall and the one opposite become longer or shorter together, so that the room still closes.
  setWallLength(roomId, wallId, length) {
    return this.change((house) => {
      const room = house.rooms.find((each) => each.id === roomId);
      const all = sides(room);
      const index = room.walls.findIndex((wall) => wall.id === wallId);
      const [dx, dy] = all[index].along;
      const by = length - room.walls[index].length_mm;
      const opposite = all
        .map((side, i) => ({ i, facing: side.along[0] * dx + side.along[1] * dy, length: side.wall.length_mm }))
        .filter((each) => each.i !== index && each.facing < -0.999 && each.length + by > 0)
        .sort((a, b) => b.length - a.length)[0];
      if (room.closed !== false && !opposite) return false;
      room.walls[index].length_mm = length;
      if (room.closed !== false) room.walls[opposite.i].length_mm = round(room.walls[opposite.i].length_mm + by);
      return true;
    });
  }

  // Outside is what no other room of the storey stands against.
  markOutside() {
    const rooms = this.rooms;
    return this.change((house) => {
      for (const room of house.rooms.filter((each) => each.storey === this.storey)) {
        sides(room).forEach((side) => {
          const wall = room.walls.find((each) => each.id === side.wall.id);
          const [x, y] = [
            side.left[0] + side.along[0] * wall.length_mm / 2 - side.inward[0] * 300,
            side.left[1] + side.along[1] * wall.length_mm / 2 - side.inward[1] * 300,
          ];
          wall.outside = !rooms.some((other) => other.id !== room.id && inside(other, [x, y]));
        });
      }
    });
  }

  set(path, name, value) {
    return this.change((house) => {
      const part = find(house, path);
      if (value === null || value === "") delete part[name];
      else part[name] = value;
    });
  }

  remove(path) {
    return this.change((house) => {
      const parent = find(house, path.slice(0, -2));
      const [list, key] = path.slice(-2);
      const index = typeof key === "number" ? key : parent[list].findIndex((part) => part.id === key);
      parent[list].splice(index, 1);
      if (path.length === 2) forget(house, path);
    });
  }
}

export function find(house, path) {
  let part = house;
  for (let i = 0; i < path.length; i += 2) {
    const list = part[path[i]] ?? [];
    part = typeof path[i + 1] === "number" ? list[path[i + 1]] : list.find((each) => each.id === path[i + 1]);
    if (part === undefined) return undefined;
  }
  return part;
}

// What rests on a part that is gone goes with it.
function forget(house, [list, id]) {
  if (list === "rooms") {
    for (const name of ["counters", "panels", "appliances", "boxes"]) {
      for (const part of house[name].filter((each) => each.room === id)) forget(house, [name, part.id]);
      house[name] = house[name].filter((each) => each.room !== id);
    }
  }
  if (list === "counters") house.boxes = house.boxes.filter((box) => box.place.counter !== id);
  if (["boxes", "panels", "appliances"].includes(list)) {
    house.cables = house.cables.filter((cable) => !cable.ends.includes(id));
    for (const device of house.boxes.flatMap((box) => box.devices ?? [])) {
      if (device.controls?.includes(id)) device.controls = device.controls.filter((each) => each !== id);
    }
  }
  if (list === "panels") {
    for (const circuit of house.circuits.filter((each) => each.panel === id)) forget(house, ["circuits", circuit.id]);
    house.circuits = house.circuits.filter((each) => each.panel !== id);
  }
  if (list === "circuits") {
    house.cables = house.cables.filter((cable) => cable.circuit !== id);
    for (const part of [...house.boxes.flatMap((box) => box.devices ?? []), ...house.appliances]) {
      if (part.circuit === id) delete part.circuit;
      if (part.second_circuit === id) delete part.second_circuit;
    }
  }
}

const wallOf = (house, roomId, wallId) =>
  house.rooms.find((room) => room.id === roomId).walls.find((wall) => wall.id === wallId);

// The beginning of an id, which has no accents.
const stemOf = (name) => name.normalize("NFD").replaceAll(/\p{M}/gu, "").toLowerCase().replaceAll(/[^a-z0-9]+/g, "-");

function free(parts, stem, from = 1) {
  const taken = new Set(parts.map((part) => part.id));
  if (!taken.has(stem) && !/[-a-zA-Z]$/.test(stem)) return stem;
  for (let n = from; ; n += 1) {
    const sep = stem.length > 1 && !stem.endsWith("-") ? "-" : "";
    if (!taken.has(`${stem}${sep}${n}`)) return `${stem}${sep}${n}`;
  }
}

function whole(house) {
  const made = structuredClone(house);
  for (const list of LISTS) made[list] ??= [];
  return made;
}
