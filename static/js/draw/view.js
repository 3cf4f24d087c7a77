// The sheet on the screen: the plan as the site draws it, and over it what is being done now.
import { say } from "../say.js";
import { words } from "./form.js";
import { at, bounds, corners, sides } from "./geometry.js";
import { byId } from "./parts.js";

const SVG = "http://www.w3.org/2000/svg";
const HUES = 8;

/**
 * @template {keyof SVGElementTagNameMap} Tag
 * @param {Tag} name @param {Record<string, string | number>} attributes @param {Node[]} children
 * @returns {SVGElementTagNameMap[Tag]}
 */
export function shape(name, attributes, ...children) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
  made.append(...children);
  return made;
}

export class View {
  /** @param {SVGSVGElement} svg */
  constructor(svg) {
    /** @param {string} id */
    const layer = (id) => /** @type {SVGElement} */ (svg.querySelector(id));
    this.svg = svg;
    this.underlay = layer("#underlay");
    this.plan = layer("#drawn");
    this.over = layer("#over");
    this.cross = layer("#cross");
    this.box = { x: -500, y: -500, width: 12000, height: 8000 };
    this.place();
  }

  place() {
    const { x, y, width, height } = this.box;
    this.svg.setAttribute("viewBox", `${x} ${y} ${width} ${height}`);
  }

  /** @param {House.Room[]} rooms */
  fit(rooms) {
    this.box = bounds(rooms);
    this.place();
  }

  /** @param {number} by @param {House.Point} [centre] */
  zoom(by, [x, y] = [this.box.x + this.box.width / 2, this.box.y + this.box.height / 2]) {
    const width = Math.min(Math.max(this.box.width * by, 800), 400000);
    const scale = width / this.box.width;
    this.box = {
      x: x - (x - this.box.x) * scale, y: y - (y - this.box.y) * scale,
      width, height: this.box.height * scale,
    };
    this.place();
  }

  /** @param {number} dx @param {number} dy */
  pan(dx, dy) {
    this.box.x -= dx;
    this.box.y -= dy;
    this.place();
  }

  /**
   * @param {MouseEvent} event
   * @returns {House.Point}
   */
  point(event) {
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(this.svg.getScreenCTM()?.inverse());
    return [point.x, point.y];
  }

  /**
   * Mm of the sheet for so many pixels of the screen.
   * @param {number} pixels
   */
  reach(pixels) {
    return pixels * this.box.width / Math.max(this.svg.clientWidth, 1);
  }

  /**
   * The plan as the site drew it.
   * @param {string} text
   */
  draw(text) {
    const made = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
    this.plan.replaceChildren(...[...made.childNodes].map((node) => document.importNode(node, true)));
  }

  /**
   * Bare outlines at once, until the site has answered.
   * @param {House.Room[]} rooms
   */
  outline(rooms) {
    const known = new Set(this.nodes("[data-room]").map((node) => node.dataset.room));
    for (const room of rooms) {
      if (!known.has(room.id) && room.walls?.length) {
        const points = corners(room).map((point) => point.join(",")).join(" ");
        this.plan.append(shape("g", { "data-room": room.id }, shape("polygon", { points, class: "pending" })));
      }
    }
    const now = new Set(rooms.map((room) => room.id));
    for (const node of this.nodes("[data-room]")) if (!now.has(node.dataset.room ?? "")) node.remove();
  }

  /**
   * What the plan has of such elements.
   * @param {string} selector
   * @returns {SVGElement[]}
   */
  nodes(selector) {
    return [...this.plan.querySelectorAll(selector)].filter((node) => node instanceof SVGElement);
  }

  /**
   * @param {string | number} id
   * @returns {SVGElement | null}
   */
  node(id) {
    return this.plan.querySelector(`[data-node="${CSS.escape(String(id))}"]`);
  }

  /** @param {{ clientX: number, clientY: number }} event */
  nodeAt(event) {
    const under = document.elementsFromPoint(event.clientX, event.clientY).map((each) => each.closest("[data-node]"));
    return under.find(Boolean)?.getAttribute("data-node") ?? null;
  }

  /**
   * @param {string} id
   * @returns {House.Point | null}
   */
  where(id) {
    const found = /translate\((-?[\d.]+)[ ,]+(-?[\d.]+)\)/.exec(this.node(id)?.getAttribute("transform") ?? "");
    return found ? [Number(found[1]), Number(found[2])] : null;
  }

  /**
   * What is chosen, drawn over the plan.
   * @param {House.Path | null} path @param {House.Whole} house
   */
  choose(path, house) {
    for (const node of this.svg.querySelectorAll(".chosen")) node.classList.remove("chosen");
    this.over.querySelectorAll("[data-choice]").forEach((node) => node.remove());
    if (!path) return;
    const room = path[0] === "rooms" && house.rooms.find((each) => each.id === path[1]);
    const counter = path[0] === "counters" && house.counters.find((each) => each.id === path[1]);
    if (room) this.chooseInRoom(path, room);
    if (counter) this.chooseCounter(counter, house);
    this.node(path[1])?.classList.add("chosen");
  }

  /** @param {House.Path} path @param {House.Room} room */
  chooseInRoom(path, room) {
    if (path.length === 2) {
      const points = corners(room).map((point) => point.join(",")).join(" ");
      this.over.append(shape("polygon", { points, class: "choice", "data-choice": "" }));
    } else if (path[2] === "walls") {
      const side = sides(room).find((each) => each.wall.id === path[3]);
      if (side) this.chooseWall(side, path);
    } else if (path[2] === "fixtures") {
      const fixture = byId(room.fixtures ?? [], path[3]);
      this.onSide(room, fixture.wall, fixture.at_mm ?? 0, fixture.width_mm ?? 400, fixture.depth_mm ?? 600);
    }
  }

