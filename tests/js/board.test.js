// The house on the board: every change by name, undone and done again.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import fc from "fast-check";
import "./browser.js";

const { Board } = await import("../../static/js/draw/board.js");
const { at, corners, sides } = await import("../../static/js/draw/geometry.js");
const { find } = await import("../../static/js/draw/parts.js");

const SQUARE = [[0, 0], [4000, 0], [4000, 3000], [0, 3000]];
const BESIDE = SQUARE.map(([x, y]) => [x + 4000, y]);
const EMPTY = { storeys: [{ id: "main", name: "Main floor" }], areas: [{ id: "main", name: "Main floor" }], rooms: [] };
const ON_W1 = { surface: "wall", wall: "w1", at_mm: 100, height_mm: 300 };

let changes = 0;
const empty = () => new Board(structuredClone(EMPTY), () => (changes += 1));

/** Two rooms, a counter with a sink, a panel, two circuits, an appliance, boxes and cables. */
function furnished() {
  const board = empty();
  board.addRoom(SQUARE, "kitchen");
  board.addRoom(BESIDE, "den");
  board.addCounter("kitchen-1", "w1");
  board.addInterruption("kitchen-1", "w1", 2000, { kind: "sink", width_mm: 800 });
  board.addPanel("den-1");
  board.addCircuit();
  board.addCircuit();
  board.addAppliance("den-1", "Furnace");
  board.addBox("rec", "kitchen-1", ON_W1, [{ kind: "receptacle" }]);
  board.addBox("lum", "den-1", { surface: "ceiling", x_mm: 6000, y_mm: -1500 }, [{ kind: "luminaire" }]);
  board.addBox("sw", "den-1", { ...ON_W1 }, [{ kind: "switch", controls: ["lum-1"] }]);
  board.addBox("top", "kitchen-1", { surface: "counter", counter: "k1" }, [{ kind: "receptacle" }]);
  board.set(["boxes", "rec-1", "devices", 0], "circuit", "c1");
  board.addCable("P1", "rec-1", "c1");
  board.addCable("rec-1", "top-1", "c1");
  board.addCable("sw-1", "lum-1", "c2");
  return board;
}

/** What a house speaks of and does not have. */
function dangling(house) {
  const of = (...lists) => new Set(lists.flatMap((list) => house[list].map((part) => part.id)));
  const [rooms, circuits, ends] = [of("rooms"), of("circuits"), of("boxes", "panels", "appliances")];
  const devices = house.boxes.flatMap((box) => box.devices ?? []);
  const spoken = [
    ...["counters", "panels", "appliances", "boxes"].flatMap((list) => house[list].map((part) => [rooms, part.room])),
    ...house.circuits.map((circuit) => [of("panels"), circuit.panel]),
    ...house.cables.flatMap((cable) => cable.ends.map((end) => [ends, end])),
    ...[...house.cables, ...devices, ...house.appliances].map((part) => [circuits, part.circuit]),
    ...house.boxes.map((box) => [of("counters"), box.place.counter]),
    ...devices.flatMap((device) => (device.controls ?? []).map((id) => [ends, id])),
  ];
  return spoken.filter(([known, id]) => id && !known.has(id)).map(([, id]) => id);
}

const same = (list) => new Set(list.map((part) => part.id)).size === list.length;

