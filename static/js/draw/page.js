// The drawing board: joins the house, the sheet, the tools and the forms, and asks the site what
// it finds each time something changed.
import { say } from "../say.js";
import { Board, find } from "./board.js";
import { middle } from "./geometry.js";
import { Form, definition, element, partWord, valueWord } from "./form.js";
import { parse } from "./lengths.js";
import { Hand, TOOLS } from "./tools.js";
import { View } from "./view.js";

const WAIT = 120;
const STEP = 50, LEAP = 500;
const COUNTED = {
  meets: (n) => say("{n} meets", { n }),
  short: (n) => say("{n} short", { n }),
  look: (n) => say("{n} look", { n }),
  unknown: (n) => say("{n} unknown", { n }),
};
const PROPOSED = {
  outdoors: say("outdoors"), receptacles: say("receptacles"), lights: say("lights"), alarms: say("alarms"),
  circuits: say("circuits"), cables: say("cables"), boxes: say("boxes"),
};
const read = (id) => JSON.parse(document.getElementById(id).textContent);
const $ = (id) => document.getElementById(id);

const data = read("board-data");
const csrf = document.querySelector("[name=csrfmiddlewaretoken]").value;
const draft = `studbay-draw-${data.person}-${data.job}`;
const view = new View($("board"));
let chosen = null, asking = null, timer = 0, cursor = [1000, 1000], underlay = null;

const page = {
  tell(text) { $("said").textContent = text; },
  roomKind: () => $("room-kind").value,
  circuit: () => $("circuit").value,
  choose(path) {
    chosen = path && find(board.house, path) ? path : null;
    show();
  },
};
const kept = data.fresh ? null : restored();
const board = new Board(kept ?? data.house, changed);
const hand = new Hand(board, view, page);
const form = new Form($("facts"), data.schema, (path, name, value) => {
  if (definition(path) === "Wall" && name === "length_mm") {
    if (board.setWallLength(path[1], path[3], value) === false) page.tell(say("No wall stands opposite; move its corners instead."));
  } else if (path.at(-1) === "place") placed(path, name, value);
  else board.set(path, name, value);
});

function restored() {
  try {
    const found = JSON.parse(localStorage.getItem(draft) ?? "null");
    return found?.base === data.base ? found.house : null;
  } catch { // a draft that cannot be read, or a browser that keeps nothing: begin from what is recorded
    return null;
  }
}

function placed(path, name, value) {
  board.change((house) => {
    const box = find(house, path.slice(0, -1));
    if (value === null) delete box.place[name];
    else box.place[name] = value;
  });
}

// Everything that follows from a change: the draft, the outlines at once, the site's answer soon.
function changed() {
  try {
    localStorage.setItem(draft, JSON.stringify({ base: data.base, house: board.house }));
  } catch { // full or forbidden: the house is still on the board, and can be recorded
    page.tell(say("This browser keeps no draft; record the house before you leave."));
  }
  if (chosen && !find(board.house, chosen)) chosen = null;
  lists();
  view.outline(board.rooms);
  show();
  clearTimeout(timer);
  timer = setTimeout(look, WAIT);
}

async function ask(address, body) {
  const answer = await fetch(address, {
    method: "POST", body: JSON.stringify(body), signal: asking?.signal,
    headers: { "Content-Type": "application/json", "X-CSRFToken": csrf },
  });
  if (answer.status !== 200 && answer.status !== 422) throw new Error(say("the site answered {status}", { status: answer.status }));
  return answer.json();
}

const sent = (more) => ({ house: board.house, rulebook: $("rulebook").value, storey: board.storey, ...more });

async function look() {
  asking?.abort();
  asking = new AbortController();
  const began = performance.now();
  try {
    const answer = await ask(data.urls.look, sent({}));
    if (answer.faults) return faulty(answer.faults);
    view.draw(answer.svg);
    overlay();
    const counts = Object.entries(answer.counts).map(([verdict, count]) => COUNTED[verdict](count)).join(", ");
    $("counts").textContent = counts;
    $("counts").dataset.took = Math.round(performance.now() - began);
    findings(answer.wanting, answer.more);
    document.body.dataset.looked = String(Number(document.body.dataset.looked ?? 0) + 1);
  } catch (fault) {
    if (fault.name !== "AbortError") page.tell(say("Not checked: {reason}. What you drew is kept here.", { reason: fault.message }));
  }
  return undefined;
}

