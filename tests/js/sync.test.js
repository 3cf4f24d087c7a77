// The queue of a walk: what a phone keeps comes to the site once, in order, whatever goes wrong between.
import assert from "node:assert/strict";
import { afterEach, beforeEach, describe, mock, test } from "node:test";
import fc from "fast-check";
import { URLS, Site, siteChange, freshJob, photograph, tick } from "./browser.js";

const store = await import("../../static/js/walk/store.js");
const { Sync } = await import("../../static/js/walk/sync.js");

let site, job, said, refused, changes, signedOut, sync;

function syncOf(person = "ann") {
  const page = { person, job, urls: URLS, signedOut: (so) => signedOut.push(so) };
  return new Sync(page, {
    said: (words) => said.push(words),
    refused: (entry) => void refused.push(entry.id),
    changed: (fresh) => void changes.push(fresh),
  });
}

beforeEach(() => {
  mock.timers.enable({ apis: ["setTimeout"] });
  mock.method(Math, "random", () => 0.5); // the middle of what is spread
  [site, job, said, refused, changes, signedOut] = [new Site(), freshJob(), [], [], [], []];
  sync = syncOf();
});

afterEach(() => {
  mock.timers.reset();
  mock.restoreAll();
});

const left = async () => (await store.entries("ann", job)).map((entry) => entry.id);
const states = async () => (await store.entries("ann", job)).map((entry) => entry.state);

async function add(...entries) {
  for (const entry of entries) await store.add(entry);
  return entries.map((entry) => entry.id);
}

describe("order", () => {
  test("what was made first is sent first, however it was added", async () => {
    const [c, a, b] = await add(tick(job, 30), tick(job, 10), tick(job, 20));
    await sync.run();
    assert.deepEqual([...site.kept.keys()], [a, b, c]);
  });

  test("ticks go before photographs, and photographs before site changes", async () => {
    const [third, second, first] = await add(siteChange(job, 1), photograph(job, 2), tick(job, 3));
    await sync.run();
    assert.deepEqual([...site.kept.keys()], [first, second, third]);
  });

  test("250 ticks go in three batches", async () => {
    await add(...Array.from({ length: 250 }, (_, n) => tick(job, n)));
    await sync.run();
    assert.equal(site.calls.filter((url) => url === "/sync").length, 3);
    assert.equal(site.kept.size, 250);
    assert.deepEqual(await left(), []);
  });

  test("every fact that the site asks for is sent, and no other", async () => {
    const entry = tick(job, 1, { outcome: "fix", note: "too low", measured_mm: 158.75, measured_typed: `6 1/4"` });
    await add(entry);
    await sync.run();
    const { id, item, outcome, fingerprint, made_at, known_at, note, measured_mm, measured_typed } = entry;
    assert.deepEqual(site.kept.get(id), { id, item, outcome, fingerprint, made_at, known_at, note, measured_mm, measured_typed });
  });

  test("what was queued before it was kept as typed is sent as it was", async () => {
    const entry = tick(job, 1, { measured_mm: 12.5 });
    await add(entry);
    await sync.run();
    assert.ok(!("measured_typed" in site.kept.get(entry.id)));
  });

  test("a photograph is sent with its bytes, a site change with its figures", async () => {
    const [one, other] = await add(photograph(job, 1), siteChange(job, 2));
    await sync.run();
    assert.equal(site.kept.get(one).file, "light");
    assert.equal(site.kept.get(other).box, "b1");
    assert.equal(site.kept.get(other).at_mm, 100);
    assert.equal(site.kept.get(other).height_mm, null);
  });

  test("nothing is asked of the site while nothing waits", async () => {
    await sync.run();
    assert.deepEqual(site.calls, []);
  });
});

