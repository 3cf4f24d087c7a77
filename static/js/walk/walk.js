// The page of a walk: what is asked in a room, and what somebody says to it.
import { awake } from "../awake.js";
import { language, say } from "../say.js";
import * as store from "./store.js";
import { Sync } from "./sync.js";
import { AsDrawn } from "./as_drawn.js";
import { Card, said, typedOf } from "./card.js";
import { together } from "./checks.js";
import { Room } from "./room.js";
import { Typed } from "./typed.js";

const body = /** @type {Record<string, string>} */ (document.body.dataset);
/**
 * @template {keyof Walk.Elements} Id
 * @param {Id} id
 */
const at = (id) => /** @type {Walk.Elements[Id]} */ (document.getElementById(id));
/** @type {Walk.Page} */
const page = {
  person: body.person,
  job: body.job,
  urls: { data: body.data, sync: body.sync, photograph: body.photograph, siteChange: body.siteChange },
  signedOut: (so) => (at("sign-in").hidden = !so),
};
const PAGE = ""; // where what is chosen of the page itself is kept, beside what is typed at its items
const NO_ROOM = say("This phone is out of storage. Free some space, then enter it again.");
const GRACE = 6_000; // milliseconds in which the tick of a whole room can be taken back, with signal too
const channel = "BroadcastChannel" in globalThis ? new BroadcastChannel("studbay-walk") : null;
/** @param {{ typed?: string, fresh?: boolean }} what */
const tell = (what) => channel?.postMessage({ ...what, person: page.person, job: page.job });

const typed = new Typed(page.person, page.job, {
  kept: (item) => tell({ typed: item }),
  failed: () => (at("signal").textContent = NO_ROOM),
});
/** @type {Walk.OnTyped} */
const typing = { typed: (id) => typed.of(id), type: (id, fields) => typed.set(id, fields) };
const room = new Room(at("items"), at("passed-items"), {
  card: (item) => new Card(item, { answer, dismiss, undo, ...typing }),
  asDrawn: (items) => new AsDrawn(items, { confirm: confirmRoom, takeBack, apart, together: putBack, ...typing }),
  typed: typing.typed,
});
const sync = new Sync(page, {
  said: (words) => (at("signal").textContent = words),
  refused: (entry) => typed.giveBack(entry.item, typedOf(entry)),
  changed,
});
/** @type {Walk.Fields} */
let here = {}; // the room that this tab is in, whether those that passed are shown, and how far down
/** @type {Walk.Job | null} */
let data = null;
/** @type {Promise<void>} */
let drawing = Promise.resolve();
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
  arrived(queue);
  if (!data) return;
  const current = data.rooms.find((each) => keyOf(each) === here.room) ?? data.rooms[0];
  drawRooms(data.rooms, queue, current);
  if (!current) return;
  here.room = keyOf(current);
  at("room-name").textContent = `${current.name}, ${current.area}`;
  const passed = room.show(keyOf(current), current.items, queue);
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

/** @param {Walk.Room} each */
const keyOf = (each) => `${each.name}\n${each.area}`;

/**
 * How many cards of a room wait for an answer: all that is as drawn is one of them.
 * @param {Walk.Room} each @param {Walk.Entry[]} queue
 */
function cardsLeft(each, queue) {
  const ticked = new Set(queue.filter((e) => e.kind === "tick" && e.state !== store.REFUSED).map((e) => e.item));
  const left = each.items.filter((i) => (i.as_drawn || i.standing !== "ok") && !ticked.has(i.id));
  const drawn = left.filter((i) => together(i, typed.of(i.id), queue.filter((e) => e.item === i.id)));
  return left.length - drawn.length + Math.min(drawn.length, 1);
}

/** @param {Walk.Room[]} rooms @param {Walk.Entry[]} queue @param {Walk.Room | undefined} current */
function drawRooms(rooms, queue, current) {
  const options = at("room").options;
  rooms.forEach((each, number) => {
    const left = cardsLeft(each, queue);
    const words = `${each.name} (${left || say("done")})`;
    if (!options[number]) at("room").add(new Option());
    if (options[number].text !== words) options[number].text = words;
    options[number].value = keyOf(each);
  });
  options.length = rooms.length;
  if (!current) return;
  at("room").value = keyOf(current);
  const number = rooms.indexOf(current);
  at("before").disabled = number === 0;
  at("after").disabled = number === rooms.length - 1;
}

/** @param {string} key */
async function go(key) {
  forgetApart();
  leave({ room: key, passed: false, scroll: 0 });
  at("passed").open = false;
  room.leave();
  await draw();
  at("room-name").focus();
}

