// How a line stands on the phone: whether its card's OK is of it, and what is answered by itself.
import { say } from "../say.js";
import { REFUSED, WAITING } from "./store.js";

/** @type {Record<Walk.Outcome, string>} Answers, in the order of their buttons: another one is added here. */
export const WORDS = { ok: say("OK"), fix: say("Fix"), cant_see: say("Can't see"), na: say("N/A") };
export const OUTCOMES = /** @type {Walk.Outcome[]} */ (Object.keys(WORDS));

/**
 * How an OK is given to an item that waits for one: with its card, at its own line, or not at all. A
 * job that was kept before knows only what is as drawn.
 * @param {Walk.Item} item
 * @returns {Walk.Check}
 */
export const checkOf = (item) => item.check ?? (item.as_drawn ? "card" : "");

/** @param {Walk.Entry} entry */
export const ofRoom = (entry) => entry.kind === "tick" && entry.given === "room";

/**
 * Whether somebody answers an item by itself: typed at it, or gave anything else than its card's OK.
 * @param {Walk.Fields} typed @param {Walk.Entry[]} queue
 */
function byItself(typed, queue) {
  if (typed.note || typed.measured || typed.from_left || typed.height) return true;
  return queue.some((entry) => !withCard(entry) || entry.state === REFUSED || entry.state === "contested");
}

/** @param {Walk.Entry} entry */
const withCard = (entry) => ofRoom(entry) || entry.kind === "photograph";

/**
 * How an item is: "waiting" for the OK of its card or line, "ticked" by that, "confirmed" by the
 * site, or "apart", answered by itself.
 * @param {Walk.Item} item @param {Walk.Fields} typed @param {Walk.Entry[]} queue
 * @returns {"waiting" | "ticked" | "confirmed" | "apart"}
 */
export function stateOf(item, typed, queue) {
  if (byItself(typed, queue)) return "apart";
  if (queue.some((entry) => ofRoom(entry) && entry.state !== "stale")) return "ticked";
  if (checkOf(item)) return "waiting";
  return item.standing === "ok" && item.latest?.outcome !== "na" ? "confirmed" : "apart";
}

/**
 * Whether the shop wants a photograph of an item first, and nobody has taken one.
 * @param {Walk.Item} item @param {Walk.Entry[]} queue
 */
export function lacksPhotograph(item, queue) {
  return Boolean(item.photograph_first) && !queue.some((entry) => entry.kind === "photograph" && entry.state !== REFUSED);
}

/**
 * The last answer that the phone still has of an item, but for one that counts for nothing.
 * @param {Walk.Entry[]} queue
 */
export function lastTick(queue) {
  const ticks = /** @type {Walk.Entry<Walk.Tick>[]} */ (queue.filter((entry) => entry.kind === "tick"));
  return ticks.filter((entry) => entry.state !== REFUSED && entry.state !== "stale").at(-1);
}

/**
 * Whether an item waits for an answer that an OK could be.
 * @param {Walk.Item} item @param {Walk.Entry[]} queue
 */
export function left(item, queue) {
  if (lastTick(queue)) return false;
  return Boolean(checkOf(item)) || (item.verdict === "verify" && item.standing === "open");
}

/**
 * An item in a word or two, where its line is shut.
 * @param {Walk.Item} item @param {Walk.Fields} typed @param {Walk.Entry[]} queue
 */
export function inShort(item, typed, queue) {
  const mine = lastTick(queue);
  if (mine) return `${WORDS[mine.outcome]}, ${mine.state === WAITING ? say("not sent yet") : say("sent and saved")}`;
  const state = stateOf(item, typed, queue);
  if (state === "waiting" || queue.some((entry) => entry.kind === "fix")) return "";
  if (state === "confirmed") return item.latest ? say("OK on site") : say("OK on plan");
  if (item.latest) return WORDS[item.latest.outcome] ?? "";
  return item.first ? "" : say("By itself");
}

/**
 * The items under the title of their rule, in the order in which the titles first come.
 * @param {Walk.Item[]} items
 * @returns {Map<string, Walk.Item[]>}
 */
export function byTitle(items) {
  /** @type {Map<string, Walk.Item[]>} */
  const found = new Map();
  for (const item of items) found.set(item.title, [...(found.get(item.title) ?? []), item]);
  return found;
}
