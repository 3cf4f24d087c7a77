// One item of a checklist with its three answers, its tape and its camera.
import { language, say } from "../say.js";
import { WAITING, REFUSED } from "./store.js";
import { confirmed } from "./consequence.js";

const WORDS = { pass: say("Good"), fail: say("Mend"), absent: say("Not here") };
const STATES = {
  [WAITING]: say("not yet safe on the server"),
  kept: say("safe on the server"),
  stale: say("safe on the server, and does not count"),
  contested: say("safe on the server, and contested"),
  [REFUSED]: say("refused"),
};

const KINDS = { photograph: say("Photograph"), correction: say("Stands elsewhere") };

export const said = (given) => KINDS[given.kind] ?? WORDS[given.outcome];

function make(tag, given = {}, ...inside) {
  const { data = {}, ...rest } = given;
  const element = Object.assign(document.createElement(tag), rest);
  Object.assign(element.dataset, data);
  element.append(...inside.filter((each) => each !== null && each !== undefined));
  return element;
}

const clock = (time) =>
  new Date(time).toLocaleString(language, { month: "short", day: "numeric", hour: "2-digit", minute: "2-digit" });

export function card(item, queue, answer, dismiss) {
  const mine = queue.filter((entry) => entry.kind === "tick").at(-1);
  const counts = item.verdict === "look" || item.verdict === "meets";
  return make(
    "article",
    { className: "card", id: `item-${item.id}`, data: { standing: item.standing } },
    make("h3", {}, item.title),
    make("p", { className: "where" }, item.where),
    make("p", {}, item.says),
    item.limit ? make("p", { className: "limit" }, say("asked: "), make("b", {}, item.limit)) : null,
    counts ? null : make("p", { className: "do" }, say("To do: {remedy}", { remedy: item.remedy })),
    ...item.contest.map((seen) => look(say("Seen otherwise"), seen)),
    item.latest && !item.contest.length ? look(say("Seen"), item.latest) : null,
    ...queue.map((entry) => line(entry, dismiss)),
    answers(item, counts, mine, answer),
    item.box ? elsewhere(item, answer) : null,
    working(item),
  );
}

function look(word, seen) {
  const tape = seen.measured_mm === null ? "" : `, ${seen.measured_mm} mm`;
  const note = seen.note ? `: ${seen.note}` : "";
  return make("p", { className: "small" }, `${word}: ${WORDS[seen.outcome]}${tape}, ${seen.by}, ${clock(seen.at)}${note}`);
}

function line(entry, dismiss) {
  const words = `${said(entry)}, ${clock(entry.made_at)}: ${STATES[entry.state]}. ${entry.says}`;
  const refused = entry.state === REFUSED;
  const button = refused ? make("button", { type: "button", onclick: () => dismiss(entry) }, say("I have read it")) : null;
  return make("p", { className: "entry-state", data: { state: entry.state } }, words, button);
}

function answers(item, counts, mine, answer) {
  const note = make("input", { maxLength: 500, ariaLabel: say("Note on {title}", { title: item.title }), placeholder: say("note") });
  const tape = make("input", {
    type: "number", min: "0", max: "1000000", step: "any", inputMode: "decimal",
    ariaLabel: say("Measured, in mm, of {title}", { title: item.title }), placeholder: "mm",
  });
  const give = (outcome) => (event) => {
    if (!tape.reportValidity()) return;
    const measured = tape.value === "" ? null : Number(tape.value);
    const keep = () => answer(item, { kind: "tick", outcome, note: note.value, measured_mm: measured });
    const follows = outcome === "pass" ? "" : item.withdraws;
    confirmed(follows, event.currentTarget.closest(".answers"), keep);
  };
  const buttons = Object.entries(WORDS).map(([outcome, word]) =>
    make("button", {
      type: "button", className: outcome, disabled: outcome === "pass" && !counts,
      ariaPressed: String(mine?.outcome === outcome), onclick: give(outcome),
    }, word),
  );
  const camera = make("input", {
    type: "file", accept: "image/jpeg,image/png,image/webp",
    ariaLabel: say("Photograph of {title}", { title: item.title }),
    onchange: async (event) => {
      for (const file of event.target.files) {
        answer(item, { kind: "photograph", bytes: await file.arrayBuffer(), type: file.type });
      }
    },
  });
  camera.setAttribute("capture", "environment");
  return make(
    "div", { className: "answers" },
    make("div", { className: "row" }, tape, note),
    make("div", { className: "three" }, ...buttons),
    make("label", { className: "button camera" }, item.photographs ? say("Photograph ({n} there)", { n: item.photographs }) : say("Photograph"), camera),
  );
}

// Where the box really stands: from the left end of its wall, and how high.
function elsewhere(item, answer) {
  const field = (word, value) => make("input", {
    type: "number", min: "0", max: "1000000", step: "any", inputMode: "decimal",
    ariaLabel: say("{word}, in mm, of box {box}", { word, box: item.box.id }), placeholder: `${word}: ${value ?? say("not measured")}`,
  });
  const along = field(say("from the left end"), item.box.at_mm), up = field(say("up"), item.box.height_mm);
  const give = () => {
    along.required = true;
    if (!along.reportValidity() || !up.reportValidity()) return;
    const height = up.value === "" ? null : Number(up.value);
    answer(item, { kind: "correction", box: item.box.id, at_mm: Number(along.value), height_mm: height, note: "" });
  };
  return make(
    "details", {},
    make("summary", {}, say("It stands elsewhere")),
    make("p", { className: "small" }, say("The house says: wall {wall}, {at} mm from its left end.", { wall: item.box.wall, at: item.box.at_mm })),
    make("div", { className: "row" }, along, up),
    make("button", { type: "button", onclick: give }, say("Tell the office")),
  );
}

function working(item) {
  const known = { memory: say(" (limit from memory, not read in a source)"), practice: say(" (common practice, no source)") };
  return make(
    "details", {},
    make("summary", {}, say("Working")),
    make("ul", {}, ...item.working.map((step) => make("li", {}, step))),
    make("p", {}, `${item.edition} ${item.section}${known[item.known] || ""}`),
  );
}
