// What is confirmed as drawn together with its room, and what of it is answered by itself.
import { REFUSED } from "./store.js";

/**
 * Whether somebody answers an item on its own card: took it out of what is as drawn, typed at it or
 * gave anything else than the tick of the whole room.
 * @param {Walk.Fields} typed @param {Walk.Entry[]} queue
 */
function byItself(typed, queue) {
  if (typed.apart || typed.note || typed.measured || typed.from_left || typed.height) return true;
  return queue.some((entry) => !ofRoom(entry) || entry.state === REFUSED || entry.state === "contested");
}

/** @param {Walk.Entry} entry */
export const ofRoom = (entry) => entry.kind === "tick" && entry.given === "room";

/**
 * How an item is at what is as drawn in its room: "waiting" for the tick of the room, "ticked" by it,
 * "confirmed" by the site, or "apart", answered by its own card.
 * @param {Walk.Item} item @param {Walk.Fields} typed @param {Walk.Entry[]} queue
 * @returns {"waiting" | "ticked" | "confirmed" | "apart"}
 */
export function stateOf(item, typed, queue) {
  if (byItself(typed, queue)) return "apart";
  if (queue.some((entry) => entry.state !== "stale")) return "ticked";
  if (item.as_drawn) return "waiting";
  return item.standing === "ok" && item.latest?.outcome !== "na" ? "confirmed" : "apart";
}

/**
 * Whether an item is one of the room's tick and needs no card of its own.
 * @param {Walk.Item} item @param {Walk.Fields} typed @param {Walk.Entry[]} queue
 */
export function together(item, typed, queue) {
  return Boolean(item.as_drawn) && stateOf(item, typed, queue) !== "apart";
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