function faulty(faults) {
  $("counts").textContent = say("{n} to mend before it can be checked", { n: faults.length });
  $("findings").replaceChildren(...faults.map((fault) => element("li", {}, fault)));
  view.outline(board.rooms);
  overlay();
  document.body.dataset.looked = String(Number(document.body.dataset.looked ?? 0) + 1);
}

function findings(wanting, more) {
  const lines = wanting.map((each) => {
    const go = element("button", { type: "button", class: "plain-button" }, each.title);
    go.addEventListener("click", () => goTo(each));
    return element("li", { class: each.verdict }, go, `, ${each.where}: ${each.says}`);
  });
  if (more) lines.push(element("li", {}, say("and {n} more", { n: more })));
  $("findings").replaceChildren(...lines);
}

function goTo(finding) {
  const room = board.house.rooms.find((each) => each.id === finding.room);
  if (!room) return;
  if (room.storey !== board.storey) { board.storey = room.storey; changed(); }
  view.fit([room]);
  const box = board.house.boxes.find((each) => each.id === finding.subject);
  page.choose(box ? ["boxes", box.id] : ["rooms", room.id]);
}

function overlay() {
  view.fittings(board.rooms, board.house.counters);
  view.cables(board.house, $("show-cables").checked);
  view.choose(chosen, board.house);
}

function show() {
  overlay();
  const part = chosen && find(board.house, chosen);
  $("chosen").textContent = part ? `${partWord(chosen)} ${part.name ?? part.id ?? valueWord(part.kind)}` : say("nothing chosen");
  $("remove").disabled = !part;
  if (!part) {
    $("facts").replaceChildren();
    $("parts").replaceChildren();
    return;
  }
  form.show(chosen, part, choices());
  inner(part);
}

function choices() {
  const ids = (list) => board.house[list].map((part) => part.id);
  return { area: ids("areas"), circuit: ids("circuits"), second_circuit: ids("circuits"), panel: ids("panels"), shares_neutral_with: ids("circuits") };
}

// What is in what is chosen: the walls of a room, the devices of a box.
function inner(part) {
  const lists = { walls: part.walls, openings: part.openings, fixtures: part.fixtures, interruptions: part.interruptions, devices: part.devices };
  const buttons = [];
  for (const [list, parts] of Object.entries(lists)) {
    (parts ?? []).forEach((each, index) => {
      const key = each.id ?? index;
      const path = [...chosen, list, key], kind = each.kind && valueWord(each.kind);
      const text = `${partWord(path)} ${each.id ?? kind} ${each.length_mm ? `${each.length_mm} mm` : each.id ? kind ?? "" : index + 1}`;
      const button = element("button", { type: "button" }, text.trim());
      button.addEventListener("click", () => page.choose(path));
      buttons.push(button);
    });
  }
  if (chosen.length > 2) {
    const up = element("button", { type: "button" }, say("back to the whole"));
    up.addEventListener("click", () => page.choose(chosen.slice(0, -2)));
    buttons.push(up);
  }
  $("parts").replaceChildren(...buttons);
}

function lists() {
  const option = (value, text) => element("option", { value }, text);
  const fill = (select, options, value) => {
    select.replaceChildren(...options);
    select.value = value;
  };
  fill($("storey"), board.house.storeys.map((each) => option(each.id, each.name)), board.storey);
  const circuit = $("circuit").value;
  fill($("circuit"), [option("", say("no circuit")), ...board.house.circuits.map((each) => option(each.id, `${each.id}: ${each.name}`))], circuit);
  $("undo").disabled = !board.past.length;
  $("redo").disabled = !board.future.length;
}

