// The page of a job: what an address points to is opened, and keys move through the lines.
// @ts-check
import { awake } from "../awake.js";
import { Fixing } from "./fixed.js";
import { all, only, openNumber } from "./lines.js";
import { Photographs } from "./photographs.js";
import { Plan } from "./plan.js";
import { askQuestions } from "./questions.js";

/** Open whatever folds the element that the address points to, and the element itself. */
function openTarget() {
  const id = decodeURIComponent(location.hash.slice(1));
  const target = id ? document.getElementById(id) : null;
  if (!target) return;
  for (let each = /** @type {Element | null} */ (target); each; each = each.parentElement) {
    if (each instanceof HTMLDetailsElement) each.open = true;
  }
  target.scrollIntoView({ block: "start" });
}

/** The summaries that j and k move through: rooms, and the lines of those that are open. */
function stops() {
  const every = document.querySelectorAll("#lines .room > summary, #lines .open-line > summary");
  return /** @type {HTMLElement[]} */ ([...every]).filter((each) => each.offsetParent !== null);
}

/** @param {number} step */
function move(step) {
  const every = stops();
  const at = every.indexOf(/** @type {HTMLElement} */ (document.activeElement));
  let next = at + step;
  if (at < 0) next = step > 0 ? 0 : every.length - 1;
  const summary = every[Math.max(0, Math.min(every.length - 1, next))];
  if (summary) {
    summary.focus();
    summary.scrollIntoView({ block: "nearest" });
  }
}

/** @param {KeyboardEvent} event */
function onKey(event) {
  const target = /** @type {HTMLElement} */ (event.target);
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  if (target.closest("input, textarea, select, [contenteditable]")) {
    if (event.key === "Escape") target.blur();
    return;
  }
  if (event.key === "/") {
    event.preventDefault();
    document.getElementById("search")?.focus();
  } else if (event.key === "j") {
    move(1);
  } else if (event.key === "k") {
    move(-1);
  }
}

/** A menu closes when somebody goes on elsewhere. @param {MouseEvent} event */
function closeMenu(event) {
  const menu = /** @type {HTMLDetailsElement | null} */ (document.querySelector(".menu[open]"));
  if (menu && !menu.contains(/** @type {Node} */ (event.target))) menu.open = false;
}

/** The plan, and the buttons that show one room alone or all again. */
function startPlan() {
  const box = /** @type {HTMLElement | null} */ (document.querySelector(".plan-box"));
  if (!box) return null;
  const plan = new Plan(box, ({ room, number, listed }) => {
    plan.goTo(room);
    const row = only(listed);
    if (row && number) openNumber(row, number);
  });
  new Photographs(box);
  document.addEventListener("click", (event) => {
    const target = /** @type {Element} */ (event.target);
    if (target.closest(".all-rooms")) {
      all();
      plan.whole();
    }
  });
  const room = new URLSearchParams(location.search).get("room");
  // Panzoom puts its element in its place a moment after it is made.
  if (room && only(room)) setTimeout(() => plan.goTo(room));
  return plan;
}

addEventListener("hashchange", openTarget);
document.addEventListener("keydown", onKey);
document.addEventListener("click", closeMenu);
// Once htmx listens: what is opened before asks for nothing.
document.addEventListener("DOMContentLoaded", () => {
  const plan = startPlan();
  openTarget();
  const lines = document.getElementById("lines");
  if (lines) startFixing(new Fixing(lines, plan));
  awake();
});
// Lines that were searched for come with a button of their own.
document.addEventListener("htmx:load", () => awake());

/** What is missing is asked above its lines, now or once they are chosen. @param {Fixing} fixing */
function startFixing(fixing) {
  askQuestions(fixing);
  document.addEventListener("htmx:load", () => askQuestions(fixing));
}
