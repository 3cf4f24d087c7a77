// The sheet on the screen: the plan as the site draws it, and over it what is being done now.
import { say } from "../say.js";
import { words } from "./form.js";
import { at, bounds, corners, sides } from "./geometry.js";

const SVG = "http://www.w3.org/2000/svg";
const HUES = 8;

export function shape(name, attributes, ...children) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children);
  return made;
}

export class View {
  constructor(svg) {
    this.svg = svg;
    this.underlay = svg.querySelector("#underlay");
    this.plan = svg.querySelector("#drawn");
    this.over = svg.querySelector("#over");
    this.cross = svg.querySelector("#cross");
    this.box = { x: -500, y: -500, width: 12000, height: 8000 };
    this.place();
  }

  place() {
    const { x, y, width, height } = this.box;
    this.svg.setAttribute("viewBox", `${x} ${y} ${width} ${height}`);
  }

  fit(rooms) {
    this.box = bounds(rooms);
    this.place();
  }

  zoom(by, [x, y] = [this.box.x + this.box.width / 2, this.box.y + this.box.height / 2]) {
    const width = Math.min(Math.max(this.box.width * by, 800), 400000);
    const scale = width / this.box.width;
    this.box = {
      x: x - (x - this.box.x) * scale, y: y - (y - this.box.y) * scale,
      width, height: this.box.height * scale,
    };
    this.place();
  }

  pan(dx, dy) {
    this.box.x -= dx;
    this.box.y -= dy;
    this.place();
  }

  point(event) {
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(this.svg.getScreenCTM().inverse());
    return [point.x, point.y];
  }

  // Mm of the sheet for so many pixels of the screen.
  reach(pixels) {
    return pixels * this.box.width / Math.max(this.svg.clientWidth, 1);
  }

  // The plan as the site drew it.
  draw(text) {
    const made = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
    this.plan.replaceChildren(...[...made.childNodes].map((node) => document.importNode(node, true)));
  }

  // Bare outlines at once, until the site has answered.
  outline(rooms) {
    const known = new Set([...this.plan.querySelectorAll("[data-room]")].map((node) => node.dataset.room));
    for (const room of rooms) {
      if (!known.has(room.id) && room.walls?.length) {
        const points = corners(room).map((point) => point.join(",")).join(" ");
        this.plan.append(shape("g", { "data-room": room.id }, shape("polygon", { points, class: "pending" })));
      }
    }
    const now = new Set(rooms.map((room) => room.id));
    for (const node of this.plan.querySelectorAll("[data-room]")) if (!now.has(node.dataset.room)) node.remove();
  }

  node(id) {
    return this.plan.querySelector(`[data-node="${CSS.escape(id)}"]`);
  }

  nodeAt(event) {
    return document.elementsFromPoint(event.clientX, event.clientY)
      .map((each) => each.closest?.("[data-node]")).find(Boolean)?.dataset.node ?? null;
  }

  where(id) {
    const found = /translate\((-?[\d.]+)[ ,]+(-?[\d.]+)\)/.exec(this.node(id)?.getAttribute("transform") ?? "");
    return found ? [Number(found[1]), Number(found[2])] : null;
  }

  // What is chosen, drawn over the plan.
  choose(path, house) {
    for (const node of this.svg.querySelectorAll(".chosen")) node.classList.remove("chosen");
    this.over.querySelectorAll("[data-choice]").forEach((node) => node.remove());
    if (!path) return;
    const room = house.rooms.find((each) => each.id === (path[0] === "rooms" ? path[1] : null));
    if (room && path.length === 2) {
      const points = corners(room).map((point) => point.join(",")).join(" ");
      this.over.append(shape("polygon", { points, class: "choice", "data-choice": "" }));
    } else if (room && path[2] === "walls") {
      const side = sides(room).find((each) => each.wall.id === path[3]);
      const opening = path[4] === "openings" ? side.wall.openings[path[5]] : null;
      const from = opening ? opening.at_mm : 0, to = opening ? from + opening.width_mm : side.wall.length_mm;
      this.line(at(side, from, 60), at(side, to, 60), "choice", { "data-choice": "" });
    } else if (room && path[2] === "fixtures") {
      const fixture = room.fixtures.find((each) => each.id === path[3]);
      this.onSide(room, fixture.wall, fixture.at_mm, fixture.width_mm, fixture.depth_mm);
    } else if (path[0] === "counters") {
      const counter = house.counters.find((each) => each.id === path[1]);
      const home = house.rooms.find((each) => each.id === counter.room);
      for (const stretch of counter.along ?? []) {
        this.onSide(home, stretch.wall, stretch.at_mm, stretch.width_mm, counter.depth_mm);
      }
    }
    this.node(path[1])?.classList.add("chosen");
  }

