// What each tool does with a press, a drag and a release on the sheet.
import { say } from "../say.js";
import { corners, inside, nearestWall, round, sides } from "./geometry.js";
import { shape } from "./view.js";

const GRID = 50;
const SNAP_PIXELS = 12;
const WALL_PIXELS = 26;

const device = (kind, more = {}) => ({ kind, ...more });
const door = (swing) => ({ kind: "door", width_mm: 810, swing });
const fixture = (kind, width, depth, top) => ({ kind, width_mm: width, depth_mm: depth, ...(top ? { top_mm: top } : {}) });

const [ROOMS, WALLS, KITCHEN, BOXES, POWER] = [say("rooms"), say("walls"), say("kitchen and bath"), say("boxes"), say("power")];

// name, words, group, how it is put, what is put
export const TOOLS = [
  ["choose", say("choose and move"), "", "choose"],
  ["room", say("room, dragged"), ROOMS, "rect"],
  ["polygon", say("room, corner by corner"), ROOMS, "polygon"],
  ["door-left", say("door, leaf rests left"), WALLS, "opening", door("left")],
  ["door-right", say("door, leaf rests right"), WALLS, "opening", door("right")],
  ["door-out", say("door, leaf elsewhere"), WALLS, "opening", door("none")],
  ["opening", say("opening without door"), WALLS, "opening", { kind: "opening", width_mm: 900 }],
  ["sliding", say("sliding door"), WALLS, "opening", { kind: "sliding_door", width_mm: 1800 }],
  ["window", say("window"), WALLS, "opening", { kind: "window", width_mm: 1200, sill_mm: 900 }],
  ["cabinet", say("full-height cabinet"), WALLS, "opening", { kind: "cabinet", width_mm: 600 }],
  ["fireplace", say("fireplace"), WALLS, "opening", { kind: "fireplace", width_mm: 1200 }],
  ["counter", say("counter along a wall"), KITCHEN, "counter"],
  ["island", say("island"), KITCHEN, "island", "island"],
  ["sink", say("sink"), KITCHEN, "interruption", { kind: "sink", width_mm: 800, behind_mm: 75 }],
  ["range", say("range"), KITCHEN, "interruption", { kind: "range", width_mm: 762, behind_mm: 0 }],
  ["refrigerator", say("refrigerator"), KITCHEN, "interruption", { kind: "refrigerator", width_mm: 914 }],
  ["basin", say("basin"), KITCHEN, "fixture", fixture("basin", 500, 450, 820)],
  ["tub", say("tub"), KITCHEN, "fixture", fixture("tub", 1525, 760, 450)],
  ["shower", say("shower"), KITCHEN, "fixture", fixture("shower", 900, 900, 100)],
  ["washer", say("washer"), KITCHEN, "fixture", fixture("washer", 690, 700)],
  ["dryer", say("dryer"), KITCHEN, "fixture", fixture("dryer", 690, 700)],
  ["dishwasher", say("dishwasher"), KITCHEN, "fixture", fixture("dishwasher", 610, 600)],
  ["receptacle", say("receptacle"), BOXES, "box", [device("receptacle")], "rec", 300],
  ["switch", say("switch"), BOXES, "box", [device("switch")], "sw", 1200],
  ["three-way", say("three-way switch"), BOXES, "box", [device("switch", { ways: 3 })], "sw", 1200],
  ["luminaire", say("luminaire"), BOXES, "ceiling", [device("luminaire")], "lum"],
  ["smoke", say("smoke alarm"), BOXES, "ceiling", [device("smoke_alarm")], "alarm"],
  ["combined", say("smoke and CO alarm"), BOXES, "ceiling", [device("combined_alarm")], "alarm"],
  ["fan", say("exhaust fan"), BOXES, "ceiling", [device("exhaust_fan")], "fan"],
  ["data", say("data outlet"), BOXES, "box", [device("data")], "data", 300],
  ["junction", say("junction box"), BOXES, "ceiling", [], "j"],
  ["panel", say("panel"), POWER, "panel"],
  ["furnace", say("furnace"), POWER, "appliance", say("Furnace")],
  ["heater", say("water heater"), POWER, "appliance", say("Water heater")],
  ["cable", say("cable, box to box"), POWER, "cable"],
].map(([name, words, group, how, what, stem, height]) => ({ name, words, group, how, what, stem, height }));