// Proposals: what would finish the house, each to be taken or left.
async function propose(leftOut = []) {
  page.tell(say("Working out what is missing…"));
  asking?.abort();
  asking = new AbortController();
  try {
    const answer = await ask(data.urls.finish, sent({ studs_mm: parse($("studs").value) ?? 406.4, left_out: leftOut }));
    if (answer.faults) return faulty(answer.faults);
    proposed(answer, leftOut);
    page.tell("");
  } catch (fault) {
    if (fault.name !== "AbortError") page.tell(say("Nothing proposed: {reason}.", { reason: fault.message }));
  }
  return undefined;
}

function proposed(answer, leftOut) {
  const list = $("proposals");
  list.replaceChildren();
  let kind = "";
  answer.proposals.forEach((each, index) => {
    if (each.kind !== kind) list.append(element("h3", {}, PROPOSED[kind = each.kind]));
    const box = element("input", { type: "checkbox", value: each.key, id: `p${index}` });
    box.checked = !leftOut.includes(each.key);
    const label = element("label", { for: `p${index}` }, element("b", {}, each.for), ` ${each.says}`);
    list.append(element("p", { class: "proposal" }, box, label, element("small", {}, each.proof)));
  });
  for (const each of answer.unsolved) list.append(element("p", {}, say("{kind}, {place}: nothing proposed, {why}", { kind: PROPOSED[each.kind], place: each.for, why: each.why })));
  for (const each of answer.short) list.append(element("p", { class: "short" }, say("short all the same: {where}: {says}", each)));
  if (!answer.proposals.length) list.append(element("p", {}, say("Nothing is missing that could be proposed.")));
  $("propose").showModal();
  $("take").onclick = async () => {
    const now = [...list.querySelectorAll("input:not(:checked)")].map((box) => box.value);
    const same = now.length === leftOut.length && now.every((key) => leftOut.includes(key));
    $("propose").close();
    if (same) {
      board.replace(answer.house);
      page.choose(null);
    } else await propose(now);
  };
  const retold = () => {
    const now = [...list.querySelectorAll("input:not(:checked)")].length;
    $("take").textContent = now === leftOut.length ? say("Add what is ticked") : say("Work it out again with what is ticked");
  };
  list.onchange = retold;
  retold();
}

function keys(event) {
  if (event.target.closest("input, select, textarea, dialog")) return;
  const ctrl = event.ctrlKey || event.metaKey;
  if (ctrl && event.key.toLowerCase() === "z") board[event.shiftKey ? "redo" : "undo"]();
  else if (ctrl && event.key.toLowerCase() === "y") board.redo();
  else if (event.key === "Delete" || event.key === "Backspace") remove();
  else if (event.key === "Escape") { hand.take(hand.tool.name); page.choose(null); }
  else if (document.activeElement === $("board") && !ctrl) return walk(event);
  else return;
  event.preventDefault();
}

// The crosshair: arrows move it, Enter presses there, and a drag goes from one Enter to the next.
function walk(event) {
  const by = event.shiftKey ? LEAP : STEP;
  const moves = { ArrowLeft: [-by, 0], ArrowRight: [by, 0], ArrowUp: [0, -by], ArrowDown: [0, by] };
  if (moves[event.key]) {
    cursor = [cursor[0] + moves[event.key][0], cursor[1] + moves[event.key][1]];
    view.crosshair(cursor, true);
    hand.move(cursor);
  } else if (event.key === "Enter") {
    if (hand.drag) hand.release(cursor);
    else {
      const screen = new DOMPoint(...cursor).matrixTransform(view.svg.getScreenCTM());
      hand.press(cursor, view.nodeAt({ clientX: screen.x, clientY: screen.y }));
    }
  } else return;
  event.preventDefault();
}

function remove() {
  if (chosen && find(board.house, chosen)) board.remove(chosen);
}

// A picture of the paper plan beneath: two presses on it and the length between them give its scale.
function lay(file) {
  const image = new Image();
  image.onload = () => {
    underlay = { width: image.naturalWidth, height: image.naturalHeight, scale: 12000 / image.naturalWidth, marks: null };
    view.underlay.setAttribute("href", image.src);
    scaled(0, 0);
    page.tell(say("Press “scale” and then on two points of the picture."));
  };
  image.onerror = () => page.tell(say("This file is no picture."));
  image.src = URL.createObjectURL(file);
}

