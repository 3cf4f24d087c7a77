// What a phone keeps: the queue, the job as last seen, and what is typed.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { siteChange, freshJob, photograph, tick } from "./browser.js";

const store = await import("../../static/js/walk/store.js");

describe("the queue", () => {
  test("an entry waits from when it is added, with every fact that it was given", async () => {
    const job = freshJob();
    const given = [tick(job, 1, { note: "n", measured_mm: 3 }), photograph(job, 2), siteChange(job, 3)];
    for (const entry of given) await store.add(entry);
    const expected = given.map((entry) => ({ ...entry, state: "waiting", says: "" }));
    assert.deepEqual(await store.entries("ann", job), expected);
  });

  test("what was added under the name that its kind had before is read under that of today", async () => {
    const job = freshJob(), entry = siteChange(job, 1);
    await store.add({ ...entry, kind: "correction" });
    assert.deepEqual(await store.entries("ann", job), [{ ...entry, state: "waiting", says: "" }]);
    await store.mark(entry.id, store.REFUSED, "no such box");
    assert.equal((await store.entries("ann", job))[0].kind, "site-change");
  });

  test("added twice is there once", async () => {
    const job = freshJob(), entry = tick(job, 1);
    await store.add(entry);
    await store.add(entry);
    assert.equal((await store.entries("ann", job)).length, 1);
  });

  test("what the browser cannot write is told to whoever adds it", async () => {
    const put = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = () => {
      throw new DOMException("no room", "QuotaExceededError");
    };
    try {
      await assert.rejects(store.add(tick(freshJob(), 1)), /no room/);
    } finally {
      IDBObjectStore.prototype.put = put;
    }
  });

  test("it is written to the disc before it counts as added", async () => {
    const job = freshJob(), transaction = IDBDatabase.prototype.transaction, asked = [];
    IDBDatabase.prototype.transaction = function strictly(names, mode, options) {
      asked.push([mode, options?.durability]);
      return transaction.call(this, names, mode, options);
    };
    try {
      await store.add(tick(job, 1));
    } finally {
      IDBDatabase.prototype.transaction = transaction;
    }
    assert.deepEqual(asked, [["readwrite", "strict"]]);
  });

  test("is told by when it was made, and by id where that is the same", async () => {
    const job = freshJob();
    const [b, a, c] = [tick(job, 2, { id: "b" }), tick(job, 1, { id: "z" }), tick(job, 2, { id: "c" })];
    for (const entry of [c, b, a]) await store.add(entry);
    assert.deepEqual((await store.entries("ann", job)).map((entry) => entry.id), [a.id, b.id, c.id]);
  });

  test("marking changes what became of it and nothing else", async () => {
    const job = freshJob(), entry = tick(job, 1);
    await store.add(entry);
    await store.mark(entry.id, store.REFUSED, "not so");
    assert.deepEqual(await store.entries("ann", job), [{ ...entry, state: "refused", says: "not so" }]);
  });

  test("marking what is gone brings nothing back", async () => {
    const job = freshJob(), entry = tick(job, 1);
    await store.add(entry);
    await store.remove(entry.id);
    await store.mark(entry.id, "kept", "");
    assert.deepEqual(await store.entries("ann", job), []);
  });

  test("is of one person and one job", async () => {
    const job = freshJob(), mine = tick(job, 1), theirs = tick(job, 1, { person: "bob" }), elsewhere = tick(freshJob(), 1);
    for (const entry of [mine, theirs, elsewhere]) await store.add(entry);
    assert.deepEqual((await store.entries("ann", job)).map((entry) => entry.id), [mine.id]);
    await store.remove(mine.id);
    assert.equal((await store.entries("bob", job)).length, 1);
  });
});

describe("the job as last seen", () => {
  test("is the last that was kept, of one person", async () => {
    const job = freshJob();
    await store.keepJob("ann", job, { as_of: "1" });
    await store.keepJob("ann", job, { as_of: "2" });
    assert.deepEqual(await store.keptJob("ann", job), { as_of: "2" });
    assert.equal(await store.keptJob("bob", job), undefined);
  });
});

describe("what is typed", () => {
  test("is kept field by field, so that two tabs do not undo each other", async () => {
    const job = freshJob();
    await Promise.all([store.type("ann", job, "i", { note: "a" }), store.type("ann", job, "i", { measured: "12" })]);
    assert.deepEqual((await store.typedOf("ann", job)).get("i"), { note: "a", measured: "12" });
  });

  test("a length that was typed when fields were in mm stays so many mm", async () => {
    const job = freshJob();
    await store.type("ann", job, "i", { note: "a", tape: "152.5", along: "640", up: "300" });
    const now = { note: "a", measured: "152.5 mm", from_left: "640 mm", height: "300 mm" };
    assert.deepEqual((await store.typedOf("ann", job)).get("i"), now);
    await store.type("ann", job, "i", { measured: "", height: `12"` });
    const left = { note: "a", from_left: "640 mm", height: `12"` };
    assert.deepEqual((await store.typedOf("ann", job)).get("i"), left);
  });

  test("what is empty or closed is not kept, and an item without any is gone", async () => {
    const job = freshJob();
    await store.type("ann", job, "i", { note: "a", working: true });
    await store.type("ann", job, "i", { note: "" });
    assert.deepEqual((await store.typedOf("ann", job)).get("i"), { working: true });
    await store.type("ann", job, "i", { working: false });
    assert.equal((await store.typedOf("ann", job)).size, 0);
  });

  test("nothing at all is something that can be typed: a zero stays", async () => {
    const job = freshJob();
    await store.type("ann", job, "", { scroll: 0, room: "a" });
    assert.deepEqual((await store.typedOf("ann", job)).get(""), { scroll: 0, room: "a" });
  });

  test("is of one person and one job", async () => {
    const job = freshJob();
    await store.type("ann", job, "i", { note: "a" });
    await store.type("bob", job, "i", { note: "b" });
    await store.type("ann", `${job}x`, "i", { note: "c" });
    assert.deepEqual([...(await store.typedOf("ann", job))], [["i", { note: "a" }]]);
  });
});
