// The sample of a room: a box that a close-up or a tape shows before the OK of its card.
import { lastTick } from "./checks.js";
import { REFUSED } from "./store.js";

/**
 * "wanted" until there is a close-up or a figure of the box, "failed" once something of it is to be
 * fixed: then every box of the room is checked by itself.
 * @param {Walk.Sampled} sampled @param {Map<string, Walk.Item>} items @param {(id: string) => Walk.Entry[]} queueOf
 * @returns {"wanted" | "ok" | "failed"}
 */
export function sampleState(sampled, items, queueOf) {
  const own = sampled.items.filter((id) => items.has(id));
  const tape = sampled.measured ? [sampled.measured] : [];
  /** @param {string} id */
  const outcome = (id) => lastTick(queueOf(id))?.outcome ?? items.get(id)?.latest?.outcome;
  if ([...own, ...tape].some((id) => outcome(id) === "fix")) return "failed";
  if (own.some((id) => shown(items.get(id), queueOf(id)))) return "ok";
  return tape.some((id) => figure(items.get(id), queueOf(id))) ? "ok" : "wanted";
}

/** @param {Walk.Item | undefined} item @param {Walk.Entry[]} queue */
function shown(item, queue) {
  return Boolean(item?.photographed) || queue.some((entry) => entry.kind === "photograph" && entry.state !== REFUSED);
}

/** @param {Walk.Item | undefined} item @param {Walk.Entry[]} queue */
function figure(item, queue) {
  const mine = lastTick(queue);
  if (mine) return mine.measured_mm !== null;
  return typeof item?.latest?.measured_mm === "number";
}
