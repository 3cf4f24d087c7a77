// What would finish the house, each to be taken or left.
import { say } from "../say.js";
import { $ } from "./elements.js";
import { element } from "./form.js";

/** @type {Record<string, string>} */
const PROPOSED = {
  outdoors: say("outdoors"), receptacles: say("receptacles"), lights: say("lights"), alarms: say("alarms"),
  circuits: say("circuits"), cables: say("cables"), boxes: say("boxes"),
};

/**
 * Show what is proposed; `take` is called with the house once that is wanted as it stands, `again`
 * with what is left out once that is otherwise.
 * @param {Draw.Finished} answer @param {string[]} leftOut
 * @param {{ take: (house: House.Given) => void, again: (leftOut: string[]) => unknown }} on
 */
export function proposed(answer, leftOut, { take, again }) {
  const list = $("proposals");
  list.replaceChildren(...lines(answer, leftOut));
  $("propose").showModal();
  $("take").onclick = async () => {
    const now = unticked(list);
    const same = now.length === leftOut.length && now.every((key) => leftOut.includes(key));
    $("propose").close();
    if (same) take(answer.house);
    else await again(now);
  };
  const retold = () => {
    const same = unticked(list).length === leftOut.length;
    $("take").textContent = same ? say("Add selected items") : say("Recalculate with the selected items");
  };
  list.onchange = retold;
  retold();
}

/** @param {HTMLElement} list */
const unticked = (list) =>
  [...list.querySelectorAll("input")].filter((box) => !box.checked).map((box) => box.value);

/** @param {Draw.Finished} answer @param {string[]} leftOut */
function* lines(answer, leftOut) {
  let kind = "";
  for (const [index, each] of answer.proposals.entries()) {
    if (each.kind !== kind) yield element("h3", {}, PROPOSED[each.kind]);
    kind = each.kind;
    yield line(each, `p${index}`, !leftOut.includes(each.key));
  }
  for (const each of answer.unsolved) {
    yield element("p", {}, say("{kind}, {place}: nothing proposed, {why}", { kind: PROPOSED[each.kind], place: each.for, why: each.why }));
  }
  for (const each of answer.not_to_code) yield element("p", { class: "not_to_code" }, say("Still not to code: {where}: {says}", { ...each }));
  if (!answer.proposals.length) yield element("p", {}, say("Nothing to propose."));
}

/** @param {Draw.Proposal} each @param {string} id @param {boolean} ticked */
function line(each, id, ticked) {
  const box = element("input", { type: "checkbox", value: each.key, id });
  box.checked = ticked;
  const label = element("label", { for: id }, element("b", {}, each.for), ` ${each.says}`);
  return element("p", { class: "proposal" }, box, label, element("small", {}, each.proof));
}
