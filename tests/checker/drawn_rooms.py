"""Rooms and receptacles for property tests, drawn by hypothesis."""

from typing import Any

from hypothesis import assume
from hypothesis import strategies as st

KINDS = ["door", "sliding_door", "opening", "window", "fixed_panel", "fireplace", "cabinet"]
SWINGS = ["none", "left", "right"]

Room = dict[str, Any]
Points = list[tuple[str, int]]
"""Walls and distances from their left ends."""


@st.composite
def openings(draw: st.DrawFn, length: int, step: int) -> list[dict[str, Any]]:
    """Openings in a wall, left to right, none over another."""
    found, at = [], 0
    for _ in range(draw(st.integers(0, 3))):
        at += step * draw(st.integers(0, 1500 // step))
        width = step * draw(st.integers(300 // step, 1800 // step))
        if at + width > length:
            break
        kind = draw(st.sampled_from(KINDS))
        opening: dict[str, Any] = {"kind": kind, "at_mm": at, "width_mm": width}
        if kind == "door":
            opening["swing"] = draw(st.sampled_from(SWINGS))
        if kind == "window":
            opening["sill_mm"] = draw(st.sampled_from([0, 900]))
        found.append(opening)
        at += width
    return found


@st.composite
def rooms(draw: st.DrawFn, step: int) -> Room:
    """A rectangular or L-shaped room, or a run of walls that does not close."""
    sides = st.integers(1200 // step, 7000 // step)
    w, d = step * draw(sides), step * draw(sides)
    shape = draw(st.sampled_from(["square", "ell", "run"]))
    lengths, turns = [w, d, w, d], [90, 90, 90, 90]
    if shape == "ell":
        a = step * draw(st.integers(300 // step, (w - 300) // step))
        b = step * draw(st.integers(300 // step, (d - 300) // step))
        lengths, turns = [w, d - b, a, b, w - a, d], [90, 90, -90, 90, 90, 90]
    walls = [
        {"id": f"w{i}", "length_mm": length, "turn_deg": turn}
        | {"openings": draw(openings(length, step))}
        for i, (length, turn) in enumerate(zip(lengths, turns, strict=True))
    ]
    return {"kind": "living", "closed": shape != "run", "walls": walls}


@st.composite
def points(draw: st.DrawFn, room: Room, most: int = 6, step: int = 1) -> Points:
    """Places of receptacles along the walls."""
    found = []
    for _ in range(draw(st.integers(0, most))):
        wall = draw(st.sampled_from(room["walls"]))
        found.append((wall["id"], step * draw(st.integers(0, wall["length_mm"] // step))))
    return found


@st.composite
def fitted(draw: st.DrawFn, step: int = 1) -> tuple[Room, Points]:
    """A room and receptacles on its walls, all in multiples of `step` mm."""
    room = draw(rooms(step))
    return room, draw(points(room, step=step))


def starts(room: Room) -> dict[str, int]:
    """Where each wall begins on the line."""
    found, at = {}, 0
    for wall in room["walls"]:
        found[wall["id"]] = at
        at += wall["length_mm"]
    return found


def missing_fact(opening: dict[str, Any]) -> str:
    """The fact about an opening that a file may leave out."""
    return {"door": "swing", "window": "sill_mm"}.get(opening["kind"], "")


@st.composite
def doubtful(draw: st.DrawFn) -> tuple[Room, Points]:
    """A room in which one to three swings and sills were not recorded."""
    room, at = draw(fitted())
    marked = [o for wall in room["walls"] for o in wall["openings"] if missing_fact(o)]
    assume(marked)
    for opening in draw(st.lists(st.sampled_from(marked), min_size=1, max_size=3)):
        opening[missing_fact(opening)] = "missing"
    return room, at
