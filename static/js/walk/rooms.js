// The rooms of a job in the list at the top, with what each has left, and how far the walk has come.
import { say } from "../say.js";
import { at } from "./at.js";
import { lastTick, left } from "./checks.js";
import { waitingFix } from "./fixed.js";

/** @param {Walk.Room} each */
export const keyOf = (each) => `${each.name}\n${each.area}`;

/**
 * How many cards of a room wait for an answer, and how many of its lines are to be fixed.
 * @param {Walk.Room} each @param {Walk.Entry[]} queue
 */
export function cardsLeft(each, queue) {
  const cards = new Set();
  let toFix = 0;
  for (const item of each.items) {
    const mine = queue.filter((entry) => entry.item === item.id);
    if (item.first && lastTick(mine)?.outcome !== "ok" && !waitingFix(mine)?.ok) toFix += 1;
    else if (left(item, mine)) cards.add(item.card);
  }
  return { cards: cards.size, toFix };
}

/** @param {{ cards: number, toFix: number }} counted */
function leftWords({ cards, toFix }) {
  const words = [];
  if (cards) words.push(say("{n} to check", { n: cards }));
  if (toFix) words.push(say("{n} to fix", { n: toFix }));
  return words.join(", ") || say("done");
}

/** @param {Walk.Room[]} rooms @param {Walk.Entry[]} queue @param {Walk.Room | undefined} current */
export function drawRooms(rooms, queue, current) {
  const options = at("room").options;
  const counts = rooms.map((each) => cardsLeft(each, queue));
  rooms.forEach((each, number) => {
    const words = `${each.name} (${leftWords(counts[number])})`;
    if (!options[number]) at("room").add(new Option());
    if (options[number].text !== words) options[number].text = words;
    options[number].value = keyOf(each);
  });
  options.length = rooms.length;
  if (!current) return;
  at("room").value = keyOf(current);
  const number = rooms.indexOf(current);
  at("before").disabled = number === 0;
  at("after").disabled = number === rooms.length - 1;
  const checked = counts.filter((each) => !each.cards).length;
  const words = say("{n} of {all}; checked: {checked}", { n: number + 1, all: rooms.length, checked });
  if (at("progress").textContent !== words) at("progress").textContent = words;
  at("bar").max = rooms.length;
  at("bar").value = checked;
}
