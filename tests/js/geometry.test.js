// Where walls lie on the sheet.
import assert from "node:assert/strict";
import { describe, test } from "node:test";
import fc from "fast-check";

const { at, bounds, corners, inside, middle, nearestWall, sides, wallsOf } = await import("../../static/js/draw/geometry.js");
const apart = ([ax, ay], [bx, by]) => Math.hypot(ax - bx, ay - by);
const near = (a, b, by = 0.1) => assert.ok(apart(a, b) <= by, `${a} is not ${b}`);

// Corners around a middle at growing angles: no two walls cross, and a room has three to eight.
const ring = fc
  .tuple(fc.integer({ min: 3, max: 8 }), fc.array(fc.integer({ min: 1000, max: 6000 }), { minLength: 8, maxLength: 8 }), fc.integer(), fc.integer())
  .map(([count, reach, x, y]) =>
    Array.from({ length: count }, (_, n) => {
      const angle = (2 * Math.PI * n) / count;
      return [(x % 50_000) + reach[n] * Math.cos(angle), (y % 50_000) + reach[n] * Math.sin(angle)];
    }));
const rectangle = fc
  .tuple(fc.integer({ min: -40_000, max: 40_000 }), fc.integer({ min: -40_000, max: 40_000 }), fc.integer({ min: 300, max: 9000 }), fc.integer({ min: 300, max: 9000 }))
  .map(([x, y, width, height]) => [[x, y], [x + width, y], [x + width, y + height], [x, y + height]]);
const roomOf = (points, id = "r") => ({ id, name: id, ...wallsOf(points) });

describe("the walls of drawn corners", () => {
  test("stand on those corners, and close", () => {
    fc.assert(fc.property(ring, (points) => {
      const room = roomOf(points);
      const found = corners(room);
      assert.equal(found.length, points.length);
      for (const point of points) assert.ok(found.some((corner) => apart(corner, point) < 0.5), "a corner is nowhere");
      const last = sides(room).at(-1);
      near(at(last, last.wall.length_mm), found[0], 0.5);
    }));
  });

  test("turn one whole turn to the right, whichever way the corners were drawn", () => {
    fc.assert(fc.property(ring, fc.boolean(), (points, backwards) => {
      const { walls } = wallsOf(backwards ? [...points].reverse() : points);
      near([walls.reduce((sum, wall) => sum + wall.turn_deg, 0), 0], [360, 0]);
    }));
  });

  test("have ids of their own, and begin where the first corner is", () => {
    fc.assert(fc.property(ring, (points) => {
      const { x_mm, y_mm, walls } = wallsOf(points);
      near([x_mm, -y_mm], points[0]);
      assert.equal(new Set(walls.map((wall) => wall.id)).size, points.length);
    }));
  });

  test("a rectangle has four right turns and its own lengths", () => {
    const { walls, heading_deg } = wallsOf([[0, 0], [4000, 0], [4000, 3000], [0, 3000]]);
    assert.deepEqual(walls.map((wall) => [wall.length_mm, wall.turn_deg]), [[4000, 90], [3000, 90], [4000, 90], [3000, 90]]);
    assert.equal(heading_deg, 90);
  });
});

describe("inside", () => {
  test("a step in from any wall of a rectangle is inside, a step out is not", () => {
    fc.assert(fc.property(rectangle, fc.double({ min: 0.1, max: 0.9, noNaN: true }), (points, share) => {
      const room = roomOf(points);
      for (const side of sides(room)) {
        assert.ok(inside(room, at(side, side.wall.length_mm * share, 10)));
        assert.ok(!inside(room, at(side, side.wall.length_mm * share, -10)));
      }
      assert.ok(inside(room, middle(room)));
    }));
  });

  test("a room without walls has no inside, and its middle is nowhere in particular", () => {
    assert.equal(inside({}, [0, 0]), false);
    assert.deepEqual(middle({}), [0, 0]);
  });

  test("an alcove of an L is outside", () => {
    const room = roomOf([[0, 0], [4000, 0], [4000, 2000], [2000, 2000], [2000, 4000], [0, 4000]]);
    assert.ok(inside(room, [1000, 3000]));
    assert.ok(!inside(room, [3000, 3000]));
  });
});

describe("the nearest wall", () => {
  test("is the one that a point was put against, as far along it", () => {
    fc.assert(fc.property(rectangle, fc.nat(3), fc.double({ min: 0.2, max: 0.8, noNaN: true }), (points, index, share) => {
      const room = roomOf(points), side = sides(room)[index];
      const found = nearestWall([room], at(side, side.wall.length_mm * share, 20), 100);
      assert.equal(found.wall.id, side.wall.id);
      near([found.along, found.off], [side.wall.length_mm * share, 20]);
    }));
  });

  test("is along the wall, never beyond its ends, and within reach", () => {
    fc.assert(fc.property(ring, fc.integer({ min: -9000, max: 9000 }), fc.integer({ min: -9000, max: 9000 }), (points, dx, dy) => {
      const found = nearestWall([roomOf(points)], [points[0][0] + dx, points[0][1] + dy], 3000);
      if (!found) return;
      assert.ok(found.along >= 0 && found.along <= found.wall.length_mm);
      assert.ok(found.away <= 3000);
    }));
  });

  test("of two back to back is that of the room which the point is in", () => {
    const left = roomOf([[0, 0], [3000, 0], [3000, 3000], [0, 3000]], "left");
    const right = roomOf([[3000, 0], [6000, 0], [6000, 3000], [3000, 3000]], "right");
    assert.equal(nearestWall([left, right], [2990, 1500], 100).room.id, "left");
    assert.equal(nearestWall([left, right], [3010, 1500], 100).room.id, "right");
    assert.equal(nearestWall([right, left], [2990, 1500], 100).room.id, "left");
  });

  test("is none out of reach, nor of no rooms", () => {
    assert.equal(nearestWall([roomOf([[0, 0], [3000, 0], [3000, 3000], [0, 3000]])], [1500, 1500], 500), null);
    assert.equal(nearestWall([], [0, 0], 500), null);
  });
});

describe("the frame", () => {
  test("holds every corner with a margin", () => {
    fc.assert(fc.property(fc.array(ring, { minLength: 1, maxLength: 4 }), (rings) => {
      const rooms = rings.map((points) => roomOf(points)), frame = bounds(rooms);
      for (const [x, y] of rooms.flatMap(corners)) {
        assert.ok(x - frame.x >= 1199.9 && frame.x + frame.width - x >= 1199.9);
        assert.ok(y - frame.y >= 1199.9 && frame.y + frame.height - y >= 1199.9);
      }
    }));
  });

  test("of an empty sheet is a sheet", () => {
    assert.deepEqual(bounds([]), { x: -500, y: -500, width: 12000, height: 8000 });
  });
});

test("a house counts north upwards: a wall that heads north goes up the sheet", () => {
  const [side] = sides({ x_mm: 100, y_mm: 200, heading_deg: 0, walls: [{ id: "w1", length_mm: 1000 }] });
  assert.deepEqual(side.left, [100, -200]);
  near(at(side, 1000), [100, -1200]);
  near(at(side, 0, 50), [150, -200]);
});
