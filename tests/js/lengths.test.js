// Lengths as people type them.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import fc from "fast-check";

const { parse, told } = await import("../../static/js/draw/lengths.js");
const near = (a, b) => assert.ok(Math.abs(a - b) <= 0.0011, `${a} is not ${b}`);

describe("read", () => {
  for (const [text, mm] of [
    ["3200", 3200], ["3.2 m", 3200], ["3,2m", 3200], ["45 cm", 450], ["12 mm", 12], ["8 ft", 2438.4], ["30 in", 762],
    [`12' 6 1/2"`, 3822.7], [`12'-6"`, 3810], ["12′ 6″", 3810], [`1/2"`, 12.7], [`6 1/2"`, 165.1], [`12' 1/2"`, 3670.3], [`11/16"`, 17.4625], ["-5 cm", -50], [" 7 ", 7],
    ["8 ft 4 in.", 2540], ["6 1/2 in.", 165.1], ["8 pi 4 po", 2540], ["8 pies 4 pulg.", 2540], ["2 M", 2000], ["1m 5cm", 1050],
  ]) test(text, () => near(parse(text), mm));

  for (const text of ["", "  ", "-", "m", "12 x", "1/0", "5 6", "1..2", "two", `"`, "1e3"]) {
    test(`not ${JSON.stringify(text)}`, () => assert.equal(parse(text), null));
  }
});

test("feet, inches and fractions add up", () => {
  const sixteenths = fc.integer({ min: 1, max: 15 });
  fc.assert(fc.property(fc.nat(500), fc.nat(11), sixteenths, fc.boolean(), (feet, inches, over, minus) => {
    const mm = feet * 304.8 + (inches + over / 16) * 25.4;
    near(parse(`${minus ? "-" : ""}${feet}' ${inches} ${over}/16"`), minus ? -mm : mm);
  }));
});

test("each unit is as long as it is", () => {
  const places = fc.integer({ min: 0, max: 999_999 }).map((n) => n / 1000);
  const unit = fc.constantFrom(["mm", 1], ["cm", 10], ["m", 1000], ["ft", 304.8], ["in", 25.4], ["in.", 25.4], ["po", 25.4], ["pulg.", 25.4], ["pi", 304.8], ["pies", 304.8], ["", 1]);
  fc.assert(fc.property(places, unit, (value, [name, mm]) => near(parse(`${value} ${name}`), value * mm)));
});

test("what is told is read as the same", () => {
  fc.assert(fc.property(fc.integer({ min: -1e9, max: 1e9 }).map((n) => n / 1000), (mm) => near(parse(told(mm)), mm)));
});

test("whatever is typed is a number or nothing, and is answered soon", () => {
  const bit = fc.constantFrom(..."0123456789.,/'\"-′″ mcftinpoesulg", "1/2", "x", "é");
  fc.assert(fc.property(fc.array(bit, { maxLength: 60 }).map((bits) => bits.join("")), (text) => {
    const mm = parse(text);
    assert.ok(mm === null || Number.isFinite(mm), `${JSON.stringify(text)} is ${mm}`);
  }), { numRuns: 2000 });
});