export class Hand {
  // `page` says what was chosen and what is wrong, and gives the kind of room and the circuit.
  constructor(board, view, page) {
    Object.assign(this, { board, view, page, tool: TOOLS[0], drag: null, points: [], first: null });
  }

  take(name) {
    this.tool = TOOLS.find((tool) => tool.name === name);
    this.points = [];
    this.first = null;
    this.sketch();
  }

  // The grid, or a corner of another room nearby.
  snap([x, y]) {
    const reach = Math.max(this.view.reach(SNAP_PIXELS), GRID);
    for (const room of this.board.rooms) {
      for (const [cx, cy] of corners(room)) {
        if (Math.hypot(cx - x, cy - y) < reach) return [cx, cy];
      }
    }
    const lines = this.board.rooms.flatMap(corners);
    const nearX = lines.find(([cx]) => Math.abs(cx - x) < reach / 2)?.[0];
    const nearY = lines.find(([, cy]) => Math.abs(cy - y) < reach / 2)?.[1];
    const grid = (value) => Math.round(value / GRID) * GRID;
    return [nearX ?? grid(x), nearY ?? grid(y)];
  }

  roomAt(point) {
    return this.board.rooms.find((room) => inside(room, point));
  }

  wallAt(point) {
    return nearestWall(this.board.rooms, point, this.view.reach(WALL_PIXELS) + 250);
  }

  press(point, node) {
    const how = this.tool.how;
    if (how === "rect") this.drag = { from: this.snap(point) };
    else if (how === "polygon") this.corner(this.snap(point));
    else if (how === "choose") this.grip(point, node);
    else this.put(how, point, node);
  }

  move(point) {
    if (!this.drag) return this.points.length ? this.sketch(this.snap(point)) : undefined;
    if (this.tool.how === "rect") return this.sketch(this.snap(point));
    const { from, node, room } = this.drag;
    const dx = point[0] - from[0], dy = point[1] - from[1];
    this.drag.by = [dx, dy];
    if (node) {
      const [x, y] = this.drag.at;
      this.view.node(node)?.setAttribute("transform", `translate(${x + dx} ${y + dy})`);
    } else if (room) {
      this.drag.by = this.snapped(room, dx, dy);
      const moved = `translate(${this.drag.by[0]} ${this.drag.by[1]})`;
      for (const part of this.drag.parts) part.setAttribute("transform", `${moved} ${part.dataset.was ?? ""}`);
    } else this.view.pan(dx, dy);
    return undefined;
  }

  // Where a room's first corner comes to lie on the grid or on another's corner.
  snapped(id, dx, dy) {
    const room = this.board.rooms.find((each) => each.id === id);
    const [x, y] = sides(room)[0].left;
    const others = this.board.rooms.filter((each) => each.id !== id).flatMap(corners);
    const reach = Math.max(this.view.reach(SNAP_PIXELS), GRID);
    for (const [cx, cy] of corners(room)) {
      const near = others.find(([ox, oy]) => Math.hypot(ox - cx - dx, oy - cy - dy) < reach);
      if (near) return [near[0] - cx, near[1] - cy];
    }
    const grid = (value) => Math.round(value / GRID) * GRID;
    return [grid(x + dx) - x, grid(y + dy) - y];
  }

  release(point) {
    const drag = this.drag;
    this.drag = null;
    if (!drag) return;
    if (this.tool.how === "rect") this.rect(drag.from, this.snap(point));
    else if (drag.by && Math.hypot(...drag.by) > this.view.reach(3)) this.drop(drag, point);
  }