// Each change by its name: what it is given, and what it leaves.
const CHANGES = {
  change: [(b) => b.change((house) => void (house.note = "n")), (h) => assert.equal(h.note, "n")],
  replace: [(b) => b.replace(EMPTY), (h) => assert.deepEqual([h.rooms, h.boxes, h.cables], [[], [], []])],
  addRoom: [(b) => b.addRoom(SQUARE.map(([x, y]) => [x, y + 3000]), "kitchen"), (h) => {
    const room = h.rooms.find((each) => each.id === "kitchen-2");
    assert.equal(room.name, "Kitchen 2");
    assert.equal(room.storey, "main");
    assert.deepEqual(corners(room).map(([x, y]) => [Math.round(x), Math.round(y)]), [[0, 3000], [4000, 3000], [4000, 6000], [0, 6000]]);
  }],
  addStorey: [(b) => b.addStorey("Étage", true), (h) => assert.deepEqual(h.storeys.map((s) => s.id), ["main", "etage-1"])],
  addOpening: [(b) => b.addOpening("kitchen-1", "w2", 1500, { kind: "door", width_mm: 800 }), (h) =>
    assert.deepEqual(h.rooms[0].walls[1].openings, [{ kind: "door", at_mm: 1100, width_mm: 800 }])],
  addFixture: [(b) => b.addFixture("kitchen-1", "w3", 100, { kind: "washer", width_mm: 690 }), (h) =>
    assert.deepEqual(h.rooms[0].fixtures, [{ id: "washer-1", kind: "washer", wall: "w3", at_mm: 0, width_mm: 690 }])],
  addCounter: [(b) => b.addCounter("kitchen-1", "w3"), (h) => {
    assert.equal(h.counters[1].id, "k2");
    assert.deepEqual(h.counters[1].along, [{ wall: "w3", at_mm: 0, width_mm: 4000 }]);
  }],
  addIsland: [(b) => b.addIsland("kitchen-1", "island"), (h) => assert.equal(h.counters[1].kind, "island")],
  addInterruption: [(b) => b.addInterruption("kitchen-1", "w1", 3500, { kind: "range", width_mm: 762 }), (h) =>
    assert.deepEqual(h.counters[0].interruptions.map((each) => [each.kind, each.at_mm]), [["sink", 1600], ["range", 3119]])],
  addBox: [(b) => b.addBox("rec", "den-1", ON_W1, []), (h) => assert.deepEqual(h.boxes.at(-1), { id: "rec-2", room: "den-1", place: ON_W1, devices: [] })],
  addPanel: [(b) => b.addPanel("kitchen-1"), (h) => assert.deepEqual(h.panels.map((p) => p.id), ["P1", "P2"])],
  addAppliance: [(b) => b.addAppliance("den-1", "Furnace"), (h) => assert.deepEqual(h.appliances.map((a) => a.id), ["furnace-1", "furnace-2"])],
  addCircuit: [(b) => b.addCircuit(), (h) => assert.deepEqual(h.circuits.at(-1), { id: "c3", panel: "P1", name: "Circuit c3", breaker_a: 15 })],
  addCable: [(b) => b.addCable("P1", "furnace-1", ""), (h) => assert.deepEqual(h.cables.at(-1).ends, ["P1", "furnace-1"])],
  moveRoom: [(b) => b.moveRoom("den-1", 100, 50), (h) => {
    const room = h.rooms[1];
    assert.deepEqual([room.x_mm, room.y_mm], [4100, -50]);
    assert.deepEqual(h.boxes.find((box) => box.id === "lum-1").place, { surface: "ceiling", x_mm: 6100, y_mm: -1550 });
  }],
  moveBox: [(b) => b.moveBox("rec-1", { wall: "w2", at_mm: 700 }, "den-1"), (h) => {
    assert.equal(h.boxes[0].room, "den-1");
    assert.deepEqual(h.boxes[0].place, { ...ON_W1, wall: "w2", at_mm: 700 });
  }],
  setWallLength: [(b) => b.setWallLength("kitchen-1", "w1", 4500), (h) =>
    assert.deepEqual(h.rooms[0].walls.map((wall) => wall.length_mm), [4500, 3000, 4500, 3000])],
  markOutside: [(b) => b.markOutside(), (h) => {
    assert.deepEqual(h.rooms[0].walls.map((wall) => wall.outside), [true, false, true, true]);
    assert.deepEqual(h.rooms[1].walls.map((wall) => wall.outside), [true, true, true, false]);
  }],
  set: [(b) => b.set(["rooms", "den-1", "walls", "w1"], "kind", "railing"), (h) => assert.equal(h.rooms[1].walls[0].kind, "railing")],
  remove: [(b) => b.remove(["boxes", "rec-1"]), (h) => assert.ok(!h.boxes.some((box) => box.id === "rec-1"))],
};

test("every change that a board has is tried here by its name", () => {
  const all = Object.getOwnPropertyNames(Board.prototype);
  assert.deepEqual(all.filter((name) => !Object.hasOwn(CHANGES, name)), ["constructor", "rooms", "undo", "redo", "step"]);
});

describe("each change", () => {
  for (const [name, [act, left]] of Object.entries(CHANGES)) {
    test(`${name}: does what it says, is told once, is undone to the letter and done again`, () => {
      const board = furnished(), before = structuredClone(board.house);
      changes = 0;
      assert.ok(act(board));
      assert.equal(changes, 1);
      const after = structuredClone(board.house);
      left(after);
      assert.notDeepEqual(after, before);
      assert.deepEqual(dangling(after), []);
      board.undo();
      assert.deepEqual(board.house, before);
      board.redo();
      assert.deepEqual(board.house, after);
    });
  }
});