function scaled(x, y) {
  const given = { x, y, width: underlay.width * underlay.scale, height: underlay.height * underlay.scale };
  for (const [name, value] of Object.entries(given)) view.underlay.setAttribute(name, value);
}

function mark(point) {
  underlay.marks.push(point);
  if (underlay.marks.length < 2) return page.tell(say("And the second point."));
  const [[ax, ay], [bx, by]] = underlay.marks;
  underlay.marks = null;
  const length = parse($("between").value);
  if (!length || !Math.hypot(ax - bx, ay - by)) return page.tell(say("Enter the length between the two points first."));
  const by_ = length / Math.hypot(ax - bx, ay - by);
  const x = Number(view.underlay.getAttribute("x")), y = Number(view.underlay.getAttribute("y"));
  underlay.scale *= by_;
  scaled(ax - (ax - x) * by_, ay - (ay - y) * by_);
  return page.tell(say("Scaled."));
}

function palette() {
  let group = null;
  for (const tool of TOOLS) {
    if (tool.group !== group) $("tools").append(element("h2", {}, (group = tool.group) || say("hand")));
    const button = element("button", { type: "button", "aria-pressed": String(tool === TOOLS[0]), "data-tool": tool.name }, tool.words);
    button.addEventListener("click", () => {
      for (const each of $("tools").querySelectorAll("button")) each.setAttribute("aria-pressed", String(each === button));
      hand.take(tool.name);
      page.tell("");
    });
    $("tools").append(button);
  }
}

function bind() {
  const svg = view.svg;
  svg.addEventListener("pointerdown", (event) => {
    svg.focus({ preventScroll: true });
    const point = view.point(event);
    cursor = point.map(Math.round);
    view.crosshair(cursor, false);
    if (underlay?.marks) return mark(point);
    svg.setPointerCapture(event.pointerId);
    return hand.press(point, view.nodeAt(event));
  });
  svg.addEventListener("pointermove", (event) => hand.move(view.point(event)));
  svg.addEventListener("pointerup", (event) => hand.release(view.point(event)));
  svg.addEventListener("pointercancel", () => { hand.drag = null; changed(); });
  svg.addEventListener("wheel", (event) => {
    event.preventDefault();
    view.zoom(event.deltaY > 0 ? 1.15 : 1 / 1.15, view.point(event));
  }, { passive: false });
  document.addEventListener("keydown", keys);
  const on = (id, act, event = "click") => $(id).addEventListener(event, act);
  on("undo", () => board.undo());
  on("redo", () => board.redo());
  on("remove", remove);
  on("nearer", () => view.zoom(1 / 1.3));
  on("farther", () => view.zoom(1.3));
  on("all", () => view.fit(board.rooms));
  on("outside", () => board.markOutside());
  on("finish", () => propose());
  on("new-circuit", () => hand.made(board.addCircuit(), say("Put in a panel first.")));
  on("show-cables", overlay, "change");
  on("rulebook", look, "change");
  on("storey", (event) => { board.storey = event.target.value; chosen = null; changed(); view.fit(board.rooms); }, "change");
  on("add-storey", () => { board.addStorey($("storey-name").value.trim() || say("Upper floor"), true); view.fit(board.rooms); });
  on("picture", (event) => event.target.files[0] && lay(event.target.files[0]), "change");
  on("scale", () => { if (underlay) { underlay.marks = []; page.tell(say("Press on the first point.")); } else page.tell(say("Choose a picture first.")); });
  on("leave", () => $("propose").close());
  on("afresh", () => { board.replace(data.house); page.choose(null); });
  on("record", () => {
    $("text").value = JSON.stringify({ ...board.house, rulebook: $("rulebook").value });
  }, "submit");
}

// Lines of a drawing file, beneath; a house counts north upwards, a sheet downwards.
$("lines").setAttribute("d", data.lines.map(([ax, ay, bx, by]) => `M${ax} ${-ay}L${bx} ${-by}`).join(""));
palette();
bind();
for (const option of $("room-kind").options) option.textContent = valueWord(option.value);
lists();
view.fit(board.rooms);
if (kept) page.tell(say("Your draft from before is on the board."));
if (board.rooms.length) cursor = middle(board.rooms[0]);
look();
