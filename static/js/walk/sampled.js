// What is wanted of a sampled box: a close-up, or a figure off the tape.
import { parse } from "../lengths.js";
import { say } from "../say.js";
import { confirmed } from "./consequence.js";
import { make, put } from "./elements.js";
import { by, contradiction, example, quantity, unread } from "./measure.js";
import { camera } from "./picture.js";
import { sampleState } from "./sample.js";

const STATES = { wanted: "", ok: say("Checked"), failed: say("Not OK: check each box in this room by itself.") };

export class SampleBox {
  /** @type {"wanted" | "ok" | "failed"} */
  state = "wanted";
  told = make("p", { className: "check-state", role: "status" });
  quantity = make("span");
  fault = make("p", { className: "fault", role: "alert", hidden: true });
  field = make("input", { maxLength: 40, autocomplete: /** @type {const} */ ("off"), autocapitalize: "off", spellcheck: false, placeholder: example });
  save = make("button", { type: "button", onclick: () => this.measure() }, say("Save"));
  taped = make("div", { className: "tape", hidden: true }, make("label", {}, this.quantity, this.field), this.save);
  /** @type {Map<string, Walk.Item>} */
  items = new Map();

  /** @param {Walk.Sampled} sampled @param {Walk.OnLine} on */
  constructor(sampled, on) {
    this.sampled = sampled;
    this.on = on;
    this.key = `sample: ${sampled.box}`;
    const { box } = sampled;
    const words = say("Box {box}: close-up", { box });
    const { button, input } = camera(make("span", {}, words), (file) => this.shot(file));
    input.setAttribute("aria-label", words);
    this.given = make("div", { className: "given" }, button, this.taped, this.fault);
    const why = make("p", { className: "small" }, say("Take a close-up of this box or measure in it. Then the boxes of this room can be OK."));
    this.element = make("div", { className: "sample" }, make("h4", {}, say("Sample: box {box}", { box })), why, this.told, this.given);
    this.field.value = on.typed(this.key).measured ?? "";
    this.field.oninput = () => on.type(this.key, { measured: this.field.value });
  }

  get tape() {
    return this.sampled.measured ? this.items.get(this.sampled.measured) : undefined;
  }

  /** @param {Map<string, Walk.Item>} items @param {(id: string) => Walk.Entry[]} queueOf */
  update(items, queueOf) {
    this.items = items;
    this.state = sampleState(this.sampled, items, queueOf);
    const { tape } = this;
    put(this.taped, { hidden: !tape?.measure });
    if (tape?.measure) put(this.quantity, { textContent: quantity(tape.measure) });
    put(this.told, { textContent: STATES[this.state] });
    put(this.given, { hidden: this.state !== "wanted" });
    if (this.field !== document.activeElement) put(this.field, { value: this.on.typed(this.key).measured ?? "" });
  }

  /** @param {File} file */
  async shot(file) {
    const item = this.sampled.items.map((id) => this.items.get(id)).find(Boolean);
    if (item) await this.on.shot(item, file);
  }

  // A figure outside its limit is recorded as it is: the line is to be fixed, and the sample fails.
  measure() {
    const item = this.tape, typed = this.field.value.trim();
    const mm = parse(typed, by);
    const fault = unread(typed);
    put(this.fault, { textContent: fault, hidden: !fault });
    if (!item || mm === null) return this.field.focus();
    const outcome = contradiction(item.measure, mm) ? "fix" : "ok";
    /** @type {Walk.Tick} */
    const given = { kind: "tick", outcome, note: say("box {box}", { box: this.sampled.box }), measured_mm: mm, measured_typed: typed };
    confirmed(outcome === "fix" ? item.withdraws : "", this.given, () => this.keep(item, given));
  }

  /** @param {Walk.Item} item @param {Walk.Tick} given */
  async keep(item, given) {
    if (!(await this.on.answer(item, given, {}))) return;
    this.field.value = "";
    this.on.type(this.key, { measured: "" });
  }
}
