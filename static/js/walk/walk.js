// The page of a walk: what is asked in a room, and what somebody says to it.
import { awake } from "../awake.js";
import { language, say } from "../say.js";
import { at } from "./at.js";
import * as store from "./store.js";
import { Sync } from "./sync.js";
import { Card, said, typedOf } from "./card.js";
import { ofRoom } from "./checks.js";
import { BuiltRoom, CircuitName, builtAgain, keyOf as builtKey } from "./built.js";
import { Circuits, keyOf as circuitKey } from "./circuits.js";
import { typedAgain } from "./fixed.js";
import { keepFiles } from "./files.js";
import { quota, scaled } from "./picture.js";
import { Room } from "./room.js";
import { okWords } from "./room_card.js";
import { cardsLeft, drawRooms, keyOf } from "./rooms.js";
import { turning } from "./turning.js";
import { Typed } from "./typed.js";

const body = /** @type {Record<string, string>} */ (document.body.dataset);
/** @type {Walk.Page} */
const page = {
  person: body.person,
  job: body.job,
  urls: { data: body.data, sync: body.sync, photograph: body.photograph, siteChange: body.siteChange, fix: body.fix, pulled: body.pulled, built: body.built },
  signedOut: (so) => (at("sign-in").hidden = !so),
};
const CIRCUIT = { id: "", fingerprint: "" }; // a circuit has no item of its own
const PAGE = ""; // where what is chosen of the page itself is kept, beside what is typed at its items
const NO_ROOM = say("This phone is out of storage. Free some space, then enter it again.");
const GRACE = 6_000; // milliseconds in which what was answered can be taken back, with signal too
const DOUBLE = 700; // milliseconds after which a tap is no second half of the one before
const channel = "BroadcastChannel" in globalThis ? new BroadcastChannel("studbay-walk") : null;
/** @param {{ typed?: string, fresh?: boolean }} what */
const tell = (what) => channel?.postMessage({ ...what, person: page.person, job: page.job });

const typed = new Typed(page.person, page.job, {
  kept: (item) => tell({ typed: item }),
  failed: () => (at("signal").textContent = NO_ROOM),
});
/** @type {Walk.OnLine} */
const line = {
  typed: (id) => typed.of(id),
  type: (id, fields) => typed.set(id, fields),
  card: (item, named) => new Card(item, { ...line, undo, dismiss }, named),
  confirm,
  answer,
  shot: async (item, file) => void (await answer(item, { kind: "photograph", ...(await scaled(file)) }, {})),
};
const room = new Room(at("items"), at("passed"), at("passed-items"), line);
const sync = new Sync(page, {
  said: (words) => (at("signal").textContent = words),
  refused: (entry) => {
    const [item, fields] = again(entry);
    return typed.giveBack(item, fields);
  },
  changed,
});
const withdraws = () => data?.rooms.flatMap((each) => each.items).find((item) => item.withdraws)?.withdraws ?? "";
/** @type {Walk.OnBuilt} */
const built = {
  typed: line.typed,
  type: line.type,
  withdraws,
  built: async (given, title) => {
    const entry = { ...stamp(CIRCUIT), ...given, item: builtKey(given.part) };
    if (!(await keepOnPhone([entry]))) return false;
    await kept([entry], said(given), title);
    return true;
  },
};
const builtRoom = new BuiltRoom(at("built"), built);
const circuits = new Circuits(at("circuits"), {
  asDrawn: (those) => confirm(those.flatMap(({ item }) => itemsOf(item)), say("Circuits"), false),
  pulled: async ({ id, label }, given) => {
    const entry = { ...stamp(CIRCUIT), ...given, item: circuitKey(id) };
    if (!(await keepOnPhone([entry]))) return false;
    await kept([entry], said(given), label);
    return true;
  },
  seen: ({ item }) => itemsOf(item).some((each) => Boolean(each.latest)),
  withdraws,
  name: (circuit) => new CircuitName(circuit, built),
});
/** @param {string | null} id @returns {Walk.Item[]} the item of that id, wherever it is walked */
const itemsOf = (id) => data?.rooms.flatMap((each) => each.items).filter((item) => item.id === id) ?? [];
/** @type {Walk.Fields} */
let here = {}; // the room that this tab is in, whether those that passed are shown, and how far down
/** @type {Walk.Job | null} */
let data = null;
/** @type {Promise<void>} */
let drawing = Promise.resolve();
/** @type {string[]} */
let untold = []; // what was answered last, while it can be taken back
let confirmedAt = 0;
let toldIn = ""; // the room that it was answered in
/** @type {{ id: string, what: string, title: string } | null} */
let lastTold = null; // what was last said to be kept on this phone, until the site has it

/** @param {Walk.Job | null} fresh */
async function changed(fresh) {
  if (fresh) take(fresh);
  tell({ fresh: Boolean(fresh) });
  await draw();
}