  rect([ax, ay], [bx, by]) {
    this.sketch();
    if (Math.abs(ax - bx) < 300 || Math.abs(ay - by) < 300) return;
    const [l, r] = [Math.min(ax, bx), Math.max(ax, bx)], [t, b] = [Math.min(ay, by), Math.max(ay, by)];
    this.made(this.board.addRoom([[l, t], [r, t], [r, b], [l, b]], this.page.roomKind()));
  }

  corner(point) {
    const [first] = this.points;
    const closes = first && Math.hypot(first[0] - point[0], first[1] - point[1]) < this.view.reach(SNAP_PIXELS) + GRID;
    if (closes && this.points.length > 2) {
      const points = this.points;
      this.points = [];
      this.sketch();
      this.made(this.board.addRoom(points, this.page.roomKind()));
    } else {
      this.points.push(point);
      this.sketch(point);
    }
  }

  sketch(end) {
    this.view.over.querySelectorAll("[data-sketch]").forEach((node) => node.remove());
    const points = this.tool.how === "rect" && this.drag && end
      ? [this.drag.from, [end[0], this.drag.from[1]], end, [this.drag.from[0], end[1]], this.drag.from]
      : end && this.points.length ? [...this.points, end] : [];
    if (points.length < 2) return;
    const text = points.map((point) => point.join(",")).join(" ");
    this.view.over.append(shape("polyline", { points: text, class: "sketch", "data-sketch": "" }));
    const [a, b] = this.tool.how === "rect" ? [points[0], points[2]] : points.slice(-2);
    const label = shape("text", { x: (a[0] + b[0]) / 2, y: (a[1] + b[1]) / 2, class: "sketch-name", "data-sketch": "" });
    label.textContent = this.tool.how === "rect"
      ? `${Math.abs(a[0] - b[0])} × ${Math.abs(a[1] - b[1])}` : `${Math.round(Math.hypot(a[0] - b[0], a[1] - b[1]))}`;
    this.view.over.append(label);
  }

  // Choose what is under the hand, and hold it in case it is moved.
  grip(point, node) {
    if (node) {
      this.page.choose(this.pathOf(node));
      this.drag = { from: point, node, at: this.view.where(node) };
      return;
    }
    const near = nearestWall(this.board.rooms, point, this.view.reach(10));
    if (near) {
      const index = (near.wall.openings ?? []).findIndex(
        (each) => near.along >= each.at_mm && near.along <= each.at_mm + each.width_mm);
      const path = ["rooms", near.room.id, "walls", near.wall.id];
      this.page.choose(index < 0 ? path : [...path, "openings", index]);
      return;
    }
    const fitting = this.fittingAt(point);
    if (fitting) return this.page.choose(fitting);
    const room = this.roomAt(point);
    this.page.choose(room ? ["rooms", room.id] : null);
    this.drag = { from: point, room: room?.id };
    if (room) this.drag.parts = this.partsOf(room.id);
  }

  fittingAt(point) {
    const near = nearestWall(this.board.rooms, point, 900);
    if (!near || near.off < 0) return null;
    const fixture = (near.room.fixtures ?? []).find((each) => each.wall === near.wall.id
      && near.along >= each.at_mm && near.along <= each.at_mm + each.width_mm && near.off <= (each.depth_mm ?? 400));
    if (fixture) return ["rooms", near.room.id, "fixtures", fixture.id];
    for (const counter of this.board.house.counters.filter((each) => each.room === near.room.id)) {
      let start = 0;
      for (const stretch of counter.along ?? []) {
        const along = near.along - stretch.at_mm;
        if (stretch.wall === near.wall.id && along >= 0 && along <= stretch.width_mm && near.off <= (counter.depth_mm ?? 600)) {
          const index = (counter.interruptions ?? []).findIndex(
            (each) => start + along >= each.at_mm && start + along <= each.at_mm + each.width_mm);
          return index < 0 ? ["counters", counter.id] : ["counters", counter.id, "interruptions", index];
        }
        start += stretch.width_mm;
      }
    }
    return null;
  }

