// What the phone keeps: each job as last seen, and every tick and photograph until the site has it.
import { openDB } from "../../vendor/idb/idb-8.0.4.js";

const opened = openDB("studbay-walk", 1, {
  upgrade(db) {
    db.createObjectStore("jobs");
    const queue = db.createObjectStore("queue", { keyPath: "id" });
    queue.createIndex("whose", ["person", "job"]);
  },
});

export const WAITING = "waiting";
export const REFUSED = "refused";

export async function keepJob(person, job, data) {
  await (await opened).put("jobs", data, `${person}/${job}`);
}

export async function keptJob(person, job) {
  return (await opened).get("jobs", `${person}/${job}`);
}

// Resolves when the browser says that it is written, so that a killed browser has it still.
export async function add(entry) {
  const write = (await opened).transaction("queue", "readwrite", { durability: "strict" });
  await Promise.all([write.store.put({ ...entry, state: WAITING, says: "" }), write.done]);
}

export async function entries(person, job) {
  const found = await (await opened).getAllFromIndex("queue", "whose", [person, job]);
  return found.sort((a, b) => (a.made_at < b.made_at ? -1 : a.made_at > b.made_at ? 1 : 0));
}

export async function mark(id, state, says) {
  const write = (await opened).transaction("queue", "readwrite");
  const entry = await write.store.get(id);
  if (entry) await write.store.put({ ...entry, state, says });
  await write.done;
}

export async function remove(id) {
  await (await opened).delete("queue", id);
}
