// A tap on the plan as a place along the nearest wall of a room.
import { lengthWords } from "../lengths.js";
import { language, say } from "../say.js";

const STEP = 10; // mm; a finger on a plan is no finer

/**
 * How far along a wall a point is, and how far off it.
 * @param {[number, number, number, number]} ends @param {{ x: number, y: number }} point
 */
function alongWall([ax, ay, bx, by], { x, y }) {
  const length = Math.hypot(bx - ax, by - ay) || 1;
  const [ux, uy] = [(bx - ax) / length, (by - ay) / length];
  const along = Math.max(0, Math.min(length, (x - ax) * ux + (y - ay) * uy));
  return { along, off: Math.hypot(x - ax - ux * along, y - ay - uy * along) };
}

/**
 * The place that a point of the plan stands for; null in a room without walls.
 * @param {Fix.Walls} walls @param {{ x: number, y: number }} point @param {boolean} imperial
 * @returns {Fix.Tapped | null}
 */
export function placeAt(walls, point, imperial) {
  const found = Object.entries(walls).map(([wall, ends]) => ({ wall, ...alongWall(ends, point) }));
  const [nearest] = found.sort((a, b) => a.off - b.off);
  if (!nearest) return null;
  const at_mm = Math.round(nearest.along / STEP) * STEP, { wall } = nearest;
  const says = say("wall {wall}, {at} from its left end", { wall, at: lengthWords(at_mm, { language, imperial }) });
  return { at: { surface: "wall", wall, at_mm }, says };
}
