// The drawing board: joins the house, the sheet, the tools and the forms, and asks the site what
// it finds each time something changed.
import { awake } from "../awake.js";
import { say } from "../say.js";
import { Board } from "./board.js";
import { $ } from "./elements.js";
import { middle } from "./geometry.js";
import { Form, definition, element, partWord, valueWord } from "./form.js";
import { parse } from "./lengths.js";
import { find } from "./parts.js";
import { proposed } from "./proposals.js";
import { Hand, TOOLS } from "./tools.js";
import { Underlay } from "./underlay.js";
import { View } from "./view.js";

const WAIT = 120;
const STEP = 50, LEAP = 500;
/** @type {Record<string, (n: number) => string>} */
const COUNTED = {
  ok: (n) => say("{n} OK on plan", { n }),
  not_to_code: (n) => say("{n} not to code", { n }),
  verify: (n) => say("{n} to verify", { n }),
  info_needed: (n) => say("{n} info needed", { n }),
};

/** @type {Draw.Data} */
const data = JSON.parse($("board-data").textContent);
const csrf = /** @type {HTMLInputElement} */ (document.querySelector("[name=csrfmiddlewaretoken]")).value;
const draft = `studbay-draw-${data.person}-${data.job}`;
const view = new View($("board"));
/** @type {House.Path | null} */
let chosen = null;
/** @type {AbortController | null} */
let asking = null;
/** @type {ReturnType<typeof setTimeout> | undefined} */
let timer = undefined;
/** @type {House.Point} */
let cursor = [1000, 1000];

/** @type {Draw.Page} */
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
const underlay = new Underlay(view.underlay, () => $("between").value, page.tell);
const form = new Form($("facts"), data.schema, (path, name, value) => {
  if (definition(path) === "Wall" && name === "length_mm") {
    const done = board.setWallLength(String(path[1]), String(path[3]), Number(value));
    if (!done) page.tell(say("No wall is opposite this one. Move its corners instead."));
  } else if (path.at(-1) === "place") placed(path, name, value);
  else board.set(path, name, value);
});

/** @returns {House.Given | null} */
function restored() {
  try {
    const found = JSON.parse(localStorage.getItem(draft) ?? "null");
    return found?.base === data.base ? found.house : null;
  } catch { // a draft that cannot be read, or a browser that keeps nothing: begin from what is recorded
    return null;
  }
}

/** @param {House.Path} path @param {string} name @param {unknown} value */
function placed(path, name, value) {
  board.change((house) => {
    const place = /** @type {Record<string, unknown> | undefined} */ (find(house, path.slice(0, -1))?.place);
    if (!place) return false;
    if (value === null) delete place[name];
    else place[name] = value;
    return true;
  });
}

// Everything that follows from a change: the draft, the outlines at once, the site's answer soon.
function changed() {
  try {
    localStorage.setItem(draft, JSON.stringify({ base: data.base, house: board.house }));
  } catch { // full or forbidden: the house is still on the board, and can be recorded
    page.tell(say("This browser cannot keep a draft. Record the house before you leave."));
  }
  if (chosen && !find(board.house, chosen)) chosen = null;
  lists();
  view.outline(board.rooms);
  show();
  clearTimeout(timer);
  timer = setTimeout(look, WAIT);
}

/**
 * What the site answers, or the faults that it found in what was sent.
 * @template Answer
 * @param {string} address @param {object} more
 * @returns {Promise<Answer | Draw.Faulty>}
 */
async function ask(address, more) {
  asking?.abort();
  asking = new AbortController();
  const body = { house: board.house, rulebook: $("rulebook").value, storey: board.storey, ...more };
  const answer = await fetch(address, {
    method: "POST", body: JSON.stringify(body), signal: asking.signal,
    headers: { "Content-Type": "application/json", "X-CSRFToken": csrf },
  });
  if (answer.status !== 200 && answer.status !== 422) throw new Error(say("the server answered {status}", { status: answer.status }));
  return answer.json();
}

/**
 * Say why nothing came of asking, unless it was asked anew meanwhile.
 * @param {unknown} fault @param {(reason: string) => string} words
 */
function untold(fault, words) {
  if (!(fault instanceof Error)) throw fault;
  if (fault.name !== "AbortError") page.tell(words(fault.message));
}

