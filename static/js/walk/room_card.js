// A card of a room: a short line for each check, and one OK for what eyes settle of them. The OK is offered
// once every line was on the screen, the photographs that the shop requires are taken, and the sampled
// box has its close-up or its figure. Where a sampled box is not OK, each line is answered by itself.
import { say } from "../say.js";
import { byTitle, checkOf, lacksPhotograph, stateOf } from "./checks.js";
import { make, put } from "./elements.js";
import { DrawnLine, Line } from "./line.js";
import { camera } from "./picture.js";
import { SampleBox } from "./sampled.js";

/** @type {Record<Walk.CardKind, string>} */
export const CARDS = {
  boxes: say("Boxes"), cables: say("Cables"), own: say("This room"),
  outside: say("Outside"), panel: say("Panel"), breakers: say("Breakers"),
};

/** @param {number} n */
export const okWords = (n) => (n === 1 ? say("OK: 1 check") : say("OK: {n} checks", { n }));

/** @param {Walk.Item} item */
const asDrawn = (item) => item.verdict === "ok" && checkOf(item) !== "line";

export class RoomCard {
  /** @type {(Line | DrawnLine)[]} */
  lines = [];
  /** @type {Set<string>} */
  ids = new Set();
  /** @type {Set<Element>} Lines that have not been on the screen since their facts came. */
  unseen = new Set();
  /** @type {SampleBox[]} */
  samples = [];
  list = make("ul", { className: "checks" });
  why = make("p", { className: "small", role: "status" });
  photograph = make("span");
  all = make("button", { type: "button", className: "all", onclick: () => this.confirm() });
  told = make("p", { className: "entry-state", hidden: true });

  /** @param {Walk.CardKind} kind @param {Walk.OnLine} on */
  constructor(kind, on) {
    this.kind = kind;
    this.on = on;
    this.screen = new IntersectionObserver((seen) => this.read(seen), { threshold: 0.5, rootMargin: "-100px 0px 0px" });
    this.camera = camera(this.photograph, (file) => this.shot(file));
    this.heading = make("h3", { tabIndex: -1 }, CARDS[kind]);
    this.wanted = make("div", { className: "samples" });
    this.element = make(
      "article", { className: "card room-card" },
      this.heading, this.list, this.wanted, this.camera.button, this.why, this.all, this.told,
    );
    this.element.dataset.card = kind;
  }

  /** @param {Walk.Item[]} items Those that the card has no line of yet. */
  add(items) {
    for (const item of items) this.ids.add(item.id);
    const drawn = items.filter(asDrawn), others = items.filter((item) => !asDrawn(item));
    for (const [title, same] of byTitle(others)) this.appendLines(title, same);
    const lines = [...byTitle(drawn)].map(([title, same]) => new Line(title, same, this.on));
    if (lines.length) this.append(new DrawnLine(lines, this.kind, this.on));
  }

  /**
   * A line for the rule; for what is verified by itself at several places, a line for each of them.
   * @param {string} title @param {Walk.Item[]} same
   */
  appendLines(title, same) {
    const alone = same.length > 1 && same.every((item) => item.verdict === "verify" && checkOf(item) === "line");
    if (!alone) return this.append(new Line(title, same, this.on));
    for (const item of same) this.append(new Line(title, [item], this.on, true));
  }

  /** @param {Line | DrawnLine} line */
  append(line) {
    this.lines.push(line);
    this.list.append(line.element);
    this.anew(line);
  }

  /** @param {Walk.Sampled[]} sampled */
  sample(sampled) {
    if (this.samples.length) return;
    this.samples = sampled.map((each) => new SampleBox(each, this.on));
    this.wanted.append(...this.samples.map((each) => each.element));
  }

  leave() {
    this.screen.disconnect();
  }

  /** @param {Line | DrawnLine} line */
  anew({ head }) {
    this.unseen.add(head);
    this.screen.unobserve(head);
    this.screen.observe(head); // tells once more where it is
  }

  /** @param {IntersectionObserverEntry[]} seen */
  read(seen) {
    for (const each of seen) if (each.isIntersecting) this.unseen.delete(each.target);
    this.offer();
  }

  /**
   * The items as they stand now with what of each waits in the queue.
   * @param {Map<string, Walk.Item>} items @param {(id: string) => Walk.Entry[]} queueOf
   */
  update(items, queueOf) {
    for (const line of this.lines) if (line.update(items, queueOf)) this.anew(line);
    for (const each of this.samples) each.update(items, queueOf);
    this.offer();
  }

  get folds() {
    return this.lines.flatMap((line) => line.folds);
  }

  /** Those that the card's OK would be of. */
  get waiting() {
    return this.folds.filter((fold) => fold.waits("card"));
  }

  get failed() {
    return this.samples.some((each) => each.state === "failed");
  }

  offer() {
    const { waiting } = this;
    const lacking = waiting.filter((fold) => lacksPhotograph(fold.item, fold.queue));
    const ticked = this.folds.filter((fold) => stateOf(fold.item, this.on.typed(fold.item.id), fold.queue) === "ticked");
    const reason = this.reason(lacking.length);
    put(this.all, { hidden: !waiting.length || this.failed, disabled: Boolean(reason), textContent: okWords(waiting.length) });
    put(this.all, { ariaLabel: `${CARDS[this.kind]}: ${this.all.textContent}` });
    put(this.why, { textContent: waiting.length ? reason : "" });
    put(this.wanted, { hidden: !waiting.length });
    put(this.camera.button, { hidden: !lacking.length });
    const [next] = lacking;
    if (next) this.photographed(next.item.title, lacking.length);
    put(this.told, { hidden: !ticked.length, textContent: say("OK given with this card: {n}", { n: ticked.length }) });
  }

  /** @param {string} title @param {number} n */
  photographed(title, n) {
    const words = say("Photo required: {title} ({n} left)", { title, n });
    put(this.photograph, { textContent: words });
    put(this.camera.input, { ariaLabel: words });
  }

  /**
   * Why the OK cannot be given yet; empty where it can.
   * @param {number} lacking
   */
  reason(lacking) {
    if (this.failed) return say("The sampled box is not OK: no OK for the whole card. Open each line and check it by itself.");
    if (this.unseen.size) return say("Lines not on screen yet: {n}. Scroll through the list first.", { n: this.unseen.size });
    if (lacking) return say("Required photos missing: {n}.", { n: lacking });
    const sampled = this.samples.find((each) => each.state === "wanted");
    if (sampled) return say("Box {box} first: close-up or measurement.", { box: sampled.sampled.box });
    return "";
  }

  /** @param {File} file */
  async shot(file) {
    const lacking = this.waiting.find((fold) => lacksPhotograph(fold.item, fold.queue));
    if (lacking) await this.on.shot(lacking.item, file);
  }

  confirm() {
    if (!this.all.disabled) this.on.confirm(this.waiting.map((fold) => fold.item), CARDS[this.kind], true);
  }
}
