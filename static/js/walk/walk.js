// The page of a walk: what is asked in a room, and what somebody says to it.
import { language, say } from "../say.js";
import * as store from "./store.js";
import { Sync } from "./sync.js";
import { card, said } from "./card.js";

const body = document.body.dataset;
const at = (id) => document.getElementById(id);
const page = {
  person: body.person,
  job: body.job,
  urls: { data: body.data, sync: body.sync, photograph: body.photograph, correction: body.correction },
  signedOut: (so) => (at("sign-in").hidden = !so),
};
let data = null;
let room = 0;

const sync = new Sync(page, (words) => (at("signal").textContent = words), changed);

async function changed(fresh) {
  if (fresh) {
    data = fresh;
    at("signal").textContent = say("As of {time}.", { time: new Date(data.as_of).toLocaleTimeString(language) });
  }
  await draw();
}

async function draw() {
  const queue = await store.entries(page.person, page.job);
  const unsafe = queue.filter((entry) => entry.state === store.WAITING);
  at("unsafe").textContent = unsafe.length
    ? say("{n} not yet safe on the server", { n: unsafe.length })
    : say("Everything is safe on the server");
  at("unsafe").dataset.count = unsafe.length;
  if (!data) return;
  drawRooms(queue);
  const current = data.rooms[room];
  if (!current) return;
  at("room-name").textContent = `${current.name}, ${current.area}`;
  const open = current.items.filter((item) => item.standing !== "passed");
  at("items").replaceChildren(...open.map((item) => card(item, of(queue, item), answer, dismiss)));
  const passed = current.items.filter((item) => item.standing === "passed");
  at("passed-count").textContent = say("{n} passed", { n: passed.length });
  at("passed").hidden = !passed.length;
  at("passed-items").replaceChildren(
    ...passed.map((item) => card(item, of(queue, item), answer, dismiss)),
  );
}

const of = (queue, item) => queue.filter((entry) => entry.item === item.id);

function drawRooms(queue) {
  const ticked = new Set(queue.filter((e) => e.kind === "tick" && e.state !== store.REFUSED).map((e) => e.item));
  const options = data.rooms.map((each, number) => {
    const left = each.items.filter((i) => i.standing !== "passed" && !ticked.has(i.id)).length;
    const option = new Option(`${each.name} (${left || say("done")})`, number, false, number === room);
    return option;
  });
  at("room").replaceChildren(...options);
  at("before").disabled = room === 0;
  at("after").disabled = room >= data.rooms.length - 1;
}

function go(number) {
  room = Math.max(0, Math.min(data.rooms.length - 1, number));
  draw().then(() => at("room-name").focus());
}

async function answer(item, given) {
  await store.add({
    id: crypto.randomUUID(),
    person: page.person,
    job: page.job,
    item: item.id,
    fingerprint: item.fingerprint,
    made_at: new Date().toISOString(),
    known_at: item.known_at ?? data.as_of,
    ...given,
  });
  await draw();
  at("told").textContent = say("{what}: {title}. Kept on this phone.", { what: said(given), title: item.title });
  sync.run();
}

async function dismiss(entry) {
  await store.remove(entry.id);
  await draw();
}

at("room").addEventListener("change", (event) => go(Number(event.target.value)));
at("before").addEventListener("click", () => go(room - 1));
at("after").addEventListener("click", () => go(room + 1));
at("send").addEventListener("click", () => sync.run().then(() => sync.load()));
at("leave").addEventListener("submit", (event) => {
  const left = Number(at("unsafe").dataset.count);
  const ask = say("{n} not yet safe on the server. They stay on this phone, for you alone. Sign out?", { n: left });
  if (left && !confirm(ask)) event.preventDefault();
});
window.addEventListener("online", () => sync.run());
document.addEventListener("visibilitychange", () => document.hidden || sync.run());

async function ready() {
  navigator.storage?.persist?.();
  data = (await store.keptJob(page.person, page.job)) || null;
  await draw();
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

async function keep(url) {
  const name = url.includes("/static/") ? "studbay-walk-files-1" : "studbay-walk-pages-1";
  const answer = await fetch(url);
  if (answer.ok && !answer.redirected) await (await caches.open(name)).put(url, answer);
}

ready();
