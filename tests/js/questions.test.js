// A question about many parts alike: one answer, and those that are not so.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import "./browser.js";
import "./dom.js";

const { questionForm } = await import("../../static/js/fix/questions.js");

const asked = (part) => ({ part, path: ["boxes", part, "devices", 0, "depth_mm"], key: `box-depth:${part}` });
const question = (given = {}) => ({
  path: ["device_depth_mm", "switch"], kind: "length", says: "How deep is the switch you use?", least: null, most: 40,
  least_says: "", most_says: "1 9/16 in.", choices: [], to: null, shared: true, asked: ["S1", "S2", "S3"].map(asked), ...given,
});

/** A form, its fields by kind, and what it records. */
function formOf(given) {
  const sent = [];
  const form = questionForm(question(given), { imperial: true, record: (changes) => sent.push(changes) });
  const inputs = [...form.all()].filter((each) => each.tagName === "input");
  const not = inputs.filter((each) => each.type === "checkbox");
  const own = inputs.filter((each) => each.hidden !== undefined && each.type !== "checkbox");
  return { form, sent, figure: inputs[0], not, own };
}

const submit = (form) => form.listeners.submit({ preventDefault() {} });

function type(field, typed) {
  field.value = typed;
  field.listeners.input?.();
}

describe("one answer", () => {
  test("of a product stands for all that have it, in one place of the house", () => {
    const { form, sent, figure } = formOf({});
    type(figure, "1 1/4");
    submit(form);
    assert.deepEqual(sent, [[{ path: ["device_depth_mm", "switch"], was: null, now: 31.75, typed: "1 1/4" }]]);
  });

  test("is written at each part where each has its own", () => {
    const { form, sent, figure } = formOf({ shared: false, path: asked("S1").path });
    type(figure, "1 1/4");
    submit(form);
    assert.deepEqual(sent[0].map(({ path }) => path[1]), ["S1", "S2", "S3"]);
    assert.ok(sent[0].every(({ now, was }) => now === 31.75 && was === null));
  });
});

describe("a part that is not so", () => {
  test("has its own figure beside that of all", () => {
    const { form, sent, figure, not, own } = formOf({});
    type(figure, "1 1/4");
    check(not[1]);
    assert.equal(own[1].hidden, false);
    own[1].value = "2";
    submit(form);
    assert.deepEqual(sent[0].map(({ path, now }) => [path[1], now]), [["switch", 31.75], ["S2", 50.8]]);
  });

  test("stays missing where each has its own and none is given", () => {
    const { form, sent, figure, not } = formOf({ shared: false, path: asked("S1").path });
    type(figure, "1 1/4");
    check(not[2]);
    submit(form);
    assert.deepEqual(sent[0].map(({ path }) => path[1]), ["S1", "S2"]);
  });

  test("needs its own figure where one value stands for all, and nothing is recorded without", () => {
    for (const typed of ["", "deep"]) {
      const { form, sent, figure, not, own } = formOf({});
      type(figure, "1 1/4");
      check(not[0]);
      own[0].value = typed;
      submit(form);
      assert.deepEqual(sent, []);
      assert.equal(document.activeElement, own[0]);
    }
  });
});

function check(box) {
  box.checked = true;
  box.listeners.change();
}
