// One item of a checklist with its answers, its tape and its camera. A card is made once and
// changed in place: what is under a finger or being typed in is never another element from one
// moment to the next.
import { lengthWords, parse } from "../lengths.js";
import { language, say } from "../say.js";
import { CHANGES } from "./built.js";
import { OUTCOMES, WORDS } from "./checks.js";
import { WAITING, REFUSED } from "./store.js";
import { confirmed } from "./consequence.js";
import { make, put } from "./elements.js";
import { camera } from "./picture.js";
import { by, contradiction, example, quantity, understood, unread, words } from "./measure.js";

/** @type {Record<string, string>} */
const STATES = {
  [WAITING]: say("not sent yet"),
  kept: say("sent and saved"),
  stale: say("saved, but does not count: the facts have changed"),
  contested: say("saved, but someone disagrees"),
  [REFUSED]: say("refused"),
};
const KINDS = { fix: say("Fixed"), pulled: say("As pulled"), photograph: say("Photo"), "site-change": say("New place of the box") };
/** @type {Record<string, string>} */
const KNOWN = { memory: say(" (limit from memory, not read in a source)"), practice: say(" (common practice, no source)") };
const LENGTH = { maxLength: 40, autocomplete: /** @type {const} */ ("off"), autocapitalize: "off", spellcheck: false };

/** @param {Walk.Given} given */
export const said = (given) => {
  if (given.kind === "built") return CHANGES[given.change.kind];
  return given.kind === "tick" ? WORDS[given.outcome] : KINDS[given.kind];
};

/**
 * What is in a field as it is sent, by the names that it is typed under.
 * @param {Walk.Given} entry
 * @returns {Walk.Fields}
 */
export const typedOf = (entry) => {
  /** @param {string | undefined} typed @param {number | null | undefined} mm */
  const text = (typed, mm) => typed || (mm === null || mm === undefined ? "" : `${mm} mm`);
  if (entry.kind === "tick") return { note: entry.note, measured: text(entry.measured_typed, entry.measured_mm) };
  if (entry.kind === "site-change") {
    return { from_left: text(entry.at_typed, entry.at_mm), height: text(entry.height_typed, entry.height_mm) };
  }
  return {};
};

/** @param {string} time */
const clock = (time) =>
  new Date(time).toLocaleString(language, { month: "short", day: "numeric", hour: "2-digit", minute: "2-digit" });

export class Card {
  drawn = "";
  fixed = false;
  changed = make("p", { className: "do", hidden: true, textContent: say("The facts have changed. Read them again.") });
  facts = make("div", { className: "facts" });
  queue = make("div", { className: "queue" });
  /** @type {Map<string, HTMLElement>} A line for each entry of the queue. */
  lines = new Map();
  quantity = make("span");
  pictures = make("span");
  fault = make("p", { className: "fault", role: "alert", hidden: true });
  camera = camera(this.pictures, (file) => this.on.shot(this.item, file));
  /** The parts that its line is about: a tap writes one into the note. */
  parts = make("div", { className: "parts", hidden: true });
  steps = make("ul");
  basis = make("p");
  /** @type {HTMLElement | null} Where the house says that a box stands, once that can be corrected. */
  wall = null;
  /** @type {Record<string, HTMLInputElement>} */
  fields = { note: make("input", { maxLength: 500, placeholder: say("note") }), measured: make("input", { ...LENGTH, placeholder: example }) };
  /** @type {Record<string, HTMLElement>} What is understood of the length that is typed in a field. */
  read = { measured: make("span", { className: "read", role: "status" }) };
  taped = make("div", { className: "tape" }, make("label", {}, this.quantity, this.fields.measured), this.read.measured);
  /** @type {Record<Walk.Outcome, HTMLButtonElement>} */
  buttons = /** @type {Record<Walk.Outcome, HTMLButtonElement>} */ (Object.fromEntries(OUTCOMES.map((each) => [each, this.button(each)])));
  given = make(
    "div", { className: "answers" },
    this.parts,
    make("div", { className: "row" }, this.taped, this.fields.note),
    this.fault,
    make("div", { className: "three" }, ...Object.values(this.buttons)),
    this.camera.button,
  );
  /** @type {{ working: HTMLDetailsElement, elsewhere?: HTMLDetailsElement }} */
  folds = { working: make("details", {}, make("summary", {}, say("Working")), this.steps, this.basis) };