describe("what does not fit changes nothing", () => {
  const refused = {
    "an opening over another": (b) => {
      b.addOpening("kitchen-1", "w2", 1500, { kind: "door", width_mm: 800 });
      return () => b.addOpening("kitchen-1", "w2", 2000, { kind: "window", width_mm: 800 });
    },
    "a sink over another": (b) => () => b.addInterruption("kitchen-1", "w1", 2300, { kind: "sink", width_mm: 800 }),
    "a sink where no counter runs": (b) => () => b.addInterruption("kitchen-1", "w3", 2000, { kind: "sink", width_mm: 800 }),
    "a circuit without a panel": (b) => {
      b.remove(["panels", "P1"]);
      return () => b.addCircuit();
    },
    "a wall that nothing stands opposite": (b) => {
      b.addRoom([[0, 9000], [3000, 9000], [0, 12000]], "den");
      return () => b.setWallLength("den-2", "w1", 3500);
    },
    "taking away what is not there": (b) => () => b.remove(["boxes", "nobody"]),
    "a fact of what is not there": (b) => () => b.set(["boxes", "nobody"], "gangs", 2),
  };
  for (const [name, prepare] of Object.entries(refused)) {
    test(name, () => {
      const board = furnished(), act = prepare(board), before = structuredClone(board.house), past = board.past.length;
      assert.equal(act(), false);
      assert.deepEqual(board.house, before);
      assert.equal(board.past.length, past);
    });
  }
});

describe("taking away", () => {
  for (const path of [["rooms", "kitchen-1"], ["rooms", "den-1"], ["counters", "k1"], ["panels", "P1"], ["circuits", "c1"],
    ["circuits", "c2"], ["boxes", "lum-1"], ["boxes", "rec-1"], ["appliances", "furnace-1"], ["cables", "c1-1"]]) {
    test(`${path.join(" ")} takes with it whatever spoke of it, and nothing else`, () => {
      const board = furnished();
      board.remove(path);
      assert.deepEqual(dangling(board.house), []);
      assert.equal(find(board.house, path), undefined);
    });
  }

  test("a circuit leaves the devices that were on it", () => {
    const board = furnished();
    board.remove(["circuits", "c1"]);
    assert.deepEqual(find(board.house, ["boxes", "rec-1", "devices", 0]), { kind: "receptacle" });
  });

  test("an opening is taken by its number", () => {
    const board = furnished();
    for (const middle of [500, 1500, 2500]) board.addOpening("kitchen-1", "w2", middle, { kind: "door", width_mm: 600 });
    board.remove(["rooms", "kitchen-1", "walls", "w2", "openings", 1]);
    assert.deepEqual(find(board.house, ["rooms", "kitchen-1", "walls", "w2"]).openings.map((each) => each.at_mm), [200, 2200]);
  });
});

describe("conductors", () => {
  for (const [breaker, awg] of [[15, "14"], [20, "12"], [30, "10"], [10, "14"], [16, "12"], [21, "10"]]) {
    test(`of a cable on ${breaker} A are ${awg}`, () => {
      const board = furnished();
      board.set(["circuits", "c1"], "breaker_a", breaker);
      board.addCable("P1", "rec-1", "c1");
      assert.equal(board.house.cables.at(-1).awg, awg);
    });
  }
});

describe("undo", () => {
  test("goes back 200 changes and no further", () => {
    const board = empty();
    for (let n = 0; n < 250; n += 1) board.set(["areas", "main"], "name", `n${n}`);
    for (let n = 0; n < 300; n += 1) board.undo();
    assert.equal(board.house.areas[0].name, "n49");
    for (let n = 0; n < 300; n += 1) board.redo();
    assert.equal(board.house.areas[0].name, "n249");
  });

  test("after a new change nothing is done again", () => {
    const board = furnished();
    board.undo();
    board.addPanel("kitchen-1");
    const after = structuredClone(board.house);
    board.redo();
    assert.deepEqual(board.house, after);
  });

  test("never changes what was: a house that somebody holds stays as it is", () => {
    const board = furnished(), held = board.house, text = JSON.stringify(held);
    for (const [act] of Object.values(CHANGES)) act(furnished());
    board.moveRoom("den-1", 5, 5);
    board.remove(["rooms", "den-1"]);
    assert.equal(JSON.stringify(held), text);
  });
});