/** @param {Walk.Job} fresh */
function take(fresh) {
  data = fresh;
  at("signal").textContent = say("As of {time}.", { time: new Date(data.as_of).toLocaleTimeString(language) });
}

/**
 * What the site refused, as its fields keep it: by the item or part they are of.
 * @param {Walk.Entry} entry
 * @returns {[string, Walk.Fields]}
 */
function again(entry) {
  if (entry.kind === "fix") return typedAgain(entry);
  return entry.kind === "built" ? builtAgain(entry) : [entry.item, typedOf(entry)];
}

/** @param {Walk.Fields} where */
function leave(where, wait = 0) {
  here = { ...here, ...where };
  typed.set(PAGE, where, wait);
}

// One at a time and in order, so that an older queue is never shown after a newer one.
function draw() {
  drawing = drawing.catch(() => {}).then(drawNow);
  return drawing;
}

async function drawNow() {
  const queue = await store.entries(page.person, page.job);
  const unsafe = queue.filter((entry) => entry.state === store.WAITING);
  at("unsafe").textContent = unsafe.length
    ? say("{n} not sent yet", { n: unsafe.length })
    : say("Everything is sent and saved");
  at("unsafe").dataset.count = String(unsafe.length);
  at("quota").textContent = await quota(unsafe);
  arrived(queue);
  undoable(queue);
  if (!data) return;
  circuits.update(data, queue);
  const current = data.rooms.find((each) => keyOf(each) === here.room) ?? data.rooms[0];
  drawRooms(data.rooms, queue, current);
  if (!current) return;
  here.room = keyOf(current);
  builtRoom.update(data, current.id ?? "", queue);
  at("room-name").textContent = `${current.name}, ${current.area}`;
  const passed = room.show(keyOf(current), current, queue);
  at("passed-count").textContent = passed.na
    ? say("{site} OK on site, {na} N/A, {plan} OK on plan", passed)
    : say("{site} OK on site, {plan} OK on plan", passed);
  at("passed").hidden = !passed.site && !passed.na && !passed.plan;
}

/**
 * What was said of the last tick when it waited is not left standing once it does not.
 * @param {Walk.Entry[]} queue
 */
function arrived(queue) {
  if (!lastTold) return;
  const { id, what, title } = lastTold;
  const state = queue.find((entry) => entry.id === id)?.state;
  if (state === store.WAITING) return;
  lastTold = null;
  at("told").textContent = state === store.REFUSED
    ? say("{what}: {title}. Refused. The card says why.", { what, title })
    : say("{what}: {title}. Sent and saved.", { what, title });
}

/**
 * What was answered last can be taken back until it is sent.
 * @param {Walk.Entry[]} queue
 */
function undoable(queue) {
  untold = untold.filter((id) => queue.some((entry) => entry.id === id && entry.state === store.WAITING && !entry.sent));
  at("undo-bar").hidden = !untold.length;
}

/** @param {string} key */
async function go(key) {
  leave({ room: key, passed: false, scroll: 0 });
  at("passed").open = false;
  room.leave();
  await draw();
  scrollTo(0, 0);
  at("room-name").focus();
}

/** @param {number} by */
function step(by) {
  const rooms = data?.rooms ?? [];
  const number = rooms.findIndex((each) => keyOf(each) === at("room").value) + by;
  if (rooms[number]) go(keyOf(rooms[number]));
}

/**
 * What the phone puts to what somebody gave at an item.
 * @param {Pick<Walk.Item, "id" | "fingerprint" | "known_at">} item
 * @returns {Walk.Stamp}
 */
function stamp(item) {
  return {
    id: crypto.randomUUID(),
    person: page.person,
    job: page.job,
    item: item.id,
    fingerprint: item.fingerprint,
    made_at: new Date().toISOString(),
    known_at: item.known_at ?? data?.as_of ?? "",
    base: data?.revision ?? 0,
  };
}

/**
 * Keep what was given, all of it or none; false where the phone has no room for it.
 * @param {Walk.New[]} entries
 */
async function keepOnPhone(entries) {
  try {
    await store.addAll(entries);
  } catch { // what was typed stays where it is
    at("signal").textContent = NO_ROOM;
    return false;
  }
  return true;
}

/**
 * @param {Walk.New[]} given @param {string} what @param {string} title @param {string} where
 */
async function kept(given, what, title, where = title) {
  const last = given[given.length - 1];
  untold = given.map((entry) => entry.id);
  toldIn = here.room ?? "";
  at("undo-words").textContent = `${where}: ${what}`;
  tell({});
  await draw();
  at("told").textContent = say("{what}: {title}. Saved on this phone.", { what, title });
  lastTold = { id: last.id, what, title };
  sync.soon(GRACE);
}

/**
 * An answer, a photograph or a new place of one item; whether the phone keeps it.
 * @param {Walk.Item} item @param {Walk.Given} given @param {Walk.Fields} fields
 */
