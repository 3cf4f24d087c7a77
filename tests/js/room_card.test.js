// The one OK of a card: what it waits for, what it is of, and when it is taken away.
import assert from "node:assert/strict";
import { beforeEach, describe, test } from "node:test";
import { photograph, tick } from "./browser.js";
import { Element } from "./dom.js";

const { RoomCard } = await import("../../static/js/walk/room_card.js");

const line = (id, more = {}) => ({
  id, title: `Rule ${id}`, where: `Room of ${id}`, says: "10 boxes here.", verdict: "verify", standing: "open", fingerprint: "a", latest: null,
  contest: [], measure: null, card: "boxes", check: "card", photograph_first: false, photographed: false, withdraws: "", ...more,
});
const entry = (item, more = {}) => ({ ...tick("job", 1, { item, ...more }), state: "waiting", says: "" });
const shot = (item) => ({ ...photograph("job", 1), item, state: "waiting", says: "" });

let given, typed;
const on = {
  typed: (id) => typed[id] ?? {}, type: () => {}, card: () => ({ element: new Element("article"), update() {} }),
  confirm: (items, name, byRoom) => given.push([items.map((item) => item.id), name, byRoom]), answer: async () => true, shot: async () => {},
};

/** A card that is all on the screen. */
function shown(items, queue = [], sample = []) {
  const card = new RoomCard("boxes", on);
  card.add(items);
  card.sample(sample);
  card.unseen.clear();
  card.update(new Map(items.map((item) => [item.id, item])), (id) => queue.filter((each) => each.item === id));
  return card;
}
const offered = (card) => !card.all.hidden && !card.all.disabled;

describe("the OK of a card", () => {
  beforeEach(() => {
    given = [];
    typed = {};
  });

  test("is of all lines that eyes settle and of nothing else", () => {
    const others = [line("3", { check: "line" }), line("4", { check: "" }), line("5", { verdict: "ok", check: "card" })];
    const card = shown([line("1"), line("2"), ...others]);
    card.confirm();
    assert.deepEqual(given, [[["1", "2", "5"], "Boxes", true]]);
  });

  test("waits until each line was on the screen", () => {
    const card = shown([line("1"), line("2")]);
    const [first, second] = card.lines.map((each) => each.head);
    for (const head of [first, second]) card.unseen.add(head);
    card.read([{ target: first, isIntersecting: true }, { target: second, isIntersecting: false }]);
    assert.equal(offered(card), false);
    card.confirm();
    assert.deepEqual(given, []);
    card.read([{ target: second, isIntersecting: true }]);
    assert.equal(offered(card), true);
  });

  test("waits again for a line whose facts changed", () => {
    const card = shown([line("1"), line("2")]);
    card.update(new Map([["1", line("1", { fingerprint: "b" })], ["2", line("2")]]), () => []);
    assert.equal(offered(card), false);
    assert.equal(card.unseen.size, 1);
  });

  test("waits for a photograph that the shop requires", () => {
    const wanted = line("1", { photograph_first: true });
    assert.equal(offered(shown([wanted])), false);
    assert.equal(offered(shown([wanted], [shot("1")])), true);
  });

  test("leaves out what is typed at, answered or measured by itself", () => {
    typed = { 1: { note: "loose" } };
    const card = shown([line("1"), line("2"), line("3")], [entry("2", { outcome: "fix" })]);
    card.confirm();
    assert.deepEqual(given, [[["3"], "Boxes", true]]);
  });

  const box = line("fill", { verdict: "ok" });
  const sampled = [{ box: "R1", items: ["fill"], measured: "1" }];

  test("waits for the sampled box", () => {
    assert.equal(offered(shown([line("1"), box], [], sampled)), false);
    assert.equal(offered(shown([line("1"), box], [shot("fill")], sampled)), true);
    assert.equal(offered(shown([line("1"), line("2"), box], [entry("1", { measured_mm: 160 })], sampled)), true);
  });

  test("is taken away where the sampled box is to be fixed", () => {
    const failed = entry("1", { measured_mm: 10, outcome: "fix" });
    const card = shown([line("1"), line("2"), box], [shot("fill"), failed], sampled);
    assert.equal(card.all.hidden, true);
    card.confirm();
    assert.deepEqual(given, []);
  });

  test("is at its own line for each place of what no room check answers", () => {
    const bonds = ["1", "2"].map((id) => line(id, { check: "line", title: "Bonds" }));
    const card = shown(bonds);
    assert.deepEqual(card.lines.map((each) => each.folds[0].ok.ariaLabel), ["OK: Bonds: Room of 1", "OK: Bonds: Room of 2"]);
    assert.equal(card.all.hidden, true);
    card.lines[0].folds[0].ok.onclick();
    assert.deepEqual(given, [[["1"], "Bonds", false]]);
  });
});