describe("what goes wrong", () => {
  test("no signal: all is kept, and is sent once it is back", async () => {
    const ids = await add(tick(job, 1), tick(job, 2));
    site.faults = ["gone"];
    await sync.run();
    assert.deepEqual(await left(), ids);
    assert.match(said.at(-1), /No signal/);
    await sync.run();
    assert.deepEqual(await left(), []);
    assert.deepEqual([...site.kept.keys()], ids);
  });

  for (const fault of ["gone", "lost", "torn", 500, 502, 503, 403, 404, 401, 400]) {
    test(`${fault} midway of three batches: nothing is lost, and what is safe is not sent again`, async () => {
      const ids = await add(...Array.from({ length: 250 }, (_, n) => tick(job, n)));
      site.faults = [null, null, fault]; // what is fresh, the first batch, the second
      await sync.run();
      assert.deepEqual(await states(), ids.map((_, n) => (n < 100 ? "kept" : "waiting")));
      await sync.run();
      assert.deepEqual(await left(), []);
      assert.deepEqual([...site.kept.keys()], ids);
      assert.ok(ids.slice(0, 100).every((id) => site.came.get(id) === 1));
    });

    test(`${fault}: it is tried again by itself, and somebody is told why`, async () => {
      await add(tick(job, 1));
      await sync.load();
      site.faults = [fault];
      await sync.run();
      assert.notEqual(said.at(-1) ?? "", "");
      mock.timers.tick(2_000);
      await settled();
      assert.deepEqual(await left(), []);
    });
  }

  test("a tick that the site refuses stays with its reason, is given back, and holds up no other", async () => {
    const [a, b, c] = await add(tick(job, 1), tick(job, 2), tick(job, 3));
    site.refuses.add(b);
    await sync.run();
    const kept = await store.entries("ann", job);
    assert.deepEqual(kept.map(({ id, state, says }) => [id, state, says]), [[b, "refused", "not so"]]);
    assert.deepEqual(refused, [b]);
    assert.deepEqual([...site.kept.keys()], [a, c]);
    await sync.run();
    assert.equal(site.came.get(b), 1);
  });

  test("a refused photograph and a refused site change are given back too", async () => {
    const ids = await add(photograph(job, 1), siteChange(job, 2));
    ids.forEach((id) => site.refuses.add(id));
    await sync.run();
    assert.deepEqual(refused, ids);
    assert.deepEqual(await states(), ["refused", "refused"]);
  });

  test("an answer about what was not sent changes nothing", async () => {
    const [id] = await add(tick(job, 1));
    const keep = site.keep.bind(site);
    site.keep = (asked, facts) => keep(asked === id ? "somebody's" : asked, facts);
    const take = site.take.bind(site);
    site.take = async (url, body) => {
      const answer = await take(url, body);
      return url === "/sync" ? { taken: [{ id: "unknown", state: "kept", says: "" }] } : answer;
    };
    await sync.run();
    assert.deepEqual(await left(), [id]);
  });

  test("signed out: told, kept, and the way to sign in is shown until it was done", async () => {
    const ids = await add(tick(job, 1));
    site.faults = [401];
    await sync.run();
    assert.match(said.at(-1), /signed out/);
    assert.equal(signedOut.at(-1), true);
    assert.deepEqual(await left(), ids);
    await sync.run();
    assert.equal(signedOut.at(-1), false);
    assert.deepEqual(await left(), []);
  });

  test("a token that is worn out is asked for anew", async () => {
    await sync.load();
    site.tokens += 1; // as if somebody signed in again elsewhere
    await add(tick(job, 1));
    await sync.run();
    assert.equal(sync.csrf, "");
    await sync.run();
    assert.deepEqual(await left(), []);
  });
});

describe("somebody else", () => {
  test("is signed in: nothing of the first goes out under their name, and nothing is lost", async () => {
    const ids = await add(tick(job, 1), photograph(job, 2), siteChange(job, 3));
    site.person = "bob";
    await sync.run();
    assert.equal(site.kept.size, 0);
    assert.match(said.at(-1), /Someone else/);
    assert.deepEqual(await left(), ids);
    assert.equal(await store.keptJob("ann", job), undefined);
    site.person = "ann";
    await sync.run();
    assert.deepEqual([...site.kept.keys()], ids);
  });

  test("has a queue of their own on the same phone", async () => {
    const mine = tick(job, 1), theirs = tick(job, 2, { person: "bob" });
    await add(mine, theirs);
    await sync.run();
    assert.deepEqual([...site.kept.keys()], [mine.id]);
    assert.deepEqual((await store.entries("bob", job)).map((entry) => entry.id), [theirs.id]);
  });

  test("another job has a queue of its own", async () => {
    const other = tick(freshJob(), 1);
    await add(other, tick(job, 2));
    await sync.run();
    assert.ok(!site.kept.has(other.id));
  });
});