  /** @param {Draw.Side} side @param {House.Path} path */
  chooseWall(side, path) {
    const opening = path[4] === "openings" ? side.wall.openings?.[Number(path[5])] : undefined;
    const from = opening ? opening.at_mm : 0, to = opening ? from + opening.width_mm : side.wall.length_mm;
    this.line(at(side, from, 60), at(side, to, 60), "choice", { "data-choice": "" });
  }

  /** @param {House.Counter} counter @param {House.Whole} house */
  chooseCounter(counter, house) {
    const home = byId(house.rooms, counter.room);
    for (const stretch of counter.along ?? []) {
      this.onSide(home, stretch.wall, stretch.at_mm, stretch.width_mm, counter.depth_mm ?? 600);
    }
  }

  /**
   * @param {House.Room} room @param {string | null | undefined} wall
   * @param {number} from @param {number} width @param {number} depth
   */
  onSide(room, wall, from, width, depth) {
    const side = sides(room).find((each) => each.wall.id === wall);
    if (side) this.over.append(shape("polygon", { points: against(side, from, width, depth), class: "choice", "data-choice": "" }));
  }

  /** @param {House.Point} from @param {House.Point} to @param {string} kind @param {Record<string, string>} [more] */
  line([x1, y1], [x2, y2], kind, more = {}) {
    const made = shape("line", { x1, y1, x2, y2, class: kind, ...more });
    this.over.append(made);
    return made;
  }

  /**
   * Counters, fixtures and what stands in counters: what the plan does not draw by itself.
   * @param {House.Room[]} rooms @param {House.Counter[]} counters
   */
  fittings(rooms, counters) {
    this.over.querySelectorAll("[data-fitting]").forEach((node) => node.remove());
    for (const room of rooms) {
      const walls = new Map(sides(room).map((side) => [side.wall.id, side]));
      for (const each of room.fixtures ?? []) {
        this.fitting(walls.get(each.wall ?? ""), each.at_mm ?? 0, each.width_mm ?? 400, each.depth_mm ?? 400, each.kind);
      }
      for (const counter of counters.filter((each) => each.room === room.id)) this.inCounter(walls, counter);
    }
  }

  /** @param {Map<string, Draw.Side>} walls @param {House.Counter} counter */
  inCounter(walls, counter) {
    for (const { stretch, item, at_mm } of interruptions(counter)) {
      this.fitting(walls.get(stretch.wall), at_mm, item.width_mm, counter.depth_mm ?? 600, item.kind);
    }
  }

  /**
   * @param {Draw.Side | undefined} side
   * @param {number} from @param {number} width @param {number} depth @param {string} kind
   */
  fitting(side, from, width, depth, kind) {
    if (!side) return;
    const [x, y] = at(side, from + width / 2, depth / 2);
    const label = shape("text", { x, y, "text-anchor": "middle", class: "fitting-name" });
    label.textContent = say(words(kind));
    this.over.prepend(shape("g", { "data-fitting": "" },
      shape("polygon", { points: against(side, from, width, depth), class: "fitting" }), label));
  }

  /**
   * Cables as straight runs, a hue and a dash for each circuit, its name at the middle.
   * @param {House.Whole} house @param {boolean} shown
   */
  cables(house, shown) {
    this.over.querySelectorAll("[data-cable]").forEach((node) => node.remove());
    if (!shown) return;
    /** @type {Map<string | null | undefined, number>} */
    const hue = new Map(house.circuits.map((circuit, index) => [circuit.id, index % HUES]));
    for (const cable of house.cables) {
      const [a, b] = cable.ends.map((end) => this.where(end));
      if (!a || !b) continue;
      const kind = `cable hue-${hue.get(cable.circuit) ?? "none"}`;
      const group = shape("g", { "data-cable": cable.id });
      group.append(shape("line", { x1: a[0], y1: a[1], x2: b[0], y2: b[1], class: kind }));
      const label = shape("text", { x: (a[0] + b[0]) / 2, y: (a[1] + b[1]) / 2, class: "cable-name" });
      label.textContent = cable.circuit ?? "";
      group.append(label);
      this.over.prepend(group);
    }
  }

  /** @param {House.Point} point @param {boolean} shown */
  crosshair([x, y], shown) {
    this.cross.setAttribute("transform", `translate(${x} ${y})`);
    this.cross.classList.toggle("shown", shown);
  }
}

/**
 * The corners of what stands so deep against a wall.
 * @param {Draw.Side} side @param {number} from @param {number} width @param {number} depth
 */
const against = (side, from, width, depth) =>
  [at(side, from), at(side, from + width), at(side, from + width, depth), at(side, from, depth)]
    .map((point) => point.join(",")).join(" ");

/**
 * What stands in a counter, with the stretch that it begins in and where along that wall.
 * @param {House.Counter} counter
 */
function interruptions(counter) {
  const found = [];
  let start = 0;
  for (const stretch of counter.along ?? []) {
    for (const item of counter.interruptions ?? []) {
      if (item.at_mm >= start && item.at_mm < start + stretch.width_mm) {
        found.push({ stretch, item, at_mm: stretch.at_mm + item.at_mm - start });
      }
    }
    start += stretch.width_mm;
  }
  return found;
}
