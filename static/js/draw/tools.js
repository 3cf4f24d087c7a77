// What each tool does with a press, a drag and a release on the sheet.
import { say } from "../say.js";
import { corners, inside, nearestWall, round, sides } from "./geometry.js";
import { byId } from "./parts.js";
import { shape } from "./view.js";

const GRID = 50;
const SNAP_PIXELS = 12;
const WALL_PIXELS = 26;
const ON_WALLS = ["opening", "counter", "fixture", "interruption", "box"];

/** @param {string} kind */
const device = (kind, more = {}) => ({ kind, ...more });
/** @param {string} swing */
const door = (swing) => ({ kind: "door", width_mm: 810, swing });
/** @param {string} kind @param {number} width @param {number} depth @param {number} [top] */
const fixed = (kind, width, depth, top) => ({ kind, width_mm: width, depth_mm: depth, ...(top ? { top_mm: top } : {}) });

const [ROOMS, WALLS, KITCHEN, BOXES, POWER] = [say("rooms"), say("walls"), say("kitchen and bath"), say("boxes"), say("power")];

// name, words, group, how it is put, what is put
export const TOOLS = /** @type {Draw.Tool[]} */ ([
  ["choose", say("select and move"), "", "choose"],
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
  ["basin", say("basin"), KITCHEN, "fixture", fixed("basin", 500, 450, 820)],
  ["tub", say("tub"), KITCHEN, "fixture", fixed("tub", 1525, 760, 450)],
  ["shower", say("shower"), KITCHEN, "fixture", fixed("shower", 900, 900, 100)],
  ["washer", say("washer"), KITCHEN, "fixture", fixed("washer", 690, 700)],
  ["dryer", say("dryer"), KITCHEN, "fixture", fixed("dryer", 690, 700)],
  ["dishwasher", say("dishwasher"), KITCHEN, "fixture", fixed("dishwasher", 610, 600)],
  ["receptacle", say("receptacle"), BOXES, "box", [device("receptacle")], "rec", 300],
  ["switch", say("switch"), BOXES, "box", [device("switch")], "sw", 1200],
  ["three-way", say("three-way switch"), BOXES, "box", [device("switch", { ways: 3 })], "sw", 1200],
  ["luminaire", say("light"), BOXES, "ceiling", [device("luminaire")], "lum"],
  ["smoke", say("smoke alarm"), BOXES, "ceiling", [device("smoke_alarm")], "alarm"],
  ["combined", say("smoke and CO alarm"), BOXES, "ceiling", [device("combined_alarm")], "alarm"],
  ["fan", say("exhaust fan"), BOXES, "ceiling", [device("exhaust_fan")], "fan"],
  ["data", say("data outlet"), BOXES, "box", [device("data")], "data", 300],
  ["junction", say("junction box"), BOXES, "ceiling", [], "j"],
  ["panel", say("panel"), POWER, "panel"],
  ["furnace", say("furnace"), POWER, "appliance", say("Furnace")],
  ["heater", say("water heater"), POWER, "appliance", say("Water heater")],
  ["cable", say("cable, box to box"), POWER, "cable"],
].map(([name, words, group, how, what, stem, height]) => ({ name, words, group, how, what, stem, height })));

export class Hand {
  /**
   * `page` says what was chosen and what is wrong, and gives the kind of room and the circuit.
   * @param {import("./board.js").Board} board @param {import("./view.js").View} view @param {Draw.Page} page
   */
  constructor(board, view, page) {
    this.board = board;
    this.view = view;
    this.page = page;
    this.tool = TOOLS[0];
    /** @type {Draw.Drag | null} */
    this.drag = null;
    /** @type {House.Point[]} */
    this.points = [];
    /** @type {string | null} */
    this.first = null;
  }

  /** @param {string} name */
  take(name) {
    this.tool = TOOLS.find((tool) => tool.name === name) ?? TOOLS[0];
    this.points = [];
    this.first = null;
    this.sketch();
  }

