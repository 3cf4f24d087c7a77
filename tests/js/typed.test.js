// What is typed and not sent: nothing of it is lost, whatever is sent, refused or fails meanwhile.
import assert from "node:assert/strict";
import { afterEach, beforeEach, describe, mock, test } from "node:test";
import fc from "fast-check";
import { freshJob } from "./browser.js";

const store = await import("../../static/js/walk/store.js");
const { Typed } = await import("../../static/js/walk/typed.js");

let job, kept, faults, typed;
const told = { kept: (item) => kept.push(item), failed: (fault) => faults.push(fault) };

beforeEach(() => {
  mock.timers.enable({ apis: ["setTimeout"] });
  [job, kept, faults] = [freshJob(), [], []];
  typed = new Typed("ann", job, told);
});
afterEach(() => {
  mock.timers.reset();
  mock.restoreAll();
});

const onPhone = async () => Object.fromEntries(await store.typedOf("ann", job));

test("is written at once, and told when it is", async () => {
  typed.set("i", { note: "a" });
  await typed.writing;
  assert.deepEqual(await onPhone(), { i: { note: "a" } });
  assert.deepEqual(kept, ["i"]);
});

test("what comes by the dozen waits, and goes with whatever is written first", async () => {
  for (const scroll of [1, 2, 3]) typed.set("", { scroll }, 150);
  await typed.writing;
  assert.deepEqual(await onPhone(), {});
  mock.timers.tick(150);
  await typed.writing;
  assert.deepEqual(await onPhone(), { "": { scroll: 3 } });
  typed.set("", { scroll: 9 }, 150);
  await typed.keep();
  assert.deepEqual(await onPhone(), { "": { scroll: 9 } });
});

test("a reload reads what was written", async () => {
  typed.set("i", { note: "a", measured: "12" });
  await typed.writing;
  const anew = new Typed("ann", job, told);
  await anew.read();
  assert.deepEqual(anew.of("i"), { note: "a", measured: "12" });
  assert.deepEqual(anew.of("other"), {});
});

test("another tab's fields are read, and one's own that are not written yet stay", async () => {
  typed.set("i", { note: "mine" }, 150);
  await store.type("ann", job, "i", { note: "theirs", measured: "7" });
  await typed.read();
  assert.deepEqual(typed.of("i"), { note: "mine", measured: "7" });
});

describe("once sent", () => {
  test("it is empty", async () => {
    typed.set("i", { note: "a", measured: "12" });
    await typed.sent("i", { note: "a", measured: "12" });
    assert.deepEqual(await onPhone(), {});
  });

  test("what was typed since stays", async () => {
    typed.set("i", { note: "a", measured: "12" });
    typed.set("i", { note: "ab" });
    await typed.sent("i", { note: "a", measured: "12" });
    assert.deepEqual(await onPhone(), { i: { note: "ab" } });
    assert.equal(typed.of("i").note, "ab");
  });
});

describe("once refused", () => {
  test("it is typed again", async () => {
    typed.set("i", { note: "a" });
    await typed.sent("i", { note: "a" });
    await typed.giveBack("i", { note: "a" });
    assert.deepEqual(await onPhone(), { i: { note: "a" } });
  });

  test("nothing that was typed since is written over", async () => {
    typed.set("i", { note: "a", measured: "1" });
    await typed.sent("i", { note: "a", measured: "1" });
    typed.set("i", { note: "b" });
    await typed.giveBack("i", { note: "a", measured: "1" });
    assert.deepEqual(await onPhone(), { i: { note: "b", measured: "1" } });
  });
});

test("no room: it is told, stays on the page, and is written with the next", async () => {
  const put = IDBObjectStore.prototype.put;
  IDBObjectStore.prototype.put = () => {
    throw new DOMException("no room", "QuotaExceededError");
  };
  typed.set("i", { note: "a" });
  await typed.writing;
  IDBObjectStore.prototype.put = put;
  assert.equal(faults.length, 1);
  assert.deepEqual(typed.of("i"), { note: "a" });
  typed.set("j", { note: "b" });
  await typed.writing;
  assert.deepEqual(await onPhone(), { i: { note: "a" }, j: { note: "b" } });
});

test("any run of typing, waiting, reading and failing ends with the last word of each field", async () => {
  const name = fc.constantFrom("note", "measured", "from_left");
  const write = fc.record({ item: fc.constantFrom("i", "j"), name, value: fc.constantFrom("", "a", "b", "c"), wait: fc.constantFrom(0, 150) });
  const act = fc.oneof({ weight: 4, arbitrary: write }, fc.constantFrom("read", "keep", "timer", "full"));
  await fc.assert(
    fc.asyncProperty(fc.array(act, { maxLength: 25 }), async (acts) => {
      [job, kept, faults] = [freshJob(), [], []];
      typed = new Typed("ann", job, told);
      const put = IDBObjectStore.prototype.put, last = {};
      for (const each of acts) {
        if (each === "read") typed.read();
        else if (each === "keep") typed.keep();
        else if (each === "timer") mock.timers.tick(150);
        else if (each === "full") IDBObjectStore.prototype.put = () => {
          throw new DOMException("no room");
        };
        else {
          typed.set(each.item, { [each.name]: each.value }, each.wait);
          (last[each.item] ??= {})[each.name] = each.value;
        }
        if (each === "full") await typed.writing;
        IDBObjectStore.prototype.put = put;
      }
      await typed.keep();
      await typed.keep();
      const expected = {};
      for (const [item, fields] of Object.entries(last)) {
        const full = Object.entries(fields).filter(([, value]) => value !== "");
        if (full.length) expected[item] = Object.fromEntries(full);
      }
      assert.deepEqual(await onPhone(), expected);
    }),
    { numRuns: 60 },
  );
});