  /**
   * `on` has what the page does; `named` is what the line of the item says already.
   * @param {Walk.Item} item @param {Walk.On} on @param {"title" | "says"} [named]
   */
  constructor(item, on, named) {
    this.item = item;
    this.on = on;
    this.named = named;
    this.element = make(
      "article", { className: "item", id: `item-${item.id}` },
      this.changed, this.facts, this.queue, this.given, this.folds.working,
    );
    this.listen();
  }

  /** @param {Walk.Outcome} outcome */
  button(outcome) {
    return make("button", { type: "button", className: outcome, onclick: () => this.tick(outcome) }, WORDS[outcome]);
  }

  /**
   * The item as it stands now, with what of it waits in the queue.
   * @param {Walk.Item} item @param {Walk.Entry[]} queue
   */
  update(item, queue) {
    this.fixed ||= queue.some((entry) => entry.kind === "fix");
    if (item.fingerprint !== this.item.fingerprint && !this.fixed) this.changed.hidden = false;
    this.item = item;
    this.element.dataset.standing = item.standing;
    if (item.box && !this.folds.elsewhere) this.folds.working.before(this.elsewhere());
    if (this.folds.elsewhere) put(this.folds.elsewhere, { hidden: !item.box });
    const now = JSON.stringify(item);
    if (now !== this.drawn) this.draw();
    this.drawn = now;
    this.retype();
    this.line(queue);
    this.press(queue.filter((entry) => entry.kind === "tick").at(-1));
  }

  /**
   * The answers as they can be given, with the last one that was.
   * @param {Walk.Entry<Walk.Tick> | undefined} mine
   */
  press(mine) {
    for (const outcome of OUTCOMES) {
      const given = mine?.state !== REFUSED && mine?.outcome === outcome;
      put(this.buttons[outcome], { ariaPressed: String(given), disabled: outcome === "ok" && !this.counts });
      if (outcome === "fix") put(this.buttons.fix, { textContent: this.counts ? WORDS.fix : say("Not fixed yet") });
      if (outcome === "na") put(this.buttons.na, { hidden: !this.item.na });
    }
  }

  get counts() {
    return this.item.verdict === "verify" || this.item.verdict === "ok";
  }

  // What is typed as it is kept; a field that somebody is in is left to them.
  retype() {
    const typed = /** @type {Record<string, string | undefined>} */ (this.unmeasured(this.on.typed(this.item.id)));
    for (const [name, field] of Object.entries(this.fields)) {
      if (field !== document.activeElement) put(field, { value: typed[name] ?? "" });
    }
    this.understand();
  }

  understand() {
    for (const [name, line] of Object.entries(this.read)) put(line, { textContent: understood(this.fields[name].value) });
  }

  /**
   * What was typed of a tape before the phone was told that nothing is measured here: words of the note.
   * @param {Walk.Fields} typed
   */
  unmeasured(typed) {
    if (this.item.measure || !typed.measured) return typed;
    const mm = parse(typed.measured, by);
    const measured = say("{length} measured", { length: mm === null ? typed.measured : words(typed.measured, mm) });
    const note = (typed.note ? `${typed.note}; ${measured}` : measured).slice(0, this.fields.note.maxLength);
    this.on.type(this.item.id, { note, measured: "" });
    return { ...typed, note, measured: "" };
  }

  /**
   * What is empty from now on, even under the finger that sent it, unless more was typed meanwhile.
   * @param {Walk.Fields} fields
   */
  clear(fields) {
    for (const [name, value] of Object.entries(fields)) {
      if (this.fields[name]?.value === value) this.fields[name].value = "";
    }
    this.understand();
  }

  draw() {
    const { item } = this;
    const { title } = item;
    this.facts.replaceChildren(...this.told());
    put(this.fields.note, { ariaLabel: say("Note on {title}", { title }) });
    put(this.taped, { hidden: !item.measure });
    if (item.measure) put(this.quantity, { textContent: quantity(item.measure) });
    put(this.camera.input, { ariaLabel: say("Photo of {title}", { title }) });
    this.drawParts();
    put(this.pictures, { textContent: item.photographs ? say("Photo ({n} taken)", { n: item.photographs }) : say("Photo") });
    this.steps.replaceChildren(...item.working.map((step) => make("li", {}, step)));
    put(this.basis, { textContent: `${item.edition} ${item.section}${KNOWN[item.known] || ""}` });
    if (this.wall && item.box) this.placed(this.wall, item.box);
  }

