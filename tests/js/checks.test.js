// What is confirmed as drawn with its room, and what of it is answered by itself.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { freshJob, photograph, Site, tick, URLS } from "./browser.js";

const store = await import("../../static/js/walk/store.js");
const { byTitle, checkOf, inShort, lacksPhotograph, lastTick, left: isLeft, stateOf } = await import("../../static/js/walk/checks.js");
const { sampleState } = await import("../../static/js/walk/sample.js");
const { Sync } = await import("../../static/js/walk/sync.js");

const drawn = { id: "item", title: "Box fill", verdict: "ok", standing: "open", check: "card", latest: null };
const room = (state = "waiting", more = {}) => ({ ...tick("job", 1, { given: "room", ...more }), state, says: "" });

const shot = () => ({ ...photograph("job", 1), state: "waiting", says: "" });

describe("an item of a room", () => {
  for (const [name, item, typed, queue, state] of [
    ["waits for the tick of its room", drawn, {}, [], "waiting"],
    ["is ticked with it", drawn, {}, [room()], "ticked"],
    ["is ticked until the site is read anew", drawn, {}, [room("kept")], "ticked"],
    ["waits again when its facts had changed", drawn, {}, [room("stale")], "waiting"],
    ["is apart when the tick is refused", drawn, {}, [room("refused")], "apart"],
    ["is apart when somebody disagrees", drawn, {}, [room("contested")], "apart"],
    ["is apart while something is typed at it", drawn, { note: "loose" }, [], "apart"],
    ["is apart while a measure is typed at it", drawn, { measured: "6 in." }, [], "apart"],
    ["is apart with an answer of its own", drawn, {}, [{ ...room(), given: undefined, outcome: "fix" }], "apart"],
    ["waits no less with a photograph", drawn, {}, [shot()], "waiting"],
    ["is confirmed once the site says so", { ...drawn, check: "", standing: "ok" }, {}, [], "confirmed"],
    ["is apart when somebody said Fix", { ...drawn, check: "", standing: "fix" }, {}, [], "apart"],
    ["is apart where nobody could see it", { ...drawn, check: "", standing: "open" }, {}, [], "apart"],
  ]) {
    test(name, () => {
      assert.equal(stateOf(item, typed, queue), state);
    });
  }

  test("of a job that was kept before waits where it was as drawn", () => {
    assert.equal(checkOf({ ...drawn, check: undefined, as_drawn: true }), "card");
    assert.equal(checkOf({ ...drawn, check: undefined }), "");
  });

  test("waits for a photograph until one is taken, whatever the site made of another", () => {
    const wanted = { ...drawn, photograph_first: true };
    assert.equal(lacksPhotograph(wanted, []), true);
    assert.equal(lacksPhotograph(wanted, [shot()]), false);
    assert.equal(lacksPhotograph(wanted, [{ ...shot(), state: "refused" }]), true);
    assert.equal(lacksPhotograph(drawn, []), false);
  });

  test("is left until it has an answer that counts", () => {
    assert.equal(isLeft(drawn, []), true);
    assert.equal(isLeft(drawn, [room()]), false);
    assert.equal(isLeft(drawn, [room("refused")]), true);
    assert.equal(isLeft(drawn, [room("stale")]), true);
    assert.equal(isLeft({ ...drawn, check: "", standing: "ok" }, []), false);
    assert.equal(isLeft({ ...drawn, check: "", verdict: "verify" }, []), true);
  });

  test("is said in short by its last answer, then by the site's", () => {
    assert.equal(inShort(drawn, {}, []), "");
    assert.equal(inShort(drawn, {}, [room()]), "OK, not sent yet");
    assert.equal(inShort(drawn, {}, [room("kept")]), "OK, sent and saved");
    assert.equal(inShort(drawn, {}, [{ ...room(), given: undefined, outcome: "fix" }]), "Fix, not sent yet");
    assert.equal(inShort(drawn, { note: "loose" }, []), "By itself");
    assert.equal(inShort({ ...drawn, check: "", latest: { outcome: "cant_see" } }, {}, []), "Can't see");
    assert.equal(inShort({ ...drawn, check: "", standing: "ok" }, {}, []), "OK on plan");
    assert.equal(inShort({ ...drawn, check: "", standing: "ok", latest: { outcome: "ok" } }, {}, []), "OK on site");
    assert.equal(lastTick([room(), room("refused")]).state, "waiting");
  });

  test("is told under the title of its rule, in the order in which titles come", () => {
    const items = ["Staples", "Box fill", "Staples"].map((title, number) => ({ ...drawn, title, id: `${number}` }));
    const found = [...byTitle(items)].map(([title, same]) => [title, same.map((item) => item.id)]);
    assert.deepEqual(found, [["Staples", ["0", "2"]], ["Box fill", ["1"]]]);
  });
});

describe("a sampled box", () => {
  const items = new Map([["fill", { ...drawn, id: "fill" }], ["tape", { ...drawn, id: "tape", verdict: "verify" }]]);
  const sampled = { box: "R1", items: ["fill"], measured: "tape" };
  const state = (queue, known = items) => sampleState(sampled, known, (id) => queue[id] ?? []);
  const own = (more) => [{ ...room("waiting", more), given: undefined }];
  for (const [name, queue, becomes] of [
    ["is wanted at first", {}, "wanted"],
    ["is OK with a close-up", { fill: [shot()] }, "ok"],
    ["is wanted where the close-up was refused", { fill: [{ ...shot(), state: "refused" }] }, "wanted"],
    ["is wanted with a photograph of something else", { tape: [shot()] }, "wanted"],
    ["is OK with a figure", { tape: own({ measured_mm: 160 }) }, "ok"],
    ["is wanted with an OK without a figure", { tape: own({}) }, "wanted"],
    ["fails with a figure that is to be fixed", { tape: own({ measured_mm: 10, outcome: "fix" }) }, "failed"],
    ["fails where something of it is to be fixed, close-up or not", { fill: [shot(), ...own({ outcome: "fix" })] }, "failed"],
    ["is OK again once that is fixed", { fill: [shot(), ...own({ outcome: "fix" }), ...own({})] }, "ok"],
  ]) {
    test(name, () => assert.equal(state(queue), becomes));
  }

  test("is what the site knows of it where the phone has nothing", () => {
    const known = (id, more) => new Map([...items, [id, { ...items.get(id), ...more }]]);
    assert.equal(state({}, known("fill", { photographed: true })), "ok");
    assert.equal(state({}, known("tape", { latest: { outcome: "ok", measured_mm: 160 } })), "ok");
    assert.equal(state({}, known("tape", { latest: { outcome: "fix", measured_mm: 16 } })), "failed");
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
