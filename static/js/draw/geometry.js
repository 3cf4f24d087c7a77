// Where walls lie on the sheet: x east, y down the sheet (a house counts north upwards).

const RAD = Math.PI / 180;

/**
 * Each wall of a room: its left end, which way it runs, which way is into the room.
 * @param {House.Walls} room
 * @returns {Draw.Side[]}
 */
export function sides(room) {
  let x = room.x_mm ?? 0, y = -(room.y_mm ?? 0), heading = room.heading_deg ?? 90;
  return (room.walls ?? []).map((wall) => {
    /** @type {House.Point} */
    const along = [Math.sin(heading * RAD), -Math.cos(heading * RAD)];
    /** @type {Draw.Side} */
    const side = { wall, left: [x, y], along, inward: [-along[1], along[0]] };
    x += along[0] * wall.length_mm;
    y += along[1] * wall.length_mm;
    heading += wall.turn_deg ?? 90;
    return side;
  });
}

/**
 * @param {Draw.Side} side @param {number} distance
 * @returns {House.Point}
 */
export const at = (side, distance, off = 0) => [
  side.left[0] + side.along[0] * distance + side.inward[0] * off,
  side.left[1] + side.along[1] * distance + side.inward[1] * off,
];

/** @param {House.Walls} room */
export const corners = (room) => sides(room).map((side) => side.left);

/** @param {House.Walls} room @param {House.Point} point */
export function inside(room, [x, y]) {
  const points = corners(room);
  let within = false;
  points.forEach(([ax, ay], index) => {
    const [bx, by] = points[(index + 1) % points.length];
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) within = !within;
  });
  return within;
}

/**
 * @param {House.Walls} room
 * @returns {House.Point}
 */
export function middle(room) {
  const points = corners(room);
  const sum = points.reduce(([a, b], [x, y]) => [a + x, b + y], [0, 0]);
  return points.length ? [sum[0] / points.length, sum[1] / points.length] : [0, 0];
}

/**
 * The wall nearest to a point among those of some rooms, and how far along it that is.
 * Of two walls that stand back to back, the one whose room the point is in.
 * @param {House.Room[]} rooms @param {House.Point} point @param {number} reach
 * @returns {Draw.NearWall | null}
 */
export function nearestWall(rooms, point, reach) {
  /** @type {Draw.NearWall | null} */
  let best = null;
  for (const room of rooms) {
    for (const side of sides(room)) {
      const dx = point[0] - side.left[0], dy = point[1] - side.left[1];
      const along = dx * side.along[0] + dy * side.along[1];
      const off = dx * side.inward[0] + dy * side.inward[1];
      const beyond = Math.max(-along, along - side.wall.length_mm, 0);
      const away = Math.hypot(off, beyond) + (off < 0 ? 60 : 0);
      if (away <= reach && (!best || away < best.away)) {
        const clamped = Math.min(Math.max(along, 0), side.wall.length_mm);
        best = { room, side, wall: side.wall, along: clamped, off, away };
      }
    }
  }
  return best;
}

/**
 * Walls for a room with these corners, clockwise as seen from above, and where the first begins.
 * @param {House.Point[]} points
 */
export function wallsOf(points) {
  let ring = points;
  const area = ring.reduce((sum, [ax, ay], index) => {
    const [bx, by] = ring[(index + 1) % ring.length];
    return sum + (bx - ax) * (by + ay);
  }, 0);
  if (area > 0) ring = [ring[0], ...ring.slice(1).reverse()];
  const legs = ring.map(([ax, ay], index) => {
    const [bx, by] = ring[(index + 1) % ring.length];
    return { length: Math.hypot(bx - ax, by - ay), heading: Math.atan2(bx - ax, ay - by) / RAD };
  });
  const walls = legs.map((leg, index) => {
    const next = legs[(index + 1) % legs.length];
    let turn = next.heading - leg.heading;
    while (turn > 180) turn -= 360;
    while (turn <= -180) turn += 360;
    return { id: `w${index + 1}`, length_mm: round(leg.length), turn_deg: round(turn) };
  });
  return { x_mm: round(ring[0][0]), y_mm: round(-ring[0][1]), heading_deg: round(legs[0].heading), walls };
}

/** @param {number} value */
export const round = (value) => Math.round(value * 1000) / 1000;

/**
 * @param {House.Walls[]} rooms
 * @returns {Draw.Frame}
 */
export function bounds(rooms) {
  const points = rooms.flatMap(corners);
  if (!points.length) return { x: -500, y: -500, width: 12000, height: 8000 };
  const xs = points.map(([x]) => x), ys = points.map(([, y]) => y);
  const x = Math.min(...xs) - 1200, y = Math.min(...ys) - 1200;
  return { x, y, width: Math.max(...xs) + 1200 - x, height: Math.max(...ys) + 1200 - y };
}
