// To the next room or the one before: by a sweep of a finger or an arrow key.
const FAR = 80; // pixels
const SLOW = 800; // milliseconds
const FIELDS = "input, select, textarea";

/**
 * @param {HTMLElement} place @param {(by: number) => void} step
 */
export function turning(place, step) {
  /** @type {{ x: number, y: number, at: number } | null} */
  let from = null;
  place.addEventListener("touchstart", (event) => {
    const [finger] = event.touches;
    const alone = event.touches.length === 1 && !inField(event.target);
    from = alone ? { x: finger.clientX, y: finger.clientY, at: event.timeStamp } : null;
  }, { passive: true });
  place.addEventListener("touchend", (event) => {
    const [finger] = event.changedTouches;
    if (!from || event.timeStamp - from.at > SLOW) return;
    const across = finger.clientX - from.x, down = finger.clientY - from.y;
    from = null;
    if (Math.abs(across) > FAR && Math.abs(across) > 2 * Math.abs(down)) step(across < 0 ? 1 : -1);
  }, { passive: true });
  document.addEventListener("keydown", (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey || inField(event.target)) return;
    if (event.key === "ArrowRight") step(1);
    if (event.key === "ArrowLeft") step(-1);
  });
}

/** @param {EventTarget | null} target */
const inField = (target) => target instanceof HTMLElement && Boolean(target.closest(FIELDS));