  onSide(room, wall, from, width, depth = 600) {
    const side = sides(room).find((each) => each.wall.id === wall);
    if (!side) return;
    const points = [at(side, from), at(side, from + width), at(side, from + width, depth), at(side, from, depth)];
    this.over.append(shape("polygon", { points: points.map((p) => p.join(",")).join(" "), class: "choice", "data-choice": "" }));
  }

  line([x1, y1], [x2, y2], kind, more = {}) {
    const made = shape("line", { x1, y1, x2, y2, class: kind, ...more });
    this.over.append(made);
    return made;
  }

  // Counters, fixtures and what stands in counters: what the plan does not draw by itself.
  fittings(rooms, counters) {
    this.over.querySelectorAll("[data-fitting]").forEach((node) => node.remove());
    const put = (side, from, width, depth, text) => {
      const points = [at(side, from), at(side, from + width), at(side, from + width, depth), at(side, from, depth)];
      const [x, y] = at(side, from + width / 2, depth / 2);
      const label = shape("text", { x, y, "text-anchor": "middle", class: "fitting-name" });
      label.textContent = text;
      this.over.prepend(shape("g", { "data-fitting": "" },
        shape("polygon", { points: points.map((p) => p.join(",")).join(" "), class: "fitting" }), label));
    };
    for (const room of rooms) {
      const walls = Object.fromEntries(sides(room).map((side) => [side.wall.id, side]));
      for (const f of room.fixtures ?? []) {
        if (walls[f.wall]) put(walls[f.wall], f.at_mm ?? 0, f.width_mm ?? 400, f.depth_mm ?? 400, say(words(f.kind)));
      }
      for (const counter of counters.filter((each) => each.room === room.id)) {
        let start = 0;
        for (const stretch of counter.along ?? []) {
          for (const item of counter.interruptions ?? []) {
            if (item.at_mm >= start && item.at_mm < start + stretch.width_mm && walls[stretch.wall]) {
              put(walls[stretch.wall], stretch.at_mm + item.at_mm - start, item.width_mm, counter.depth_mm ?? 600, say(words(item.kind)));
            }
          }
          start += stretch.width_mm;
        }
      }
    }
  }

  // Cables as straight runs, a hue and a dash for each circuit, its name at the middle.
  cables(house, shown) {
    this.over.querySelectorAll("[data-cable]").forEach((node) => node.remove());
    if (!shown) return;
    const hue = Object.fromEntries(house.circuits.map((circuit, index) => [circuit.id, index % HUES]));
    for (const cable of house.cables) {
      const [a, b] = cable.ends.map((end) => this.where(end));
      if (!a || !b) continue;
      const kind = `cable hue-${hue[cable.circuit] ?? "none"}`;
      const group = shape("g", { "data-cable": cable.id });
      group.append(shape("line", { x1: a[0], y1: a[1], x2: b[0], y2: b[1], class: kind }));
      const label = shape("text", { x: (a[0] + b[0]) / 2, y: (a[1] + b[1]) / 2, class: "cable-name" });
      label.textContent = cable.circuit ?? "";
      group.append(label);
      this.over.prepend(group);
    }
  }

  crosshair([x, y], shown) {
    this.cross.setAttribute("transform", `translate(${x} ${y})`);
    this.cross.classList.toggle("shown", shown);
  }
}