  drawParts() {
    const { parts = [] } = this.item;
    if (this.parts.dataset.parts === parts.join()) return;
    this.parts.dataset.parts = parts.join();
    put(this.parts, { hidden: parts.length < 2 });
    this.parts.replaceChildren(...parts.map((part) => make("button", { type: "button", onclick: () => this.name(part) }, part)));
  }

  /**
   * The part that is not OK goes into the note, or out of it again.
   * @param {string} part
   */
  name(part) {
    const { note } = this.fields;
    const named = note.value.split(", ").filter(Boolean);
    const now = named.includes(part) ? named.filter((each) => each !== part) : [...named, part];
    note.value = now.join(", ").slice(0, note.maxLength);
    this.on.type(this.item.id, { note: note.value });
  }

  // What is found of the item, what is asked and what was seen.
  told() {
    const { item } = this;
    return [
      ...(this.named === "title" ? [] : [make("p", { className: "item-title" }, item.title)]),
      make("p", { className: "where" }, item.where),
      ...(this.named === "says" ? [] : [make("p", {}, item.says)]),
      ...(item.limit ? [make("p", { className: "limit" }, say("required: "), make("b", {}, item.limit))] : []),
      ...(this.counts ? [] : [make("p", { className: "do" }, say("To do: {remedy}", { remedy: item.remedy }))]),
      ...item.contest.map((seen) => look(say("Disagrees"), seen, item.measure)),
      ...(item.latest && !item.contest.length ? [look(say("Checked"), item.latest, item.measure)] : []),
      ...(item.release ? [make("p", { className: "do release" }, item.release)] : []),
      ...(item.undo ? this.undo() : []),
    ];
  }

  // The way back for whoever slipped; the site says whether there is one.
  undo() {
    const button = make("button", { type: "button", onclick: () => this.on.undo(this.item) }, say("Undo: recorded by mistake"));
    const after = say("Both entries stay on record. A withdrawn release stays withdrawn until the office releases the area again.");
    return [make("p", { className: "row" }, button), make("p", { className: "small" }, after)];
  }

  /**
   * A line for each entry, the same one for as long as the entry is there.
   * @param {Walk.Entry[]} queue
   */
  line(queue) {
    const now = new Set(queue.map((entry) => entry.id));
    for (const [id, line] of this.lines) {
      if (now.has(id)) continue;
      line.remove();
      this.lines.delete(id);
    }
    for (const entry of queue) {
      const line = this.lines.get(entry.id) ?? make("p", { className: "entry-state" }, make("span"));
      if (!this.lines.has(entry.id)) this.queue.append(line);
      this.lines.set(entry.id, line);
      line.dataset.state = entry.state;
      const tape = tapeOf(entry);
      put(/** @type {HTMLElement} */ (line.firstChild), { textContent: `${said(entry)}${tape}${noteOf(entry)}, ${clock(entry.made_at)}: ${STATES[entry.state]}. ${entry.says}` });
      if (entry.state === REFUSED && line.childElementCount === 1) {
        line.append(make("button", { type: "button", onclick: () => this.on.dismiss(entry) }, say("Remove this message")));
      }
    }
  }

  // Each field and fold tells of itself what is typed or opened there; a fold is as it was left.
  listen() {
    for (const [name, field] of Object.entries(this.fields)) {
      field.oninput = () => {
        field.setCustomValidity("");
        this.understand();
        this.on.type(this.item.id, { [name]: field.value });
      };
      field.onblur = () => this.retype();
    }
    const typed = /** @type {Record<string, unknown>} */ (this.on.typed(this.item.id));
    for (const [name, fold] of Object.entries(this.folds)) {
      fold.open = Boolean(typed[name]);
      fold.ontoggle = () => this.on.type(this.item.id, { [name]: fold.open });
    }
  }

