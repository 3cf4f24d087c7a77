// The lines of a job beside its plan: one room by itself, or all of them.
// @ts-check

const LINES = "lines";

/** @param {string} room @returns {HTMLDetailsElement[]} the rows of a room, one for each stage */
function rows(room) {
  return [...document.querySelectorAll(`#lines details.room[data-room="${CSS.escape(room)}"]`)].map(
    (each) => /** @type {HTMLDetailsElement} */ (each),
  );
}

/** Show one room alone, opened; its lines come while it opens. @param {string} room */
export function only(room) {
  const [row] = rows(room);
  const lines = document.getElementById(LINES);
  if (!row || !lines) return null;
  none(lines);
  lines.classList.add("one-room");
  for (let each = /** @type {Element | null} */ (row); each && each !== lines; each = each.parentElement) {
    each.classList.add("only");
  }
  row.open = true;
  return row;
}

/** Show every room again. */
export function all() {
  document.getElementById(LINES)?.classList.remove("one-room");
  none(document);
}

/** No room is shown alone, nor what it stands in. @param {ParentNode} within */
function none(within) {
  for (const each of within.querySelectorAll(".only")) each.classList.remove("only");
}

/**
 * Open the line of a number in a room, once its lines are there.
 * @param {HTMLDetailsElement} row
 * @param {string} number
 */
export function openNumber(row, number) {
  const open = () => {
    const line = row.querySelector(`details[data-number="${number}"]`);
    if (!(line instanceof HTMLDetailsElement)) return false;
    line.open = true;
    line.scrollIntoView({ block: "nearest" });
    return true;
  };
  if (!open()) row.addEventListener("htmx:afterSettle", open, { once: true });
}