  /**
   * The grid, or a corner of another room nearby.
   * @param {House.Point} point
   * @returns {House.Point}
   */
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
    return [nearX ?? gridded(x), nearY ?? gridded(y)];
  }

  /** @param {House.Point} point */
  roomAt(point) {
    return this.board.rooms.find((room) => inside(room, point));
  }

  /** @param {House.Point} point */
  wallAt(point) {
    return nearestWall(this.board.rooms, point, this.view.reach(WALL_PIXELS) + 250);
  }

  /** @param {House.Point} point @param {string | null} node */
  press(point, node) {
    const how = this.tool.how;
    if (how === "rect") this.drag = { from: this.snap(point) };
    else if (how === "polygon") this.corner(this.snap(point));
    else if (how === "choose") this.grip(point, node);
    else this.put(point, node);
  }

  /** @param {House.Point} point */
  move(point) {
    const { drag } = this;
    if (drag && this.tool.how !== "rect") this.pull(drag, point[0] - drag.from[0], point[1] - drag.from[1]);
    else if (drag || this.points.length) this.sketch(this.snap(point));
  }

  /** @param {Draw.Drag} drag @param {number} dx @param {number} dy */
  pull(drag, dx, dy) {
    drag.by = [dx, dy];
    if (drag.node) {
      const [x, y] = drag.at ?? [0, 0];
      this.view.node(drag.node)?.setAttribute("transform", `translate(${x + dx} ${y + dy})`);
    } else if (drag.room) {
      drag.by = this.snapped(drag.room, dx, dy);
      const moved = `translate(${drag.by[0]} ${drag.by[1]})`;
      for (const part of drag.parts ?? []) part.setAttribute("transform", `${moved} ${part.dataset.was ?? ""}`);
    } else this.view.pan(dx, dy);
  }

  /**
   * Where a room's first corner comes to lie on the grid or on another's corner.
   * @param {string} id @param {number} dx @param {number} dy
   * @returns {House.Point}
   */
  snapped(id, dx, dy) {
    const room = byId(this.board.rooms, id);
    const [x, y] = sides(room)[0].left;
    const others = this.board.rooms.filter((each) => each.id !== id).flatMap(corners);
    const reach = Math.max(this.view.reach(SNAP_PIXELS), GRID);
    for (const [cx, cy] of corners(room)) {
      const near = others.find(([ox, oy]) => Math.hypot(ox - cx - dx, oy - cy - dy) < reach);
      if (near) return [near[0] - cx, near[1] - cy];
    }
    return [gridded(x + dx) - x, gridded(y + dy) - y];
  }

  /** @param {House.Point} point */
  release(point) {
    const drag = this.drag;
    this.drag = null;
    if (!drag) return;
    if (this.tool.how === "rect") this.rect(drag.from, this.snap(point));
    else if (drag.by && Math.hypot(...drag.by) > this.view.reach(3)) this.drop(drag, drag.by, point);
  }

  /** @param {House.Point} from @param {House.Point} to */
  rect([ax, ay], [bx, by]) {
    this.sketch();
    if (Math.abs(ax - bx) < 300 || Math.abs(ay - by) < 300) return;
    const [l, r] = [Math.min(ax, bx), Math.max(ax, bx)], [t, b] = [Math.min(ay, by), Math.max(ay, by)];
    this.made(this.board.addRoom([[l, t], [r, t], [r, b], [l, b]], this.page.roomKind()));
  }

  /** @param {House.Point} point */
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

  /** @param {House.Point} [end] */
  sketch(end) {
    this.view.over.querySelectorAll("[data-sketch]").forEach((node) => node.remove());
    const points = end ? this.outline(end) : [];
    if (points.length < 2) return;
    const text = points.map((point) => point.join(",")).join(" ");
    this.view.over.append(shape("polyline", { points: text, class: "sketch", "data-sketch": "" }));
    const rect = this.tool.how === "rect";
    const [a, b] = rect ? [points[0], points[2]] : points.slice(-2);
    const label = shape("text", { x: (a[0] + b[0]) / 2, y: (a[1] + b[1]) / 2, class: "sketch-name", "data-sketch": "" });
    const [wide, high] = [Math.abs(a[0] - b[0]), Math.abs(a[1] - b[1])];
    label.textContent = rect ? `${wide} × ${high}` : `${Math.round(Math.hypot(wide, high))}`;
    this.view.over.append(label);
  }

  /**
   * The corners of what is being drawn, if it ended there.
   * @param {House.Point} end
   * @returns {House.Point[]}
   */
  outline(end) {
    const from = this.drag?.from;
    if (this.tool.how === "rect" && from) return [from, [end[0], from[1]], end, [from[0], end[1]], from];
    return this.points.length ? [...this.points, end] : [];
  }

  /**
   * Choose what is under the hand, and hold it in case it is moved.
   * @param {House.Point} point @param {string | null} node
   */
  grip(point, node) {
    if (node) {
      this.page.choose(this.pathOf(node));
      this.drag = { from: point, node, at: this.view.where(node) };
      return;
    }
    const near = nearestWall(this.board.rooms, point, this.view.reach(10));
    if (near) {
      const index = (near.wall.openings ?? []).findIndex((each) => within(near.along, each));
      const path = ["rooms", near.room.id, "walls", near.wall.id];
      this.page.choose(index < 0 ? path : [...path, "openings", index]);
      return;
    }
    const fitting = this.fittingAt(point);
    if (fitting) return this.page.choose(fitting);
    const room = this.roomAt(point);
    this.page.choose(room ? ["rooms", room.id] : null);
    this.drag = { from: point, room: room?.id, parts: room ? this.partsOf(room.id) : [] };
  }

  /** @param {House.Point} point @returns {House.Path | null} */
  fittingAt(point) {
    const near = nearestWall(this.board.rooms, point, 900);
    if (!near || near.off < 0) return null;
    const found = (near.room.fixtures ?? []).find((each) =>
      each.wall === near.wall.id && within(near.along, each) && near.off <= (each.depth_mm ?? 400));
    return found ? ["rooms", near.room.id, "fixtures", found.id] : this.counterAt(near);
  }

  /** @param {Draw.NearWall} near @returns {House.Path | null} */
  counterAt(near) {
    for (const counter of this.board.house.counters.filter((each) => each.room === near.room.id)) {
      let start = 0;
      for (const stretch of counter.along ?? []) {
        if (stretch.wall === near.wall.id && within(near.along, stretch) && near.off <= (counter.depth_mm ?? 600)) {
          const along = start + near.along - stretch.at_mm;
          const index = (counter.interruptions ?? []).findIndex((each) => within(along, each));
          return index < 0 ? ["counters", counter.id] : ["counters", counter.id, "interruptions", index];
        }
        start += stretch.width_mm;
      }
    }
    return null;
  }

  /**
   * What of the plan moves with a room.
   * @param {string} roomId
   */
  partsOf(roomId) {
    const boxes = this.board.house.boxes.filter((box) => box.room === roomId).map((box) => this.view.node(box.id));
    const parts = [...this.view.nodes(`[data-room="${CSS.escape(roomId)}"]`), ...boxes].filter((part) => part !== null);
    for (const part of parts) part.dataset.was = part.getAttribute("transform") ?? "";
    return parts;
  }

  /** @param {Draw.Drag} drag @param {House.Point} by @param {House.Point} point */
  drop(drag, by, point) {
    if (drag.room) this.board.moveRoom(drag.room, ...by);
    if (!drag.node) return;
    const box = this.board.house.boxes.find((each) => each.id === drag.node);
    if (!box || !this.moved(box, point)) this.board.changed();
  }

  /**
   * Whether a box came to stand there: on a wall near it, or on the ceiling of a room.
   * @param {House.Box} box @param {House.Point} point
   */
  moved(box, point) {
    if (box.place.surface === "wall") {
      const near = this.wallAt(point);
      return near && this.board.moveBox(box.id, { wall: near.wall.id, at_mm: grid(near.along, near.wall) }, near.room.id);
    }
    const room = box.place.surface === "ceiling" && this.roomAt(point);
    return room && this.board.moveBox(box.id, { x_mm: round(point[0]), y_mm: round(-point[1]) }, room.id);
  }

  /** @param {House.Point} point @param {string | null} node */
  put(point, node) {
    const { tool } = this;
    if (tool.how === "cable") return this.cable(node);
    if (ON_WALLS.includes(tool.how)) {
      const near = this.wallAt(point);
      return near ? this.putOnWall(tool, near) : this.page.tell(say("Press a wall."));
    }
    const room = this.roomAt(point);
    return room ? this.putInRoom(tool, room, point) : this.page.tell(say("Press inside a room."));
  }

  /** @param {Draw.Tool} tool @param {Draw.NearWall} near */
  putOnWall(tool, near) {
    const { board } = this;
    const room = near.room.id, wall = near.wall.id, along = grid(near.along, near.wall);
    if (tool.how === "opening") this.made(board.addOpening(room, wall, along, tool.what), say("Something is already there."));
    if (tool.how === "counter") this.made(board.addCounter(room, wall));
    if (tool.how === "fixture") this.made(board.addFixture(room, wall, along, tool.what));
    if (tool.how === "interruption") this.made(board.addInterruption(room, wall, near.along, tool.what), say("Press a free spot on a counter."));
    if (tool.how === "box") this.made(board.addBox(tool.stem, room, this.onWall(near, tool.height), structuredClone(tool.what)));
  }

  /** @param {Draw.Tool} tool @param {House.Room} room @param {House.Point} point */
  putInRoom(tool, room, point) {
    const { board } = this;
    const ceiling = { surface: "ceiling", x_mm: round(point[0]), y_mm: round(-point[1]) };
    if (tool.how === "ceiling") this.made(board.addBox(tool.stem, room.id, ceiling, structuredClone(tool.what)));
    if (tool.how === "panel") this.made(board.addPanel(room.id));
    if (tool.how === "appliance") this.made(board.addAppliance(room.id, tool.what));
    if (tool.how === "island") this.made(board.addIsland(room.id, tool.what));
  }

  /**
   * Above a counter where one runs along the wall there.
   * @param {Draw.NearWall} near @param {number} height
   */
  onWall(near, height) {
    const over = this.board.house.counters.find((counter) => counter.room === near.room.id
      && (counter.along ?? []).some((each) => each.wall === near.wall.id && within(near.along, each)));
    const up = over && height < 1000 ? (over.top_mm ?? 910) + 200 : height;
    return { surface: "wall", wall: near.wall.id, at_mm: grid(near.along, near.wall), height_mm: up };
  }

  /** @param {string | null} node */
  cable(node) {
    if (!node) return this.page.tell(say("Press a box or the panel."));
    if (!this.first) {
      this.first = node;
      return this.page.tell(say("From {id}. Now press where it goes.", { id: node }));
    }
    const from = this.first;
    this.first = null;
    if (from !== node) this.made(this.board.addCable(from, node, this.page.circuit()));
    return undefined;
  }

  /**
   * @param {string} node
   * @returns {House.Path | null}
   */
  pathOf(node) {
    for (const list of /** @type {const} */ (["boxes", "panels", "appliances"])) {
      if (this.board.house[list].some((part) => part.id === node)) return [list, node];
    }
    return null;
  }

  /** @param {House.Path | false} path */
  made(path, otherwise = say("That does not fit there.")) {
    if (path === false) this.page.tell(otherwise);
    else this.page.choose(path);
  }
}

/** @param {number} value */
const gridded = (value) => Math.round(value / GRID) * GRID;

/** @param {number} along @param {House.Wall} wall */
const grid = (along, wall) => Math.min(Math.max(gridded(along), 0), wall.length_mm);

/**
 * Whether a place along a wall is within what stands there.
 * @param {number} along @param {{ at_mm?: House.Measure, width_mm?: House.Measure }} part
 */
const within = (along, { at_mm, width_mm }) => along >= (at_mm ?? 0) && along <= (at_mm ?? 0) + (width_mm ?? 400);