  /** @param {Walk.Outcome} outcome */
  tick(outcome) {
    const { note, measured } = this.fields;
    const typed = this.item.measure ? measured.value.trim() : "";
    const mm = parse(typed, by);
    const unsaid = outcome === "na" && !/[\p{L}\p{N}].*[\p{L}\p{N}].*[\p{L}\p{N}]/u.test(note.value);
    const why = unsaid ? say("Write why this check does not apply here.") : "";
    const fault = unread(typed) || why || (outcome === "ok" ? contradiction(this.item.measure, mm) : "");
    put(this.fault, { textContent: fault, hidden: !fault });
    if (fault) return;
    /** @type {Walk.Tick} */
    const given = { kind: "tick", outcome, note: note.value, measured_mm: mm, measured_typed: typed };
    const fields = { note: note.value, measured: measured.value };
    const follows = outcome === "ok" || outcome === "na" ? "" : this.item.withdraws;
    confirmed(follows, this.given, () => this.give(given, fields));
  }

  /** @param {Walk.Given} given @param {Walk.Fields} fields */
  async give(given, fields) {
    if (await this.on.answer(this.item, given, fields)) this.clear(fields);
  }

  // Where the box really stands: from the left end of its wall, and how high.
  elsewhere() {
    const along = make("input", { ...LENGTH }), up = make("input", { ...LENGTH });
    Object.assign(this.fields, { from_left: along, height: up });
    Object.assign(this.read, { from_left: make("span", { role: "status" }), height: make("span", { role: "status" }) });
    this.wall = make("p", { className: "small" });
    const give = () => {
      const { box } = this.item;
      if (!box) return;
      along.required = true;
      for (const field of [along, up]) field.setCustomValidity(unread(field.value.trim()));
      if (!along.reportValidity() || !up.reportValidity()) return;
      const [at_typed, height_typed] = [along.value.trim(), up.value.trim()];
      const at_mm = /** @type {number} */ (parse(at_typed, by)), height_mm = parse(height_typed, by);
      /** @type {Walk.SiteChange} */
      const given = { kind: "site-change", box: box.id, at_mm, height_mm, note: "", at_typed, height_typed };
      this.give(given, { from_left: along.value, height: up.value });
    };
    this.folds.elsewhere = make(
      "details", {},
      make("summary", {}, say("The box is in another place")),
      this.wall,
      make("div", { className: "row" }, along, this.read.from_left, up, this.read.height),
      make("button", { type: "button", onclick: give }, say("Send the new place to the office")),
    );
    this.listen();
    return this.folds.elsewhere;
  }

  /** @param {HTMLElement} wall @param {Walk.Place} box */
  placed(wall, box) {
    /** @param {HTMLInputElement} input @param {string} word @param {number | null | undefined} mm */
    const field = (input, word, mm) => put(input, {
      ariaLabel: say("{word}, of box {box}", { word, box: box.id }),
      placeholder: `${word}: ${typeof mm === "number" ? lengthWords(mm, by) : say("not recorded yet")}`,
    });
    field(this.fields.from_left, say("from the left end"), box.at_mm);
    field(this.fields.height, say("height"), box.height_mm);
    const at = lengthWords(box.at_mm, by);
    put(wall, { textContent: say("The house says: wall {wall}, {at} from its left end.", { wall: box.wall, at }) });
  }
}

/** @param {Walk.Entry} entry */
function tapeOf(entry) {
  if (entry.kind !== "tick" || entry.measured_mm === null || entry.measured_mm === undefined) return "";
  return `, ${words(entry.measured_typed, entry.measured_mm)}`;
}

/** @param {Walk.Entry} entry */
const noteOf = (entry) => (entry.kind === "tick" && entry.note ? ` (${entry.note})` : "");

/** @param {string} word @param {Walk.Seen} seen @param {Walk.Measure | null} measure */
function look(word, seen, measure) {
  const tape = seen.measured_mm === null ? "" : `, ${measured(seen.measured ?? words("", seen.measured_mm), measure)}`;
  const note = seen.note ? `: ${seen.note}` : "";
  return make("p", { className: "small" }, `${word}: ${WORDS[seen.outcome]}${tape}, ${seen.by}, ${clock(seen.at)}${note}`);
}

/** @param {string} length @param {Walk.Measure | null} measure */
const measured = (length, measure) =>
  measure ? say("{length} measured", { length }) : say("{length} typed, not checked: this item has no measurement", { length });
