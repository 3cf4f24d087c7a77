// Whatever comes in while somebody types, in whatever order: what is typed is not changed, moved or taken away.
import assert from "node:assert/strict";
import { test } from "node:test";
import fc from "fast-check";
import { photograph, tick } from "./browser.js";
import { Element } from "./dom.js";

const { Card } = await import("../../static/js/walk/card.js");
const { Room } = await import("../../static/js/walk/room.js");

const KINDS = ["boxes", "cables", "own"];
const MEASURE = { what: "Free conductor", limit: "minimum 150 mm", min_mm: 150, max_mm: null };
const NAMES = ["note", "measured", "from_left", "height"];

/** How an item may stand, by what the figures say of it and what somebody answered. */
const stood = fc.record({
  verdict: fc.constantFrom("verify", "ok", "not_to_code", "info_needed"), standing: fc.constantFrom("open", "ok", "fix"),
  check: fc.constantFrom("card", "line", ""), says: fc.constantFrom("10 boxes here.", "9 boxes here."), first: fc.boolean(),
  fingerprint: fc.constantFrom("a", "b"), photographs: fc.nat(2), photograph_first: fc.boolean(),
  latest: fc.constantFrom(null, { outcome: "ok", by: "Ann", at: "2026-03-02T08:00:00Z", note: "", measured_mm: null }),
  parts: fc.constantFrom([], ["box R1", "box R2"]), there: fc.boolean(),
});
const entry = fc.record({
  kind: fc.constantFrom("room", "each", "photograph"), state: fc.constantFrom("waiting", "kept", "refused", "stale", "contested"),
  outcome: fc.constantFrom("ok", "fix", "cant_see"),
});
const act = fc.oneof(
  fc.record({ act: fc.constant("type"), item: fc.nat(5), field: fc.nat(3), text: fc.constantFrom("behind the duct", "6 1/4\"", "x", "") }),
  fc.record({ act: fc.constant("redraw"), item: fc.nat(5), stood, queue: fc.array(entry, { maxLength: 3 }) }),
);

const item = (number) => ({
  id: `i${number}`, title: `Rule ${number % 4}`, where: "Kitchen", says: "10 boxes here.", figure: "", limit: "", remedy: "Fix it.",
  verdict: "verify", standing: "open", fingerprint: "a", latest: null, contest: [], measure: MEASURE, photographs: 0, working: [],
  section: "1", edition: "E", known: "read", box: { id: `R${number}`, wall: "n", at_mm: 100 }, withdraws: "", release: "", undo: "",
  card: KINDS[number % 3], check: "card", first: number === 5, photograph_first: false, photographed: false, parts: [],
});

/** A room in which every line is opened, as a phone shows it. */
class Shown {
  items = Array.from({ length: 6 }, (_, number) => item(number));
  queue = [];
  typed = new Map();
  cards = new Map();

  constructor() {
    const of = (id) => this.typed.get(id) ?? {};
    const on = {
      typed: of,
      type: (id, fields) => this.typed.set(id, { ...of(id), ...fields }),
      card: (given, named) => this.cards.set(given.id, new Card(given, { ...on }, named)).get(given.id),
      confirm: () => {}, answer: async () => true, shot: async () => {},
    };
    this.root = new Element("main");
    const [open, fold, list] = ["div", "details", "div"].map((tag) => new Element(tag));
    fold.append(list);
    this.root.append(open, fold);
    document.body.append(this.root);
    this.room = new Room(open, fold, list, on);
    this.draw();
    for (const each of [...this.root.all()].filter((one) => one.tagName === "details")) {
      each.open = true;
      each.ontoggle?.();
    }
    this.draw();
  }

  draw() {
    this.room.show("kitchen", { name: "Kitchen", area: "East", items: this.items.filter((each) => each.there !== false) }, this.queue);
  }

  field(id, name) { return this.cards.get(id).fields[name]; }
}

test("no redraw changes what is being typed", () => {
  fc.assert(fc.property(fc.array(act, { minLength: 1, maxLength: 14 }), (acts) => {
    document.activeElement = document.body;
    const shown = new Shown();
    assert.equal(shown.cards.size, 6);
    /** @type {Map<string, string>} What somebody has typed, by item and field. */
    const given = new Map();
    for (const each of acts) {
      const id = `i${each.item}`;
      if (each.act === "type") {
        const name = NAMES[each.field], field = shown.field(id, name);
        field.focus();
        field.value = each.text;
        field.oninput();
        given.set(`${id} ${name}`, each.text);
        continue;
      }
      const under = document.activeElement;
      shown.items[each.item] = { ...shown.items[each.item], ...each.stood };
      const others = shown.queue.filter((one) => one.item !== id);
      shown.queue = [...others, ...each.queue.map((one) => queued(id, one))];
      shown.draw();
      assert.equal(document.activeElement, under, "it was taken from under the finger");
      for (const [key, text] of given) {
        const field = shown.field(...key.split(" "));
        assert.ok(shown.root.contains(field), `${key} is gone`);
        assert.equal(field.value, text, key);
      }
    }
    shown.root.remove();
  }), { numRuns: 150 });
});

function queued(id, { kind, state, outcome }) {
  const made = kind === "photograph" ? photograph("job", 1) : tick("job", 1, { outcome, ...(kind === "room" ? { given: "room", outcome: "ok" } : {}) });
  return { ...made, item: id, state, says: "" };
}
