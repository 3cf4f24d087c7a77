// What the phone keeps: each job as last seen, every tick and photograph until the site has it, and
// what somebody has typed or chosen and not sent yet.
import { openDB } from "../../vendor/idb/idb-8.0.4.js";

/** @type {Promise<import("../../vendor/idb/idb-8.0.4.js").Opened<{ jobs: Walk.Job, queue: Walk.Entry }>>} */
const opened = openDB("studbay-walk", 1, {
  upgrade(db) {
    db.createObjectStore("jobs");
    const queue = db.createObjectStore("queue", { keyPath: "id" });
    queue.createIndex("whose", ["person", "job"]);
  },
});

// A database of its own: raising the version of the other would wait for every tab that has it open.
/** @type {Promise<import("../../vendor/idb/idb-8.0.4.js").Opened<{ typed: Walk.TypedRow }>>} */
const openedTyped = openDB("studbay-walk-typed", 1, {
  upgrade(db) {
    db.createObjectStore("typed", { keyPath: ["person", "job", "item"] });
  },
  blocking: (_from, _to, event) => /** @type {IDBDatabase} */ (event.target).close(),
});

export const WAITING = "waiting";
export const REFUSED = "refused";
/** @type {IDBTransactionOptions} */
const STRICT = { durability: "strict" };
/** @type {IDBTransactionOptions} */
const RELAXED = { durability: "relaxed" };

/** @param {string} person @param {string} job @param {Walk.Job} data */
export async function keepJob(person, job, data) {
  await (await opened).put("jobs", data, `${person}/${job}`);
}

/** @param {string} person @param {string} job */
export async function keptJob(person, job) {
  return (await opened).get("jobs", `${person}/${job}`);
}

/**
 * Resolves when the browser says that it is written, so that a killed browser has it still.
 * @param {Walk.New} entry
 */
export async function add(entry) {
  await addAll([entry]);
}

/**
 * All of them or, where the phone keeps nothing more, none.
 * @param {Walk.New[]} given
 */
export async function addAll(given) {
  const write = (await opened).transaction("queue", "readwrite", STRICT);
  /** @type {Promise<unknown>[]} */
  const written = [write.done];
  try {
    for (const entry of given) written.push(write.store.put({ ...entry, state: WAITING, says: "" }));
    await Promise.all(written);
  } catch (fault) {
    abandon(write, written);
    throw fault;
  }
}

/**
 * What a transaction wrote so far is not kept.
 * @param {{ abort(): void }} write @param {Promise<unknown>[]} written
 */
function abandon(write, written) {
  for (const each of written) each.catch(() => {});
  try {
    write.abort();
  } catch { // the browser has given it up already
  }
}

/**
 * Those of these entries that are still there, from now on as sent: what may have come in at the site
 * is not taken back on the phone.
 * @template {Walk.Entry} T
 * @param {T[]} given
 */
export async function sending(given) {
  const write = (await opened).transaction("queue", "readwrite");
  const there = [];
  for (const each of given) {
    const entry = await write.store.get(each.id);
    if (!entry) continue;
    await write.store.put({ ...entry, sent: true });
    there.push(each);
  }
  await write.done;
  return there;
}

/**
 * Remove those of these entries that were never sent; how many.
 * @param {string[]} ids
 */
export async function takeBack(ids) {
  const write = (await opened).transaction("queue", "readwrite", STRICT);
  let removed = 0;
  for (const id of ids) {
    const entry = await write.store.get(id);
    if (!entry || entry.sent || entry.state !== WAITING) continue;
    await write.store.delete(id);
    removed += 1;
  }
  await write.done;
  return removed;
}

/** @param {string} person @param {string} job */
export async function entries(person, job) {
  const found = await (await opened).getAllFromIndex("queue", "whose", [person, job]);
  return found.map(byTodaysName).sort(byMoment);
}

/**
 * What a phone still keeps of before these had the names of today.
 * @type {Record<string, Walk.Outcome>}
 */
const OUTCOMES = { pass: "ok", fail: "fix", absent: "cant_see" };

/**
 * A phone may still keep what somebody gave before its kind had the name of today.
 * @param {Walk.Entry} entry
 * @returns {Walk.Entry}
 */
function byTodaysName(entry) {
  if (entry.kind === "tick") {
    const tick = /** @type {Walk.Entry<Walk.Tick>} */ (entry);
    return { ...tick, outcome: OUTCOMES[tick.outcome] ?? tick.outcome };
  }
  if (/** @type {string} */ (entry.kind) !== "correction") return entry;
  return { .../** @type {Walk.Entry<Walk.SiteChange>} */ (entry), kind: "site-change" };
}

/** @param {Walk.Entry} a @param {Walk.Entry} b */
function byMoment(a, b) {
  if (a.made_at === b.made_at) return 0;
  return a.made_at < b.made_at ? -1 : 1;
}

/** @param {string} id @param {string} state @param {string} says */
export async function mark(id, state, says) {
  const write = (await opened).transaction("queue", "readwrite");
  const entry = await write.store.get(id);
  if (entry) await write.store.put({ ...entry, state, says });
  await write.done;
}

/** @param {string} id */
export async function remove(id) {
  await (await opened).delete("queue", id);
}

/**
 * What is typed at each item of a job, by item.
 * @param {string} person @param {string} job
 */
export async function typedOf(person, job) {
  const whole = IDBKeyRange.bound([person, job], [person, job, []]);
  const found = await (await openedTyped).getAll("typed", whole);
  return new Map(found.map((each) => [each.item, inAnyUnit(each.fields)]));
}

/**
 * A phone may still keep what was typed when its fields were in mm: under the names of then.
 * @param {Walk.Fields & { tape?: string, along?: string, up?: string }} fields
 * @returns {Walk.Fields}
 */
function inAnyUnit({ tape, along, up, ...fields }) {
  const lengths = Object.entries({ measured: tape, from_left: along, height: up }).filter(([, number]) => number);
  return { ...Object.fromEntries(lengths.map(([name, number]) => [name, `${number} mm`])), ...fields };
}

/**
 * Set some fields of what is typed at an item, and leave the others as another tab may have put
 * them. What is empty is not kept. Written at each pause of a finger: waiting for the disc each time
 * would leave the last words behind in a queue, and a reload would lose them. What is handed to the
 * system outlives a killed browser; ticks and photographs wait for the disc itself.
 * @param {string} person @param {string} job @param {string} item @param {Walk.Fields} fields
 */
export async function type(person, job, item, fields) {
  const write = (await openedTyped).transaction("typed", "readwrite", RELAXED);
  const had = (await write.store.get([person, job, item]))?.fields ?? {};
  const full = Object.entries({ ...inAnyUnit(had), ...fields }).filter(([, value]) => value !== "" && value !== false);
  if (full.length) await write.store.put({ person, job, item, fields: Object.fromEntries(full) });
  else await write.store.delete([person, job, item]);
  await write.done;
}