async function answer(item, given, fields) {
  /** @type {Walk.New} */
  const entry = { ...stamp(item), ...given };
  if (!(await keepOnPhone([entry]))) return false;
  if (given.kind === "tick") await store.takeBack(await withCard(item, entry.id));
  typed.sent(item.id, fields);
  await kept([entry], said(given), item.title);
  return true;
}

/**
 * What was given to an item with its card and never sent: its own answer is instead of that.
 * @param {Walk.Item} item @param {string} but
 */
async function withCard(item, but) {
  const queue = await store.entries(page.person, page.job);
  return queue.filter((entry) => entry.item === item.id && entry.id !== but && ofRoom(entry)).map((entry) => entry.id);
}

/**
 * OK for each of these at one tap: all of a card, or of one line of it. Then on to what is next.
 * @param {Walk.Item[]} items @param {string} name @param {boolean} byRoom
 */
async function confirm(items, name, byRoom) {
  const now = performance.now();
  if (!items.length || now - confirmedAt < DOUBLE) return;
  confirmedAt = now;
  const entries = items.map((item) => {
    /** @type {Walk.New} */
    const entry = { ...stamp(item), kind: "tick", outcome: "ok", note: "", measured_mm: null, measured_typed: "" };
    return byRoom ? { ...entry, given: /** @type {const} */ ("room") } : entry;
  });
  if (!(await keepOnPhone(entries))) return;
  const where = at("room-name").textContent ?? "";
  await kept(entries, okWords(entries.length), `${where}, ${name}`);
  await onwards();
}

// To the next card that waits; from the last one to the next room where anything does.
async function onwards() {
  const { next } = room;
  if (next) return next.element.scrollIntoView({ block: "start" });
  const rooms = data?.rooms ?? [];
  const number = rooms.findIndex((each) => keyOf(each) === here.room);
  const queue = await store.entries(page.person, page.job);
  const onward = rooms.slice(number + 1).find((each) => cardsLeft(each, queue).cards);
  if (onward) await go(keyOf(onward));
}

/** @param {string[]} ids */
async function takeBack(ids) {
  const removed = await store.takeBack(ids);
  if (removed) lastTold = null;
  tell({});
  if (removed && toldIn && toldIn !== here.room) await go(toldIn); // back to where it was answered
  else await draw();
  if (removed) at("told").textContent = say("Not sent and taken back: {n}.", { n: removed });
}

/** @param {Walk.Entry} entry */
async function dismiss(entry) {
  await store.remove(entry.id);
  tell({});
  await draw();
}

/** @param {Walk.Item} item */
async function undo(item) {
  const done = await sync.undo(item.undo);
  if (done && (await sync.load())) at("told").textContent = say("Undone: {title}.", { title: item.title });
}

/**
 * Another tab of the same walk typed, ticked or sent.
 * @param {MessageEvent<Walk.Message>} message
 */
async function heard({ data: told }) {
  if (told.person !== page.person || told.job !== page.job) return;
  if (told.typed) await typed.read();
  const fresh = told.fresh ? await store.keptJob(page.person, page.job) : null;
  if (fresh) take(fresh);
  await draw();
}

async function readAnew() {
  await sync.run();
  if (await sync.load()) room.leave();
  await draw();
}

function listen() {
  at("room").addEventListener("change", () => go(at("room").value));
  at("before").addEventListener("click", () => step(-1));
  at("after").addEventListener("click", () => step(1));
  at("send").addEventListener("click", readAnew);
  at("undo").addEventListener("click", () => takeBack(untold));
  turning(document.body, step);
  at("passed").addEventListener("toggle", () => leave({ passed: at("passed").open }));
  at("leave").addEventListener("submit", (event) => {
    const waiting = Number(at("unsafe").dataset.count);
    const ask = say("{n} not sent yet. Kept on this phone, for you only. Sign out?", { n: waiting });
    if (waiting && !window.confirm(ask)) event.preventDefault();
  });
  if (channel) channel.onmessage = heard;
  window.addEventListener("online", () => sync.run());
  window.addEventListener("scroll", () => leave({ scroll: Math.round(scrollY) }, 150), { passive: true });
  window.addEventListener("pagehide", () => typed.keep());
  document.addEventListener("visibilitychange", () => (document.hidden ? typed.keep() : sync.run()));
  awake();
}

// The page as it was left: what was typed, in which room, how far down.
async function begin() {
  history.scrollRestoration = "manual";
  await typed.read();
  here = { ...typed.of(PAGE) };
  data = (await store.keptJob(page.person, page.job)) || null;
  await draw();
  at("passed").open = Boolean(here.passed);
  scrollTo(0, here.scroll ?? 0);
  listen();
}

async function ready() {
  navigator.storage?.persist?.();
  await begin();
  await keepFiles(body.worker, () => sync.run());
  await sync.load();
  await sync.run();
  document.body.dataset.ready = "yes";
}

ready();
