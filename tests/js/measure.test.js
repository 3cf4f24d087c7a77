// A tape's figure against its limit: the phone says the same as the site, which judges it again.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import fc from "fast-check";
import "./browser.js";

const { contradiction, figure, quantity, understood, unread, words } = await import("../../static/js/walk/measure.js");
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
    assert.equal(said, "set back: 1 1/8 in. measured, minimum 1 1/4 in. Record it as Fix, or correct the figure.");
    assert.match(contradiction(measure(null, 6.4), 7), /: 5\/16 in. measured, maximum 1\/4 in. Record/);
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
  assert.equal(quantity({ what: "set back", limit: "at most 6.4 mm" }), "set back, measured (at most 6.4 mm)");
  assert.equal(quantity({ what: "set back" }), "set back, measured");
});

test("what is typed is told as it is understood, near or exactly", () => {
  assert.deepEqual(["6 1/4", "160 mm", "2' 4\"", "six", ""].map(understood), ["= 6 1/4 in.", "≈ 6 5/16 in.", "= 2 ft 4 in.", "", ""]);
});

test("what is no length is told with what would be one, and what is beyond a tape with how long that is", () => {
  assert.equal(unread("six"), "“six” cannot be read as a length. Enter a length such as 6 1/4\" or 160 mm.");
  assert.equal(unread("400 ft"), "“400 ft” is longer than 328 ft 1 in. Check the figure and its unit.");
  assert.deepEqual(["", "6", "160 mm"].map(unread), ["", "", ""]);
});

test("a measure is told as it was typed, and as its figure where that is all there is", () => {
  assert.deepEqual([words("6 1/4", 158.75), words("160 mm", 160), words("", 152.5), words(undefined, 7)], ["6 1/4 in.", "160 mm", "152.5 mm", "7 mm"]);
});

test("a figure that contradicts never reads like its limit", () => {
  fc.assert(fc.property(mm, fc.double({ min: 1e-3, max: 50, noNaN: true }), (limit, off) => {
    for (const [measured, given] of [[measure(limit, null), limit - off], [measure(null, limit), limit + off]]) {
      const said = contradiction(measured, given).match(/: (.*) measured, \w+imum (.*?)\.? Record/);
      if (given >= 0) assert.notEqual(said[1].replace(/\.$/, ""), said[2]);
    }
  }));
});
