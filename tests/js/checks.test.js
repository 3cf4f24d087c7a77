// What is confirmed as drawn with its room, and what of it is answered by itself.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { freshJob, photograph, Site, tick, URLS } from "./browser.js";

const store = await import("../../static/js/walk/store.js");
const { byTitle, stateOf, together } = await import("../../static/js/walk/checks.js");
const { Sync } = await import("../../static/js/walk/sync.js");

const drawn = { id: "item", title: "Box fill", standing: "open", as_drawn: true };
const room = (state = "waiting", more = {}) => ({ ...tick("job", 1, { given: "room", ...more }), state, says: "" });

describe("an item of a room", () => {
  for (const [name, item, typed, queue, state] of [
    ["waits for the tick of its room", drawn, {}, [], "waiting"],
    ["is ticked with it", drawn, {}, [room()], "ticked"],
    ["is ticked until the site is read anew", drawn, {}, [room("kept")], "ticked"],
    ["waits again when its facts had changed", drawn, {}, [room("stale")], "waiting"],
    ["is apart when the tick is refused", drawn, {}, [room("refused")], "apart"],
    ["is apart when somebody disagrees", drawn, {}, [room("contested")], "apart"],
    ["is apart once it is taken out", drawn, { apart: true }, [], "apart"],
    ["is apart once it is taken out, ticked or not", drawn, { apart: true }, [room()], "apart"],
    ["is apart while something is typed at it", drawn, { note: "loose" }, [], "apart"],
    ["is apart while a measure is typed at it", drawn, { measured: "6 in." }, [], "apart"],
    ["is apart with an answer of its own", drawn, {}, [{ ...room(), given: undefined, outcome: "fix" }], "apart"],
    ["is apart with a photograph", drawn, {}, [{ ...photograph("job", 1), state: "waiting", says: "" }], "apart"],
    ["is confirmed once the site says so", { ...drawn, as_drawn: false, standing: "ok" }, {}, [], "confirmed"],
    ["is apart when somebody said Fix", { ...drawn, as_drawn: false, standing: "fix" }, {}, [], "apart"],
    ["is apart where nobody could see it", { ...drawn, as_drawn: false, standing: "open" }, {}, [], "apart"],
  ]) {
    test(name, () => {
      assert.equal(stateOf(item, typed, queue), state);
      assert.equal(together(item, typed, queue), item.as_drawn && state !== "apart");
    });
  }

  test("of a job that was kept before has a card of its own", () => {
    assert.equal(together({ ...drawn, as_drawn: undefined }, {}, []), false);
  });

  test("is told under the title of its rule, in the order in which titles come", () => {
    const items = ["Staples", "Box fill", "Staples"].map((title, number) => ({ ...drawn, title, id: `${number}` }));
    const found = [...byTitle(items)].map(([title, same]) => [title, same.map((item) => item.id)]);
    assert.deepEqual(found, [["Staples", ["0", "2"]], ["Box fill", ["1"]]]);
  });
});

describe("the tick of a room", () => {
  const ticks = (job) => [1, 2, 3].map((made) => tick(job, made, { given: "room", item: `item ${made}` }));

  test("is kept whole or not at all", async () => {
    const job = freshJob(), [first, second, third] = ticks(job);
    const put = IDBObjectStore.prototype.put;
    let left = 2;
    IDBObjectStore.prototype.put = function full(...given) {
      if (!left--) throw new DOMException("no room", "QuotaExceededError");
      return put.apply(this, given);
    };
    try {
      await assert.rejects(store.addAll([first, second, third]), /no room/);
    } finally {
      IDBObjectStore.prototype.put = put;
    }
    assert.deepEqual(await store.entries("ann", job), []);
  });

  test("is taken back while it was never sent, and only then", async () => {
    const job = freshJob(), given = ticks(job);
    await store.addAll(given);
    const there = await store.sending([given[0]]);
    assert.deepEqual(there, [given[0]]);
    assert.equal(await store.takeBack(given.map((entry) => entry.id)), 2);
    assert.deepEqual((await store.entries("ann", job)).map((entry) => entry.id), [given[0].id]);
    assert.equal(await store.takeBack([given[0].id, "nothing"]), 0);
  });

  test("that was taken back meanwhile is not sent", async () => {
    const job = freshJob(), given = ticks(job);
    await store.addAll(given);
    await store.takeBack([given[1].id]);
    assert.deepEqual((await store.sending(given)).map((entry) => entry.id), [given[0].id, given[2].id]);
    assert.equal((await store.entries("ann", job)).length, 2);
  });

  test("says to the site that it was given by the room, and the others do not", async () => {
    const job = freshJob(), site = new Site(), given = [...ticks(job), tick(job, 9)];
    await store.addAll(given);
    await new Sync({ person: "ann", job, urls: URLS, signedOut() {} }, { said() {}, refused() {}, changed() {} }).run();
    assert.deepEqual([...site.kept.values()].map((each) => each.given), ["room", "room", "room", undefined]);
  });

  test("stays on a phone that knows to be without signal, and can be taken back", async () => {
    const job = freshJob(), site = new Site(), given = ticks(job), told = [];
    await store.addAll(given);
    navigator.onLine = false;
    const sync = new Sync({ person: "ann", job, urls: URLS, signedOut() {} }, { said: (words) => told.push(words), refused() {}, changed() {} });
    try {
      await sync.run();
    } finally {
      delete navigator.onLine;
      clearTimeout(sync.timer);
    }
    assert.deepEqual([site.calls, told], [[], ["No signal. Everything stays on this phone."]]);
    assert.equal(await store.takeBack(given.map((entry) => entry.id)), 3);
  });

  test("waits for its time of grace, unless something is sent before", async () => {
    const job = freshJob(), site = new Site();
    await store.addAll(ticks(job));
    const sync = new Sync({ person: "ann", job, urls: URLS, signedOut() {} }, { said() {}, refused() {}, changed() {} });
    sync.soon(100_000);
    assert.equal(site.calls.length, 0);
    await sync.run();
    assert.equal(site.kept.size, 3);
    clearTimeout(sync.timer);
  });
});
