// A line of the page of a job closed where it is read: the fact that settles it, recorded at once.
// @ts-check
import { fixForm } from "../fix/form.js";
import { placeAt } from "../fix/walls.js";
import { say } from "../say.js";

const KEPT = "studbay-corrected";

/**
 * @typedef {object} Correctable what can be corrected of a job, as `inspections/overview/correctable.py` writes it
 * @property {number} revision
 * @property {{ item: string, fixes: Fix.Fix[] }[]} lines
 * @property {Fix.Question[]} questions
 * @property {Record<string, Fix.Walls>} walls of each room, on the plan
 */

/**
 * @typedef {object} Answer
 * @property {"kept" | "confirm" | "refused"} state
 * @property {string} says
 * @property {string} [id]
 */

/** The lines of a job; each that is opened is offered what would close it. */
export class Fixing {
  /** @param {HTMLElement} lines @param {import("./plan.js").Plan | null} plan */
  constructor(lines, plan) {
    this.plan = plan;
    this.address = lines.dataset.fixes ?? "";
    this.send = lines.dataset.correct ?? "";
    this.imperial = lines.dataset.imperial === "true";
    /** @type {Promise<Correctable> | undefined} */
    this.asked = undefined;
    // A toggle does not bubble, so it is caught on its way down; a search puts other lines in the place of these.
    document.addEventListener("toggle", (event) => this.offer(/** @type {Element} */ (event.target)), true);
    for (const line of document.querySelectorAll("details.open-line[open]")) this.offer(line);
    this.offerUndo(lines);
  }

  /** What can be corrected; asked once, and again when that failed. @returns {Promise<Correctable>} */
  correctable() {
    this.asked ??= fetch(this.address).then((answer) => answer.json());
    return this.asked.catch(() => {
      this.asked = undefined;
      return { revision: 0, lines: [], questions: [], walls: {} };
    });
  }

  /** Put "Fixed" first in the card of an open line. @param {Element} line */
  async offer(line) {
    if (!(line instanceof HTMLDetailsElement) || !line.open) return;
    if (!line.matches("#lines .open-line[data-number]") || line.querySelector(":scope > .fixed")) return;
    const block = element("div", "fixed");
    line.querySelector("summary")?.after(block);
    const { revision, lines } = await this.correctable();
    const found = lines.find(({ item }) => line.id === `item-${item}`);
    if (!found) {
      block.remove();
      return;
    }
    const missing = found.fixes.every((fix) => fix.now === null && fix.kind !== "added");
    const start = button(missing ? say("Enter") : say("Fixed"), () => {
      start.remove();
      this.forms(block, found.fixes, revision);
    });
    start.className = "main";
    block.append(start);
  }

  /** @param {HTMLElement} block @param {Fix.Fix[]} fixes @param {number} revision */
  forms(block, fixes, revision) {
    const says = element("p", "fixed-says");
    says.setAttribute("role", "alert");
    for (const fix of fixes) {
      const record = (/** @type {Fix.Change} */ change) => this.record(says, revision, [change]);
      const tapped = this.plan ? () => this.place(fix, block) : undefined;
      block.append(fixForm(fix, { imperial: this.imperial, record, tapped }));
    }
    block.append(says);
    /** @type {HTMLElement | null} */ (block.querySelector("input, button"))?.focus();
  }

  /**
   * A place along a wall of the room, tapped on the plan; then back to the line.
   * @param {Fix.Fix} fix @param {HTMLElement} block
   */
  async place(fix, block) {
    const room = fix.to?.room ?? block.closest("details.room")?.getAttribute("data-room") ?? "";
    const { walls } = await this.correctable();
    const point = await this.plan?.nextTap(room);
    block.scrollIntoView({ block: "center" });
    return point ? placeAt(walls[room] ?? {}, point, this.imperial) : null;
  }

  /**
   * Record changes as one revision; what would withdraw a release is asked first.
   * @param {HTMLElement} says @param {number} base @param {Fix.Change[]} changes
   */
  async record(says, base, changes) {
    const sent = { id: crypto.randomUUID(), base, changes, made_at: new Date().toISOString() };
    const answer = await this.post(sent);
    says.replaceChildren(answer.says);
    if (answer.state === "kept") this.again(says, answer.id ?? "");
    if (answer.state !== "confirm") return;
    says.append(
      button(say("Record it and withdraw the release"), async () => {
        const second = await this.post({ ...sent, withdraws: true });
        says.replaceChildren(second.says);
        if (second.state === "kept") this.again(says, second.id ?? "");
      }),
    );
  }

  /** @param {object} sent @returns {Promise<Answer>} */
  async post(sent) {
    const token = /** @type {HTMLInputElement | null} */ (document.querySelector("[name=csrfmiddlewaretoken]"));
    const headers = { "Content-Type": "application/json", "X-CSRFToken": token?.value ?? "" };
    try {
      const answer = await fetch(this.send, { method: "POST", headers, body: JSON.stringify(sent) });
      return await answer.json();
    } catch {
      return { state: "refused", says: say("No signal. Nothing was recorded; try again.") };
    }
  }

  /** The page again, opened at the line, with a way to undo. @param {HTMLElement} says @param {string} id */
  again(says, id) {
    const line = says.closest("details.open-line");
    const room = says.closest("details.room");
    sessionStorage.setItem(KEPT, JSON.stringify({ id, send: this.send }));
    if (!line) return location.reload(); // an answer to a question: the questions that are left
    const query = new URLSearchParams({ room: room?.getAttribute("data-room") ?? "" });
    query.set("item", line.id.slice("item-".length));
    // An address that differs by what stands after # alone is not asked for again, so it is set, then reloaded.
    history.replaceState(null, "", `?${query}#${line.id}`);
    return location.reload();
  }

  /** Say that a correction was recorded, and undo it by one tap. @param {HTMLElement} lines */
  offerUndo(lines) {
    const kept = JSON.parse(sessionStorage.getItem(KEPT) ?? "null");
    sessionStorage.removeItem(KEPT);
    if (!kept || kept.send !== this.send) return;
    const says = element("p", "recorded");
    says.setAttribute("role", "status");
    const undo = button(say("Undo"), async () => {
      const answer = await this.post({ id: crypto.randomUUID(), undoes: kept.id });
      if (answer.state === "kept") location.reload();
      else says.replaceChildren(answer.says);
    });
    says.append(say("Recorded."), " ", undo);
    lines.prepend(says);
  }
}

/** @param {"div" | "p"} kind @param {string} name */
function element(kind, name) {
  const made = document.createElement(kind);
  made.className = name;
  return made;
}

/** @param {string} words @param {() => void} act */
function button(words, act) {
  const made = document.createElement("button");
  made.type = "button";
  made.textContent = words;
  made.addEventListener("click", act);
  return made;
}
