// Lengths as people type them off a tape: the phone reads and shows them as the site does.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { describe, test } from "node:test";
import fc from "fast-check";

const { asTyped, lengthWords, LONGEST_MM, parse } = await import("../../static/js/lengths.js");
const cases = JSON.parse(readFileSync(new URL("../config/messages/lengths.json", import.meta.url), "utf-8"));
const by = (language, units) => ({ language, imperial: units === "imperial" });

describe("read", () => {
  for (const [typed, language, units, mm] of cases.read) {
    test(`${typed} (${language}, ${units})`, () => assert.equal(parse(typed, by(language, units)), mm));
  }
  for (const [typed, language, units] of cases.refused) {
    test(`not ${JSON.stringify(typed)} (${language}, ${units})`, () => assert.equal(parse(typed, by(language, units)), null));
  }
});

describe("shown", () => {
  for (const [mm, units, language, rounding, words] of cases.shown) {
    test(`${words} (${language})`, () => assert.equal(lengthWords(mm, by(language, units), rounding), words));
  }
  for (const [typed, mm, language, words] of cases["as typed"]) {
    test(`${typed} as ${words}`, () => assert.equal(asTyped(typed, mm, language), words));
  }
});

test("what is shown is read as the same length, within a half of its step", () => {
  const languages = fc.constantFrom("en", "fr", "es");
  fc.assert(fc.property(fc.double({ min: 0, max: LONGEST_MM - 1, noNaN: true }), languages, fc.boolean(), (mm, language, imperial) => {
    const shown = lengthWords(mm, { language, imperial });
    const away = Math.abs(parse(shown, { language, imperial: !imperial }) - mm);
    assert.ok(away <= (imperial ? 25.4 / 32 : 0.5) + 1e-3, `${shown} is ${away} from ${mm}`);
  }));
});

test("whatever is typed is a length within bounds or nothing, and is answered soon", () => {
  const bit = fc.constantFrom(..."0123456789.,/'\"-″′ mcftinpoesulg½x−", "1/2", "é");
  fc.assert(fc.property(fc.array(bit, { maxLength: 45 }).map((bits) => bits.join("")), fc.boolean(), (typed, imperial) => {
    for (const language of ["en", "fr", "es"]) {
      const mm = parse(typed, { language, imperial });
      assert.ok(mm === null || (mm >= 0 && mm <= LONGEST_MM), `${JSON.stringify(typed)} is ${mm}`);
    }
  }), { numRuns: 2000 });
});
