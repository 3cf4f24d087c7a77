// The form by which a fact is corrected where one stands: a figure, a choice, one button, or a place.
import { INCHES, METRIC } from "../lengths.js";
import { say } from "../say.js";
import { make, put } from "../walk/elements.js";
import { settles, shown, understand, verdict } from "./judge.js";

/** @type {Record<string, [string, string]>} What a figure looks like, by the unit of its reader. */
const EXAMPLES = { length: [INCHES, METRIC], volume: ["18 cu. in.", "300 mL"], weight: ["35 lb", "16 kg"], angle: ["90°", "90°"] };
const FIGURES = new Set(["length", "volume", "weight", "angle", "count"]);

/**
 * `record` is called with the one change, once, when somebody records it; `tapped` asks whoever shows the
 * plan for a tap, and gives the place. Nothing here sends anything.
 * @param {Fix.Fix} fix
 * @param {{ imperial: boolean, record: (change: Fix.Change) => void, tapped?: () => Promise<Fix.Tapped | null>, typed?: string, keep?: (typed: string) => void }} given
 */
export function fixForm(fix, given) {
  const form = make("form", { className: "fix", noValidate: true });
  form.dataset.path = JSON.stringify(fix.path);
  const record = (/** @type {unknown} */ now, typed = "") => given.record({ path: fix.path, was: fix.now, now, typed });
  form.append(make("p", { className: "fix-name" }, fix.name), now(fix));
  if (FIGURES.has(fix.kind)) form.append(...figure(fix, given, record, form));
  if (fix.choices.length) form.append(choices(fix, record));
  if (fix.kind === "done") form.append(button(fix.name, () => record(fix.to)));
  if (fix.kind === "added" || fix.kind === "moved") form.append(...places(fix, given, record));
  form.addEventListener("submit", (event) => event.preventDefault());
  return form;
}

/** @param {Fix.Fix} fix */
const now = (fix) => make("p", { className: "fix-now" }, fix.now === null ? say("Not recorded yet") : say("Recorded: {value}", { value: fix.now_says }));

/** @param {string} text @param {() => void} act */
function button(text, act) {
  const element = make("button", { type: "button" }, text);
  element.addEventListener("click", act);
  return element;
}

/**
 * A field for the figure, in the reader's unit, with what is understood and what follows while it is typed.
 * @param {Fix.Fix} fix @param {{ imperial: boolean, typed?: string, keep?: (typed: string) => void }} given
 * @param {(now: unknown, typed?: string) => void} record @param {HTMLElement} form
 */
function figure(fix, { imperial, typed = "", keep }, record, form) {
  const field = make("input", { name: "figure", value: typed, autocomplete: "off", inputMode: fix.kind === "length" && imperial ? "text" : "decimal" });
  field.setAttribute("aria-label", fix.name);
  field.placeholder = EXAMPLES[fix.kind]?.[Number(!imperial)] ?? "";
  const says = make("output", { className: "fix-says" });
  const send = make("button", { type: "submit" }, fix.now === null ? say("Record") : say("Record as fixed"));
  const judged = () => {
    const value = understand(fix.kind, field.value, imperial);
    put(send, { disabled: value === null });
    put(says, { textContent: value === null ? unread(field.value) : follows(fix, value, imperial) });
    return value;
  };
  field.addEventListener("input", () => {
    judged();
    keep?.(field.value);
  });
  form.addEventListener("submit", () => {
    const value = judged();
    if (value !== null) record(value, fix.kind === "length" ? field.value : "");
  });
  judged();
  const limit = limitWords(fix);
  return [...(limit ? [make("p", { className: "fix-limit" }, limit)] : []), field, says, send];
}

/**
 * What was understood and what follows; a figure that fails stands in its verdict already.
 * @param {Fix.Fix} fix @param {number} value @param {boolean} imperial
 */
function follows(fix, value, imperial) {
  const words = verdict(fix, value, imperial);
  return settles(fix, value) === false ? words : `${shown(fix.kind, value, imperial)}: ${words}`;
}

/** @param {string} typed */
const unread = (typed) => (typed.trim() ? say("“{typed}” is not a figure. Enter a number.", { typed }) : "");

/** @param {Fix.Limits} fix */
function limitWords({ least, most, least_says, most_says }) {
  if (least !== null && most !== null) return say("Between {least} and {most}", { least: least_says, most: most_says });
  if (least !== null) return say("Minimum {limit}", { limit: least_says });
  return most === null ? "" : say("Maximum {limit}", { limit: most_says });
}

/**
 * What this house uses already, a button each; a place to feed from where something is added.
 * @param {Fix.Fix} fix @param {(now: unknown) => void} record
 */
function choices(fix, record) {
  const group = make("div", { className: "fix-choices" });
  group.setAttribute("role", "group");
  group.setAttribute("aria-label", fix.name);
  for (const { value, says } of fix.choices) {
    const to = fix.kind === "added" ? { ...fix.to, ends: [value, fix.to.ends[1]] } : value;
    group.append(button(fix.kind === "added" ? say("Fed from {box}", { box: says }) : says, () => record(to)));
  }
  return group;
}

/**
 * Where a box is: tapped on the plan, or where the line lacks one.
 * @param {Fix.Fix} fix @param {{ tapped?: () => Promise<Fix.Tapped | null> }} given @param {(now: unknown) => void} record
 */
function places(fix, { tapped }, record) {
  const to = (/** @type {object} */ place) => (fix.kind === "added" ? { ...fix.to, place } : place);
  const base = /** @type {object} */ (fix.kind === "added" ? fix.to?.place : fix.now); // its height stays
  /** @type {HTMLElement[]} */
  const buttons = [];
  if (tapped && fix.path[0] === "boxes") {
    const here = make("span");
    buttons.push(button(say("Tap its place on the plan"), async () => {
      const place = await tapped();
      if (place) here.replaceChildren(button(say("Here: {place}", { place: place.says }), () => record(to({ ...base, ...place.at }))));
      /** @type {HTMLElement | null} */ (here.querySelector("button"))?.focus();
    }), here);
  }
  if (fix.to && !fix.choices.length) buttons.push(button(say("Here: {place}", { place: fix.to_says }), () => record(fix.to)));
  return buttons;
}
