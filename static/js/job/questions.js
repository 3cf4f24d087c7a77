// What is missing in the house of a job, asked above the lines that wait for it.
// @ts-check
import { questionForm } from "../fix/questions.js";
import { make } from "../walk/elements.js";

/**
 * Put the questions where the page has a place for them; again when that place is another.
 * @param {import("./fixed.js").Fixing} fixing
 */
export async function askQuestions(fixing) {
  const place = document.getElementById("questions");
  if (!place || place.dataset.asked) return;
  place.dataset.asked = "yes";
  const { revision, questions } = await fixing.correctable();
  const says = make("p", { className: "fixed-says", role: "alert" });
  for (const question of questions) {
    const record = (/** @type {Fix.Change[]} */ changes) => fixing.record(says, revision, changes);
    place.append(questionForm(question, { imperial: fixing.imperial, record }));
  }
  place.append(says);
  place.hidden = !questions.length;
}
