// The circuits of a job as they were pulled: as drawn by one tap, or box by box in the order they are fed.
import { say } from "../say.js";
import { confirmed } from "./consequence.js";
import { make, put } from "./elements.js";
import { REFUSED, WAITING } from "./store.js";

/** Under which name what the phone keeps of a circuit stands in its queue. @param {string} id */
export const keyOf = (id) => `circuit: ${id}`;

/** Hops in a row: P1 – R1 – R2; P1 – R5. @param {Walk.Hop[]} hops */
export function hopWords(hops) {
  /** @type {string[][]} */
  const rows = [];
  for (const [start, end] of hops) {
    const last = rows.at(-1);
    if (last?.at(-1) === start) last.push(end);
    else rows.push([start, end]);
  }
  return rows.map((row) => row.join(" – ")).join("; ");
}

/** A run that is being tapped: the next box is fed from the last one, or from one tapped again. */
export class Run {
  /** @param {string} panel */
  constructor(panel) {
    this.panel = panel;
    /** @type {Walk.Hop[]} */
    this.hops = [];
    this.from = panel;
  }

  /** @param {string} node */
  fed(node) {
    return node === this.panel || this.hops.some(([, end]) => end === node);
  }

  /** A box not fed yet is fed from where the run is; one that is fed is where the run goes on from. @param {string} node */
  tap(node) {
    if (!this.fed(node)) this.hops.push([this.from, node]);
    this.from = node;
  }

  back() {
    const last = this.hops.pop();
    if (last) this.from = last[0];
  }
}

/** One circuit: shut to its runs, opened to its boxes. */
class Circuit {
  words = make("span", { className: "check-words" });
  told = make("span", { className: "check-state" });
  says = make("p", { className: "fixed-says", role: "status" });
  ok = make("button", { type: "button", className: "line-ok", onclick: () => this.on.asDrawn([this.circuit]) }, say("As drawn"));
  own = make("div", { className: "parts" });
  others = make("details", {}, make("summary", {}, say("Other boxes")));
  back = make("button", { type: "button", onclick: () => this.act(() => this.run.back()) }, say("Undo last"));
  done = make("button", { type: "button", className: "main", onclick: () => this.give() }, say("Done: as tapped"));
  filled = false;

  /** @param {Walk.Circuit} circuit @param {Walk.Node[]} nodes @param {Walk.OnCircuits} on */
  constructor(circuit, nodes, on) {
    this.circuit = circuit;
    this.nodes = nodes;
    this.on = on;
    this.run = new Run(circuit.panel);
    const order = make("p", { className: "small" }, say("Tap the boxes in the order they are fed. Tap one again to branch from it."));
    this.fold = make("details", { ontoggle: () => this.fill() }, make("summary", {}, this.words, " ", this.told), order, this.says, this.own, make("div", { className: "row" }, this.back, this.done), this.others);
    this.element = make("li", {}, this.fold, this.ok);
    this.name = on.name(circuit);
    put(this.ok, { ariaLabel: say("As drawn: {title}", { title: circuit.label }) });
  }

  fill() {
    if (this.filled || !this.fold.open) return;
    this.filled = true;
    this.fold.append(this.name.element);
    const of = [...new Set(this.circuit.hops.flat())];
    this.own.append(...of.map((id) => this.node(id)));
    for (const room of new Set(this.nodes.map((node) => node.room))) {
      const here = this.nodes.filter((node) => node.room === room && !of.includes(node.id));
      if (here.length) this.others.append(make("p", { className: "small" }, room), make("div", { className: "parts" }, ...here.map(({ id }) => this.node(id))));
    }
    this.draw();
  }

  /** @param {string} id */
  node(id) {
    const made = make("button", { type: "button", onclick: () => this.act(() => this.run.tap(id)) }, id);
    made.dataset.node = id;
    return made;
  }

  /** @param {() => void} change */
  act(change) {
    change();
    this.draw();
  }

  draw() {
    const { hops } = this.run;
    put(this.says, { textContent: hops.length ? hopWords(hops) : "" });
    put(this.done, { disabled: !hops.length });
    put(this.back, { disabled: !hops.length });
    for (const button of this.element.querySelectorAll("[data-node]")) {
      button.setAttribute("aria-pressed", String(this.run.fed(/** @type {HTMLElement} */ (button).dataset.node ?? "")));
    }
  }

  /** @param {Walk.Circuit} circuit @param {Walk.Entry[]} queue */
  update(circuit, queue) {
    const other = hopWords(circuit.hops) !== hopWords(this.circuit.hops);
    this.circuit = circuit;
    if (other) this.run = new Run(circuit.panel);
    const last = queue.filter((entry) => entry.item === keyOf(circuit.id) || entry.item === circuit.item).at(-1);
    const pulled = last?.kind === "pulled" ? last : null;
    put(this.words, { textContent: `${circuit.label}: ${hopWords(pulled && last?.state === WAITING ? pulled.hops : circuit.hops)}` });
    put(this.told, { textContent: this.state(last) });
    this.name.update(circuit, queue);
    put(this.ok, { hidden: !circuit.item || Boolean(last && last.state !== REFUSED) || this.on.seen(circuit) });
  }

  /** @param {Walk.Entry | undefined} last */
  state(last) {
    if (last?.state === REFUSED) return say("Refused: {says}", { says: last.says });
    if (last) return last.state === WAITING ? say("not sent yet") : say("sent and saved");
    return this.on.seen(this.circuit) ? say("As drawn") : "";
  }

  give() {
    const { circuit, run } = this;
    if (hopWords(run.hops) === hopWords(circuit.hops)) return this.on.asDrawn([circuit]);
    /** @type {Walk.Pulled} */
    const given = { kind: "pulled", circuit: circuit.id, shown: circuit.hops, hops: run.hops, withdraws: Boolean(this.on.withdraws()) };
    return confirmed(this.on.withdraws(), this.fold, async () => {
      if (!(await this.on.pulled(circuit, given))) return;
      this.run = new Run(circuit.panel);
      this.fold.open = false;
      this.draw();
    });
  }
}

/** All circuits of a job, beneath its rooms. */
export class Circuits {
  /** @type {Map<string, Circuit>} */
  rows = new Map();
  list = make("ul", { className: "checks" });
  all = make("button", { type: "button", className: "all", onclick: () => this.confirm() });

  /** @param {HTMLElement} place @param {Walk.OnCircuits} on */
  constructor(place, on) {
    this.place = place;
    this.on = on;
    place.append(this.list, this.all);
  }

  /** @param {Walk.Job} data @param {Walk.Entry[]} queue */
  update({ circuits = [], nodes = [] }, queue) {
    for (const circuit of circuits) {
      const row = this.rows.get(circuit.id) ?? new Circuit(circuit, nodes, this.on);
      if (!this.rows.has(circuit.id)) this.list.append(row.element);
      this.rows.set(circuit.id, row);
      row.update(circuit, queue);
    }
    const n = this.waiting.length;
    put(this.all, { hidden: !n, textContent: say("All others as drawn ({n})", { n }) });
    put(this.place, { hidden: !circuits.length });
  }

  get waiting() {
    return [...this.rows.values()].filter((row) => !row.ok.hidden && !row.run.hops.length);
  }

  confirm() {
    this.on.asDrawn(this.waiting.map((row) => row.circuit));
  }
}