async function look() {
  const began = performance.now();
  try {
    const answer = /** @type {Draw.Looked | Draw.Faulty} */ (await ask(data.urls.look, {}));
    if (answer.faults) return faulty(answer.faults);
    view.draw(answer.svg);
    overlay();
    const counts = Object.entries(answer.counts).map(([verdict, count]) => COUNTED[verdict](count)).join(", ");
    $("counts").textContent = counts;
    $("counts").dataset.took = String(Math.round(performance.now() - began));
    findings(answer.wanting, answer.more);
    document.body.dataset.looked = String(Number(document.body.dataset.looked ?? 0) + 1);
  } catch (fault) {
    untold(fault, (reason) => say("Not checked: {reason}. Your drawing is kept here.", { reason }));
  }
  return undefined;
}

/** @param {string[]} faults */
function faulty(faults) {
  $("counts").textContent = say("{n} to correct before it can be checked", { n: faults.length });
  $("findings").replaceChildren(...faults.map((fault) => element("li", {}, fault)));
  view.outline(board.rooms);
  overlay();
  document.body.dataset.looked = String(Number(document.body.dataset.looked ?? 0) + 1);
}

/** @param {Draw.Finding[]} wanting @param {number} more */
function findings(wanting, more) {
  const lines = wanting.map((each) => {
    const go = element("button", { type: "button", class: "plain-button" }, each.title);
    go.addEventListener("click", () => goTo(each));
    return element("li", { class: each.verdict }, go, `, ${each.where}: ${each.says}`);
  });
  if (more) lines.push(element("li", {}, say("and {n} more", { n: more })));
  $("findings").replaceChildren(...lines);
}

/** @param {Draw.Finding} finding */
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
  const path = chosen, part = path && find(board.house, path);
  $("remove").disabled = !part;
  if (!part) {
    $("chosen").textContent = say("Nothing selected");
    $("facts").replaceChildren();
    $("parts").replaceChildren();
    return;
  }
  $("chosen").textContent = `${partWord(path)} ${part.name ?? part.id ?? valueWord(part.kind ?? "")}`;
  form.show(path, part, choices());
  inner(path, part);
}

function choices() {
  /** @param {"areas" | "circuits" | "panels"} list */
  const ids = (list) => board.house[list].map((part) => part.id);
  return { area: ids("areas"), circuit: ids("circuits"), second_circuit: ids("circuits"), panel: ids("panels"), shares_neutral_with: ids("circuits") };
}

/**
 * What is in what is chosen: the walls of a room, the devices of a box.
 * @param {House.Path} path @param {House.Part} part
 */
function inner(path, part) {
  const { walls, openings, fixtures, interruptions, devices } = part;
  const buttons = [];
  for (const [list, parts] of Object.entries({ walls, openings, fixtures, interruptions, devices })) {
    for (const [index, each] of /** @type {House.Part[]} */ (parts ?? []).entries()) {
      const within = [...path, list, each.id ?? index];
      buttons.push(choice(innerWords(within, each, index), within));
    }
  }
  if (path.length > 2) buttons.push(choice(say("Back to the part it belongs to"), path.slice(0, -2)));
  $("parts").replaceChildren(...buttons);
}

/**
 * What a part within another is, by its id or its kind, and how long it is or which of them.
 * @param {House.Path} path @param {House.Part} part @param {number} index
 */
function innerWords(path, part, index) {
  const kind = part.kind && valueWord(part.kind);
  const first = `${partWord(path)} ${part.id ?? kind}`;
  if (part.length_mm) return `${first} ${part.length_mm} mm`;
  return `${first} ${part.id ? kind ?? "" : index + 1}`.trim();
}

/** @param {string} text @param {House.Path} path */
function choice(text, path) {
  const button = element("button", { type: "button" }, text);
  button.addEventListener("click", () => page.choose(path));
  return button;
}

