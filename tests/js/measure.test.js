// A tape's figure against its limit: the phone says the same as the site, which judges it again.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import fc from "fast-check";
import "./browser.js";

const { contradiction, figure, quantity } = await import("../../static/js/walk/measure.js");
const measure = (min_mm, max_mm) => ({ what: "set back", limit: "", min_mm, max_mm });
const mm = fc.double({ min: 0, max: 100_000, noNaN: true });

describe("a figure that an OK is given with", () => {
  test("contradicts it below the least and above the most, and nowhere else", () => {
    fc.assert(fc.property(mm, mm, mm, (one, other, given) => {
      const [least, most] = [Math.min(one, other), Math.max(one, other)];
      assert.equal(contradiction(measure(least, most), given) !== "", given < least || given > most);
    }));
  });

  test("may be the limit itself", () => {
    fc.assert(fc.property(mm, (limit) => assert.equal(contradiction(measure(limit, limit), limit), "")));
  });

  test("has no limit where none is declared, and contradicts nothing where none was given", () => {
    fc.assert(fc.property(mm, (given) => {
      assert.equal(contradiction(measure(null, null), given), "");
      assert.equal(contradiction(null, given), "");
      assert.equal(contradiction(measure(1, 2), null), "");
    }));
  });

  test("is told with the figure, the limit and what to do", () => {
    const said = contradiction(measure(31.75, null), 30);
    assert.equal(said, "set back: 30 mm measured, minimum 31.75 mm. Record it as Fix, or correct the figure.");
    assert.match(contradiction(measure(null, 6.4), 7), /7 mm measured, maximum 6.4 mm/);
  });

  test("a least of nothing is a limit all the same", () => {
    assert.notEqual(contradiction(measure(0, null), -1), "");
    assert.notEqual(contradiction(measure(null, 0), 1), "");
  });
});

test("figures have three places at most and no marks between thousands", () => {
  assert.deepEqual([1234567, 0.1 + 0.2, 12.3456].map(figure), ["1234567", "0.3", "12.346"]);
});

test("a field is named by what is measured, with its limit where there is one", () => {
  assert.equal(quantity({ what: "set back", limit: "at most 6.4 mm" }), "set back, measured, in mm (at most 6.4 mm)");
  assert.equal(quantity({ what: "set back" }), "set back, measured, in mm");
});
