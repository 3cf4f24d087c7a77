// A fact corrected in place: what is typed against its limit, and the one change that is recorded.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import fc from "fast-check";
import "./browser.js";

// As much of a page as a form is made of.
class Element {
  constructor(tag) {
    Object.assign(this, { tag, children: [], dataset: {}, attributes: {}, listeners: {} });
  }
  append(...inside) { this.children.push(...inside); }
  replaceChildren(...inside) { this.children = inside; }
  querySelector(tag) { return this.all(tag)[0] ?? null; }
  focus() {}
  setAttribute(name, value) { this.attributes[name] = value; }
  addEventListener(name, act) { (this.listeners[name] ??= []).push(act); }
  fire(name) { return Promise.all((this.listeners[name] ?? []).map((act) => act({ preventDefault() {} }))); }
  all(tag) { return this.children.flatMap((each) => (each instanceof Element ? [...(each.tag === tag ? [each] : []), ...each.all(tag)] : [])); }
  get words() { return this.children.map((each) => each.words ?? each).join(""); }
}
globalThis.document.createElement = (tag) => new Element(tag);

const { settles, shown, understand, verdict } = await import("../../static/js/fix/judge.js");
const { fixForm } = await import("../../static/js/fix/form.js");
const { placeAt } = await import("../../static/js/fix/walls.js");

const fix = (given) => ({
  path: ["boxes", "R15", "free_mm"], kind: "length", name: "Free conductor in box R15", now: 90, now_says: "3 1/2 in.",
  least: 150, most: null, least_says: "5 15/16 in.", most_says: "", choices: [], to: null, to_says: "", ...given,
});

function formOf(given, more = {}) {
  const sent = [];
  return { form: fixForm(fix(given), { imperial: true, record: (change) => sent.push(change), ...more }), sent };
}

function type(form, typed) {
  const [field] = form.all("input");
  field.value = typed;
  return field.fire("input");
}

describe("what is typed", () => {
  test("is read in the reader's unit, or in the one that was typed", () => {
    assert.equal(understand("length", "6 1/4", true), 158.75);
    assert.equal(understand("length", "2'4", true), 711.2);
    assert.equal(understand("length", `2'4"`, true), 711.2);
    assert.equal(understand("length", "160", false), 160);
    assert.equal(understand("length", "160 mm", true), 160);
    assert.equal(understand("volume", "18", true).toFixed(3), "294.967");
    assert.equal(understand("volume", "344 mL", true), 344);
    assert.equal(understand("volume", "18 cu. in.", false).toFixed(3), "294.967");
    assert.equal(understand("weight", "50 lb", false).toFixed(3), "22.680");
    assert.equal(understand("count", "2", true), 2);
  });

  test("is no figure where it is none", () => {
    for (const [kind, typed] of [["count", "1.5"], ["count", "2 lb"], ["volume", "18 lb"], ["volume", ""], ["length", "deep"], ["weight", "-3"]]) {
      assert.equal(understand(kind, typed, true), null, `${kind} ${typed}`);
    }
  });
});

describe("a figure against its limit", () => {
  const value = fc.double({ min: 0, max: 10_000, noNaN: true });

  test("settles by the limit itself and beyond, and by nothing short of it", () => {
    fc.assert(fc.property(value, value, (limit, given) => {
      assert.equal(settles({ least: limit, most: null }, given), given >= limit - 0.01);
      assert.equal(settles({ least: null, most: limit }, given), given <= limit + 0.01);
      assert.equal(settles({ least: null, most: null }, given), null);
    }));
  });

  test("that is wrong says so at once, with both figures", () => {
    assert.equal(verdict(fix({}), 127, true), "Still not to code: 5 in.; minimum 5 15/16 in.");
    assert.equal(verdict(fix({ least: null, most: 6 }), 9, false), "Still not to code: 9 mm; maximum 6 mm.");
    assert.equal(verdict(fix({ kind: "volume", least: 196.8 }), 180, false), "Still not to code: 180 mL; minimum 196.8 mL.");
  });

  test("never looks equal to the limit that it misses", () => {
    fc.assert(fc.property(value, value, fc.boolean(), (limit, given, imperial) => {
      if (given >= limit - 0.2) return;
      const kind = "length";
      assert.notEqual(shown(kind, given, imperial, "down"), shown(kind, limit, imperial, "up"));
    }));
  });

  test("without a limit waits for the site", () => {
    assert.equal(verdict(fix({ least: null }), 5, true), "Checked when signal returns.");
    assert.match(verdict(fix({}), 150, true), /^To code by its figure/);
  });
});