test("what is not known of a place stays so when its room is moved", () => {
  const board = furnished();
  board.addBox("lum", "den-1", { surface: "ceiling", x_mm: null, y_mm: null }, []);
  board.moveRoom("den-1", 100, 100);
  assert.deepEqual(board.house.boxes.at(-1).place, { surface: "ceiling", x_mm: null, y_mm: null });
});

test("a wall made longer moves the one opposite, so that the room still closes", () => {
  fc.assert(fc.property(fc.constantFrom("w1", "w2", "w3", "w4"), fc.integer({ min: 300, max: 9000 }), (wall, length) => {
    const board = furnished();
    assert.equal(board.setWallLength("kitchen-1", wall, length), true);
    const [first, , , last] = sides(board.house.rooms[0]);
    const end = at(last, last.wall.length_mm);
    assert.ok(Math.hypot(end[0] - first.left[0], end[1] - first.left[1]) < 0.01, `it ends at ${end}`);
  }));
});

test("in a room of more than four walls the longest opposite gives way by as much as is added", () => {
  const board = empty();
  board.addRoom([[0, 0], [4000, 0], [4000, 2000], [1500, 2000], [1500, 4000], [0, 4000]], "den");
  board.setWallLength("den-1", "w1", 4500);
  assert.deepEqual(board.house.rooms[0].walls.map((wall) => wall.length_mm), [4500, 2000, 3000, 2000, 1500, 4000]);
});

test("any run of changes: ids are of one part, nothing dangles, and undoing all of it brings back the first", () => {
  const middle = fc.integer({ min: 0, max: 4000 }), room = fc.nat(5), list = fc.constantFrom("rooms", "counters", "panels", "circuits", "appliances", "boxes", "cables");
  const pick = (parts, index) => parts[index % Math.max(parts.length, 1)]?.id;
  const within = (act) => (b, r, m) => (b.house.rooms.length ? act(b, pick(b.house.rooms, r), m) : false);
  const acts = [
    (b, r) => b.addRoom(SQUARE.map(([x, y]) => [x + 4000 * r, y]), r % 2 ? "den" : "kitchen"),
    within((b, r, m) => b.addBox("rec", r, { ...ON_W1, at_mm: m }, [{ kind: "receptacle", circuit: b.house.circuits[0]?.id }])),
    within((b, r) => b.addBox("sw", r, ON_W1, [{ kind: "switch", controls: b.house.boxes.slice(0, 1).map((box) => box.id) }])),
    within((b, r) => b.addPanel(r)),
    within((b, r) => b.addAppliance(r, "Water heater")),
    within((b, r) => b.addCounter(r, "w1")),
    (b, r) => b.house.counters.length > 0 && b.addBox("top", pick(b.house.counters, r) && b.house.counters[r % b.house.counters.length].room, { surface: "counter", counter: pick(b.house.counters, r) }, []),
    within((b, r, m) => b.addInterruption(r, "w1", m, { kind: "sink", width_mm: 600 })),
    within((b, r, m) => b.addOpening(r, "w2", m, { kind: "door", width_mm: 700 })),
    (b) => b.addCircuit(),
    (b, r, m) => {
      const ends = [...b.house.boxes, ...b.house.panels, ...b.house.appliances];
      return ends.length > 1 && b.addCable(pick(ends, r), pick(ends, m), pick(b.house.circuits, m) ?? "");
    },
    within((b, r, m) => b.moveRoom(r, m, -m)),
  ];
  const step = fc.oneof(
    { weight: 4, arbitrary: fc.tuple(fc.nat(acts.length - 1), room, middle).map(([n, r, m]) => (b) => acts[n](b, r, m)) },
    { weight: 1, arbitrary: fc.tuple(list, room).map(([name, r]) => (b) => b.house[name].length > 0 && b.remove([name, pick(b.house[name], r)])) },
  );
  fc.assert(fc.property(fc.boolean(), fc.array(step, { maxLength: 40 }), (bare, steps) => {
    const board = new Board(bare ? EMPTY : furnished().house, () => {}), first = structuredClone(board.house);
    for (const each of steps) {
      each(board);
      const { house } = board;
      assert.deepEqual(dangling(house), []);
      assert.ok(same([...house.boxes, ...house.panels, ...house.appliances]) && same(house.rooms) && same(house.counters));
      assert.ok(same(house.circuits) && same(house.cables));
    }
    const last = structuredClone(board.house);
    while (board.past.length) board.undo();
    assert.deepEqual(board.house, first);
    while (board.future.length) board.redo();
    assert.deepEqual(board.house, last);
  }), { numRuns: 150 });
});