describe("one at a time", () => {
  test("two tabs that run at once send each tick once", async () => {
    const ids = await add(...Array.from({ length: 20 }, (_, n) => tick(job, n)));
    await Promise.all([sync.run(), syncOf().run(), syncOf().run()]);
    assert.deepEqual(ids.map((id) => site.came.get(id)), ids.map(() => 1));
  });

  test("what is added while it is being sent goes with the next", async () => {
    const [first] = await add(tick(job, 1));
    let second = "";
    const take = site.take.bind(site);
    site.take = async (url, body) => {
      if (url === "/sync" && !second) [second] = await add(tick(job, 2));
      return take(url, body);
    };
    await sync.run();
    assert.deepEqual(await left(), [second]);
    mock.timers.tick(2_000);
    await settled();
    assert.deepEqual(await left(), []);
    assert.deepEqual([site.came.get(first), site.came.get(second)], [1, 1]);
  });

  test("what the site has stays in sight until the job was read anew", async () => {
    const [id] = await add(tick(job, 1));
    await sync.load();
    site.faults = [null, "gone"]; // the tick, and what is fresh after it
    await sync.run();
    assert.deepEqual(await states(), ["kept"]);
    await sync.load();
    assert.deepEqual(await left(), []);
    assert.equal(site.came.get(id), 1);
  });
});

describe("back-off", () => {
  test("waits twice as long each time, a minute at most, and begins anew after a success", async () => {
    await add(tick(job, 1));
    site.faults = Array(8).fill("gone");
    await sync.run();
    for (const wait of [2, 4, 8, 16, 32, 60, 60]) {
      const before = site.calls.length;
      mock.timers.tick(wait * 1000 - 1);
      await settled();
      assert.equal(site.calls.length, before, `before ${wait} s`);
      mock.timers.tick(1);
      await settled();
      assert.equal(site.calls.length, before + 1, `after ${wait} s`);
    }
    mock.timers.tick(60_000);
    await settled();
    assert.deepEqual(await left(), []);
    assert.equal(sync.wait, 2_000);
  });

  test("is spread, so that a crew's phones do not come back in one beat", async () => {
    await add(tick(job, 1));
    for (const [chance, wait] of [[0, 1_400], [0.999, 2_599]]) {
      mock.method(Math, "random", () => chance);
      sync = syncOf();
      const timer = mock.method(globalThis, "setTimeout", () => 0);
      site.faults = ["gone"];
      await sync.run();
      assert.equal(Math.round(timer.mock.calls.at(-1).arguments[1]), wait);
      timer.mock.restore();
    }
  });
});

describe("undoing", () => {
  test("asks once, and says when there is no signal or nothing to undo", async () => {
    await sync.load();
    site.faults = ["gone", 422];
    assert.equal(await sync.undo("/undo"), false);
    assert.match(said.at(-1), /Nothing was undone/);
    assert.equal(await sync.undo("/undo"), false);
    assert.match(said.at(-1), /Too late to undo/);
    globalThis.fetch = async () => ({ ok: false, type: "opaqueredirect", status: 0 });
    assert.equal(await sync.undo("/undo"), true);
  });
});

test("whatever goes wrong, in any order: each comes to the site, none twice after an answer", async () => {
  const fault = fc.constantFrom(null, null, "gone", "lost", "torn", 500, 403, 401);
  const kind = fc.constantFrom(tick, tick, tick, photograph, siteChange);
  await fc.assert(
    fc.asyncProperty(fc.array(fc.tuple(kind, fc.nat(60)), { minLength: 1, maxLength: 12 }), fc.array(fault, { maxLength: 15 }), async (given, faults) => {
      [site, job] = [new Site(), freshJob()];
      sync = syncOf();
      site.faults = [...faults];
      const answered = new Set();
      const mark = sync.mark.bind(sync);
      sync.mark = async (entry, became) => {
        assert.ok(!answered.has(entry.id), "told twice what became of it");
        answered.add(entry.id);
        await mark(entry, became);
      };
      const ids = await add(...given.map(([make, made]) => make(job, made)));
      for (let run = 0; run <= faults.length + 1; run += 1) {
        await sync.run();
        const waiting = (await store.entries("ann", job)).filter((entry) => entry.state === "waiting");
        assert.ok(ids.every((id) => site.kept.has(id) || waiting.some((entry) => entry.id === id)), "one is lost");
      }
      assert.deepEqual([...site.kept.keys()].sort(), [...ids].sort());
      assert.deepEqual([...answered].sort(), [...ids].sort());
    }),
    { numRuns: 60 },
  );
});

/** Let everything run that waits for a database or for the site. */
async function settled() {
  for (let turn = 0; turn < 200; turn += 1) await new Promise((done) => setImmediate(done));
}