describe("a form", () => {
  test("judges while it is typed, and records the old and the new value with what was typed", async () => {
    const { form, sent } = formOf({});
    const [says] = form.all("output"), send = form.all("button").at(-1);
    assert.equal(send.disabled, true);
    await type(form, "5");
    assert.equal(says.textContent, "Still not to code: 5 in.; minimum 5 15/16 in.");
    assert.equal(send.disabled, false); // what was found is recorded, to code or not
    await type(form, "6 1/4");
    assert.match(says.textContent, /^6 1\/4 in\.: To code/);
    await form.fire("submit");
    assert.deepEqual(sent, [{ path: ["boxes", "R15", "free_mm"], was: 90, now: 158.75, typed: "6 1/4" }]);
  });

  test("records nothing of what it cannot read, and says that", async () => {
    const { form, sent } = formOf({});
    await type(form, "deep");
    await form.fire("submit");
    assert.deepEqual(sent, []);
    assert.match(form.all("output")[0].textContent, /“deep” is not a figure/);
  });

  test("keeps what is typed where it is told to, and starts from it", async () => {
    const kept = [];
    const { form } = formOf({}, { typed: "5", keep: (typed) => kept.push(typed) });
    assert.equal(form.all("input")[0].value, "5");
    await type(form, "5 1/2");
    assert.deepEqual(kept, ["5 1/2"]);
  });

  test("offers choices as buttons beside a figure", async () => {
    const choices = [{ value: 262, says: "15.99 cu. in." }, { value: 295, says: "18 cu. in." }];
    const { form, sent } = formOf({ kind: "volume", path: ["boxes", "R16", "volume_ml"], now: 180, least: 196.8, choices });
    const larger = form.all("button").find((each) => each.words === "18 cu. in.");
    await larger.fire("click");
    assert.deepEqual(sent, [{ path: ["boxes", "R16", "volume_ml"], was: 180, now: 295, typed: "" }]);
  });

  test("has one button for what is so or not", async () => {
    const { form, sent } = formOf({ kind: "done", path: ["boxes", "R36", "boot"], name: "Boot installed around box R36", now: false, to: true, least: null });
    const [only, ...more] = form.all("button");
    assert.deepEqual(more, []);
    assert.equal(only.words, "Boot installed around box R36");
    await only.fire("click");
    assert.deepEqual(sent[0], { path: ["boxes", "R36", "boot"], was: false, now: true, typed: "" });
  });

  test("adds a box where the plan was tapped, or where it is lacking", async () => {
    const box = { id: "R57", room: "living", place: { surface: "wall", wall: "s", at_mm: 550, height_mm: 400 }, devices: [{ kind: "receptacle" }] };
    const added = { kind: "added", path: ["boxes", "R57"], now: null, to: box, to_says: "wall s", least: null };
    const place = { surface: "wall", wall: "e", at_mm: 300 };
    const { form, sent } = formOf(added, { tapped: async () => ({ at: place, says: "wall e" }) });
    const [tap] = form.all("button");
    await tap.fire("click");
    assert.deepEqual(sent, []); // what was tapped is shown first
    const [, there, here] = form.all("button");
    assert.equal(there.words, "Here: wall e");
    await there.fire("click");
    await here.fire("click");
    assert.deepEqual(sent.map((each) => each.now.place), [{ ...place, height_mm: 400 }, box.place]);
    assert.ok(sent.every((each) => each.was === null && each.now.id === "R57"));
  });

  test("feeds a box from the place that was chosen", async () => {
    const cable = { id: "C113", kind: "nm", ends: ["R50", "R51"], circuit: "outside" };
    const choices = [{ value: "R50", says: "R50" }, { value: "P1", says: "P1" }];
    const { form, sent } = formOf({ kind: "added", path: ["cables", "C113"], now: null, to: cable, choices, least: null });
    await form.all("button").at(-1).fire("click");
    assert.deepEqual(sent[0].now.ends, ["P1", "R51"]);
  });
});

describe("a tap on the plan", () => {
  const walls = { n: [0, 0, 4000, 0], e: [4000, 0, 4000, 3000] };

  test("is a place along the nearest wall, in the reader's unit", () => {
    assert.deepEqual(placeAt(walls, { x: 1273, y: 90 }, true), {
      at: { surface: "wall", wall: "n", at_mm: 1270 }, says: "wall n, 4 ft 2 in. from its left end",
    });
    assert.equal(placeAt(walls, { x: 3900, y: 1500 }, false).says, "wall e, 1,500 mm from its left end");
  });

  test("beyond the end of a wall is at its end, and in no room nowhere", () => {
    assert.equal(placeAt(walls, { x: -300, y: -10 }, true).at.at_mm, 0);
    assert.equal(placeAt({}, { x: 0, y: 0 }, true), null);
  });
});