  partsOf(roomId) {
    const nodes = this.board.house.boxes.filter((box) => box.room === roomId).map((box) => this.view.node(box.id));
    const room = this.view.plan.querySelector(`[data-room="${CSS.escape(roomId)}"]`);
    const parts = [room, ...nodes].filter(Boolean);
    for (const part of parts) part.dataset.was = part.getAttribute("transform") ?? "";
    return parts;
  }

  drop(drag, point) {
    if (drag.room) this.board.moveRoom(drag.room, ...drag.by);
    if (!drag.node) return;
    const box = this.board.house.boxes.find((each) => each.id === drag.node);
    if (!box) return this.board.changed();
    if (box.place.surface === "wall") {
      const near = this.wallAt(point);
      const moved = near && this.board.moveBox(box.id, { wall: near.wall.id, at_mm: grid(near.along, near.wall) }, near.room.id);
      if (!moved) this.board.changed();
    } else if (box.place.surface === "ceiling") {
      const room = this.roomAt(point);
      const moved = room && this.board.moveBox(box.id, { x_mm: round(point[0]), y_mm: round(-point[1]) }, room.id);
      if (!moved) this.board.changed();
    } else this.board.changed();
  }

  put(how, point, node) {
    const near = this.wallAt(point), room = this.roomAt(point);
    const { what, stem, height } = this.tool;
    if (how === "opening" || how === "counter" || how === "interruption" || how === "fixture" || how === "box") {
      if (!near) return this.page.tell(say("Press on a wall."));
      if (how === "opening") this.made(this.board.addOpening(near.room.id, near.wall.id, grid(near.along, near.wall), what), say("Something is in that place already."));
      if (how === "counter") this.made(this.board.addCounter(near.room.id, near.wall.id));
      if (how === "fixture") this.made(this.board.addFixture(near.room.id, near.wall.id, grid(near.along, near.wall), what));
      if (how === "interruption") this.made(this.board.addInterruption(near.room.id, near.wall.id, near.along, what), say("Press on a counter that is free there."));
      if (how === "box") this.made(this.board.addBox(stem, near.room.id, this.onWall(near, height), structuredClone(what)));
      return undefined;
    }
    if (how === "cable") return this.cable(node);
    if (!room) return this.page.tell(say("Press inside a room."));
    const ceiling = { surface: "ceiling", x_mm: round(point[0]), y_mm: round(-point[1]) };
    if (how === "ceiling") this.made(this.board.addBox(stem, room.id, ceiling, structuredClone(what)));
    if (how === "panel") this.made(this.board.addPanel(room.id));
    if (how === "appliance") this.made(this.board.addAppliance(room.id, what));
    if (how === "island") this.made(this.board.addIsland(room.id, what));
    return undefined;
  }

  // Above a counter where one runs along the wall there.
  onWall(near, height) {
    const over = this.board.house.counters.find((counter) => counter.room === near.room.id
      && (counter.along ?? []).some((each) => each.wall === near.wall.id
        && near.along >= each.at_mm && near.along <= each.at_mm + each.width_mm));
    const up = over && height < 1000 ? (over.top_mm ?? 910) + 200 : height;
    return { surface: "wall", wall: near.wall.id, at_mm: grid(near.along, near.wall), height_mm: up };
  }

  cable(node) {
    if (!node) return this.page.tell(say("Press on a box or the panel."));
    if (!this.first) {
      this.first = node;
      return this.page.tell(say("From {id}; now press on where it goes.", { id: node }));
    }
    const from = this.first;
    this.first = null;
    if (from !== node) this.made(this.board.addCable(from, node, this.page.circuit()));
    return undefined;
  }

  pathOf(node) {
    for (const list of ["boxes", "panels", "appliances"]) {
      if (this.board.house[list].some((part) => part.id === node)) return [list, node];
    }
    return null;
  }

  made(path, otherwise = say("That does not fit there.")) {
    if (path === false) this.page.tell(otherwise);
    else this.page.choose(path);
  }
}

const grid = (along, wall) => Math.min(Math.max(Math.round(along / GRID) * GRID, 0), wall.length_mm);