// What was taken out of what is as drawn and answered since is no exception any more.
function forgetApart() {
  for (const item of (data?.rooms ?? []).flatMap((each) => each.items)) {
    if (!item.as_drawn && typed.of(item.id).apart) typed.set(item.id, { apart: false });
  }
}

/** @param {number} by */
function step(by) {
  const rooms = data?.rooms ?? [];
  const number = rooms.findIndex((each) => keyOf(each) === at("room").value) + by;
  if (rooms[number]) go(keyOf(rooms[number]));
}

/**
 * What the phone puts to what somebody gave at an item.
 * @param {Walk.Item} item
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

/** @param {Walk.New} last @param {string} what @param {string} title @param {number} grace */
async function kept(last, what, title, grace = 0) {
  tell({});
  await draw();
  at("told").textContent = say("{what}: {title}. Saved on this phone.", { what, title });
  lastTold = { id: last.id, what, title };
  if (grace) sync.soon(grace);
  else sync.run();
}

/** @param {Card} card @param {Walk.Given} given @param {Walk.Fields} fields */
async function answer(card, given, fields) {
  const { item } = card;
  /** @type {Walk.New} */
  const entry = { ...stamp(item), ...given };
  if (!(await keepOnPhone([entry]))) return;
  card.clear(fields);
  typed.sent(item.id, fields);
  await kept(entry, said(given), item.title);
}

/**
 * OK for each of these at one tap, as it is given to what is as drawn in a room.
 * @param {Walk.Item[]} items
 */
async function confirmRoom(items) {
  const entries = items.map((item) => {
    /** @type {Walk.New} */
    const entry = { ...stamp(item), kind: "tick", outcome: "ok", note: "", measured_mm: null, measured_typed: "", given: "room" };
    return entry;
  });
  const last = entries.at(-1);
  if (last && (await keepOnPhone(entries))) await kept(last, say("As drawn"), at("room-name").textContent ?? "", GRACE);
}

/** @param {string[]} ids */
async function takeBack(ids) {
  const removed = await store.takeBack(ids);
  if (removed) lastTold = null;
  tell({});
  await draw();
  if (removed) at("told").textContent = say("Not sent and taken back: {n}.", { n: removed });
}

/**
 * Something is not as drawn: it is answered on a card of its own, which is gone to.
 * @param {Walk.Item} item @param {string[]} ticks
 */
async function apart(item, ticks) {
  typed.set(item.id, { apart: true });
  if (ticks.length) await takeBack(ticks);
  else await draw();
  const heading = document.querySelector(`#item-${item.id} h3`);
  if (!(heading instanceof HTMLElement)) return;
  heading.tabIndex = -1;
  heading.focus();
}

/** @param {Walk.Item} item */
async function putBack(item) {
  typed.set(item.id, { apart: false });
  await draw();
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
  at("passed").addEventListener("toggle", () => leave({ passed: at("passed").open }));
  at("leave").addEventListener("submit", (event) => {
    const left = Number(at("unsafe").dataset.count);
    const ask = say("{n} not sent yet. Kept on this phone, for you only. Sign out?", { n: left });
    if (left && !confirm(ask)) event.preventDefault();
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
  forgetApart();
  await draw();
  at("passed").open = Boolean(here.passed);
  scrollTo(0, here.scroll ?? 0);
  listen();
}

async function ready() {
  navigator.storage?.persist?.();
  await begin();
  if ("serviceWorker" in navigator) {
    await navigator.serviceWorker.register(body.worker);
    const worker = await navigator.serviceWorker.ready;
    navigator.serviceWorker.addEventListener("message", () => sync.run());
    worker.sync?.register("walk").catch(() => {});
    // What was loaded before the worker stood by is asked for again, so that it keeps it.
    const files = performance.getEntriesByType("resource").map((entry) => entry.name);
    await controlled();
    await Promise.allSettled([location.href, ...files.filter((f) => f.includes("/static/"))].map((f) => keep(f)));
  }
  await sync.load();
  await sync.run();
  document.body.dataset.ready = "yes";
}

const controlled = () =>
  navigator.serviceWorker.controller ||
  new Promise((done) => navigator.serviceWorker.addEventListener("controllerchange", done, { once: true }));

/** @param {string} url */
async function keep(url) {
  const name = url.includes("/static/") ? "studbay-walk-files-1" : "studbay-walk-pages-1";
  const found = await fetch(url);
  if (found.ok && !found.redirected) await (await caches.open(name)).put(url, found);
}

ready();