function lists() {
  /** @param {string} value @param {string} text */
  const option = (value, text) => element("option", { value }, text);
  /** @param {HTMLSelectElement} select @param {HTMLOptionElement[]} options @param {string} value */
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

/**
 * Proposals: what would finish the house, each to be taken or left.
 * @param {string[]} leftOut
 */
async function propose(leftOut) {
  page.tell(say("Finding what is missing…"));
  try {
    const wanted = { studs_mm: parse($("studs").value) ?? 406.4, left_out: leftOut };
    const answer = /** @type {Draw.Finished | Draw.Faulty} */ (await ask(data.urls.finish, wanted));
    if (answer.faults) return faulty(answer.faults);
    proposed(answer, leftOut, {
      take(house) {
        board.replace(house);
        page.choose(null);
      },
      again: propose,
    });
    page.tell("");
  } catch (fault) {
    untold(fault, (reason) => say("Nothing proposed: {reason}.", { reason }));
  }
  return undefined;
}

/** @param {KeyboardEvent} event */
function keys(event) {
  if (/** @type {Element} */ (event.target).closest("input, select, textarea, dialog")) return;
  const act = event.ctrlKey || event.metaKey ? withControl(event) : alone(event);
  if (!act) return;
  act();
  event.preventDefault();
}

/** @param {KeyboardEvent} event */
function withControl({ key, shiftKey }) {
  if (key.toLowerCase() === "z") return () => (shiftKey ? board.redo() : board.undo());
  if (key.toLowerCase() === "y") return () => board.redo();
  return key === "Delete" || key === "Backspace" || key === "Escape" ? alone({ key, shiftKey }) : null;
}

/** @param {{ key: string, shiftKey: boolean }} event */
function alone({ key, shiftKey }) {
  if (key === "Delete" || key === "Backspace") return remove;
  if (key === "Escape") {
    return () => {
      hand.take(hand.tool.name);
      page.choose(null);
    };
  }
  return document.activeElement === $("board") ? walk(key, shiftKey ? LEAP : STEP) : null;
}

/**
 * The crosshair: arrows move it, Enter presses there, and a drag goes from one Enter to the next.
 * @param {string} key @param {number} by
 */
function walk(key, by) {
  /** @type {Record<string, House.Point>} */
  const moves = { ArrowLeft: [-by, 0], ArrowRight: [by, 0], ArrowUp: [0, -by], ArrowDown: [0, by] };
  if (moves[key]) {
    const [dx, dy] = moves[key];
    return () => {
      cursor = [cursor[0] + dx, cursor[1] + dy];
      view.crosshair(cursor, true);
      hand.move(cursor);
    };
  }
  return key === "Enter" ? pressed : null;
}

function pressed() {
  if (hand.drag) return hand.release(cursor);
  const screen = new DOMPoint(...cursor).matrixTransform(view.svg.getScreenCTM() ?? undefined);
  return hand.press(cursor, view.nodeAt({ clientX: screen.x, clientY: screen.y }));
}

function remove() {
  if (chosen && find(board.house, chosen)) board.remove(chosen);
}

function palette() {
  /** @type {string | null} */
  let group = null;
  for (const tool of TOOLS) {
    if (tool.group !== group) $("tools").append(element("h2", {}, (group = tool.group) || say("select")));
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
    cursor = [Math.round(point[0]), Math.round(point[1])];
    view.crosshair(cursor, false);
    if (underlay.mark(point)) return undefined;
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
  /** @param {keyof Draw.Elements} id @param {() => unknown} act */
  const on = (id, act, event = "click") => $(id).addEventListener(event, act);
  on("undo", () => board.undo());
  on("redo", () => board.redo());
  on("remove", remove);
  on("nearer", () => view.zoom(1 / 1.3));
  on("farther", () => view.zoom(1.3));
  on("all", () => view.fit(board.rooms));
  on("outside", () => board.markOutside());
  on("finish", () => propose([]));
  on("new-circuit", () => hand.made(board.addCircuit(), say("Place a panel first.")));
  on("show-cables", overlay, "change");
  on("rulebook", look, "change");
  on("storey", () => { board.storey = $("storey").value; chosen = null; changed(); view.fit(board.rooms); }, "change");
  on("add-storey", () => { board.addStorey($("storey-name").value.trim() || say("Upper floor"), true); view.fit(board.rooms); });
  on("picture", () => {
    const file = $("picture").files?.[0];
    if (file) underlay.lay(file);
  }, "change");
  on("scale", () => underlay.ask());
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
awake();
for (const option of $("room-kind").options) option.textContent = valueWord(option.value);
lists();
view.fit(board.rooms);
if (kept) page.tell(say("Your earlier draft is on the board."));
if (board.rooms.length) cursor = middle(board.rooms[0]);
look();
