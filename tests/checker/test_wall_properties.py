"""What must hold for the walls of any room, whatever stands in them."""

import json
from itertools import product
from typing import Any

from hypothesis import assume, given
from hypothesis import strategies as st

from inspections.checker import Finding, Verdict
from tests.checker.build import findings, house

BOOKS = st.sampled_from(["nec-2017", "nec-2023", "cec-2018", "cec-2021"])
KINDS = ["door", "sliding_door", "opening", "window", "fixed_panel", "fireplace", "cabinet"]
SWINGS = ["none", "left", "right"]
RANK = {Verdict.SHORT: 0, Verdict.UNKNOWN: 1, Verdict.MEETS: 2}


@st.composite
def openings(draw: st.DrawFn, length: int) -> list[dict[str, Any]]:
    """Openings in a wall, left to right, none over another."""
    found, at = [], 0
    for _ in range(draw(st.integers(0, 3))):
        at += draw(st.integers(0, 1500))
        width = draw(st.integers(300, 1800))
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
def rooms(draw: st.DrawFn) -> dict[str, Any]:
    """A rectangular or L-shaped room, or a run of walls that does not close."""
    w, d = draw(st.integers(1200, 7000)), draw(st.integers(1200, 7000))
    shape = draw(st.sampled_from(["square", "ell", "run"]))
    lengths, turns = [w, d, w, d], [90, 90, 90, 90]
    if shape == "ell":
        a, b = draw(st.integers(300, w - 300)), draw(st.integers(300, d - 300))
        lengths, turns = [w, d - b, a, b, w - a, d], [90, 90, -90, 90, 90, 90]
    walls = [
        {"id": f"w{i}", "length_mm": length, "turn_deg": turn, "openings": draw(openings(length))}
        for i, (length, turn) in enumerate(zip(lengths, turns, strict=True))
    ]
    return {"kind": "living", "closed": shape != "run", "walls": walls}


@st.composite
def points(draw: st.DrawFn, room: dict[str, Any], most: int = 6) -> list[tuple[str, int]]:
    """Places of receptacles along the walls."""
    found = []
    for _ in range(draw(st.integers(0, most))):
        wall = draw(st.sampled_from(room["walls"]))
        found.append((wall["id"], draw(st.integers(0, wall["length_mm"]))))
    return found


@st.composite
def fitted(draw: st.DrawFn) -> tuple[dict[str, Any], list[tuple[str, int]]]:
    """A room and receptacles on its walls."""
    room = draw(rooms())
    return room, draw(points(room))


def judged(room: dict[str, Any], at: list[tuple[str, int]], book: str) -> dict[str, Finding]:
    """The wall findings, by subject."""
    made = house(
        room=json.loads(json.dumps(room)), receptacles=[f"{wall}@{x}^300" for wall, x in at]
    )
    found = findings(made, book)
    return {f.subject: f for f in found.values() if f.rule.id == "wall-receptacles"}


def shape_of(found: dict[str, Finding]) -> list[tuple[float, str, float]]:
    """What does not depend on where the walls are counted from."""
    return sorted(
        (
            round(f.data["space_mm"], 1),
            f.verdict.value,
            round(sum(b - a for a, b, *_ in f.data["uncovered"]), 1),
        )
        for f in found.values()
    )


@given(fitted(), BOOKS, st.data())
def test_another_receptacle_never_makes_a_space_worse(drawn, book, data) -> None:
    room, at = drawn
    before = judged(room, at, book)
    after = judged(room, at + data.draw(points(room, 1)), book)
    assert before.keys() == after.keys()
    assert all(RANK[after[key].verdict] >= RANK[before[key].verdict] for key in before)


@given(fitted(), BOOKS, st.integers(1, 5))
def test_it_is_the_same_from_whichever_wall_one_begins(drawn, book, turn) -> None:
    room, at = drawn
    assume(room["closed"])
    turn %= len(room["walls"])
    turned = {**room, "walls": room["walls"][turn:] + room["walls"][:turn]}
    assert shape_of(judged(room, at, book)) == shape_of(judged(turned, at, book))


@given(fitted(), BOOKS)
def test_it_is_the_same_in_a_mirror(drawn, book) -> None:
    room, at = drawn
    lengths = {wall["id"]: wall["length_mm"] for wall in room["walls"]}
    walls = [_mirrored(wall) for wall in reversed(room["walls"])]
    turns = [wall["turn_deg"] for wall in room["walls"]]
    for wall, turn in zip(walls, [*reversed(turns[:-1]), turns[-1]], strict=True):
        wall["turn_deg"] = turn
    mirrored = judged({**room, "walls": walls}, [(wall, lengths[wall] - x) for wall, x in at], book)
    assert shape_of(judged(room, at, book)) == shape_of(mirrored)


def _mirrored(wall: dict[str, Any]) -> dict[str, Any]:
    other = {"left": "right", "right": "left"}
    openings = [
        {
            **opening,
            "at_mm": wall["length_mm"] - opening["at_mm"] - opening["width_mm"],
            **({"swing": other.get(opening["swing"], "none")} if "swing" in opening else {}),
        }
        for opening in reversed(wall["openings"])
    ]
    return {**wall, "openings": openings}


@given(fitted(CELL), BOOKS)
def test_it_agrees_with_walking_the_line_step_by_step(drawn, book) -> None:
    room, at = drawn
    found = judged(room, at, book)
    assert sum(f.verdict is Verdict.SHORT for f in found.values()) == _walked(room, at, book)


def _walked(room: dict[str, Any], at: list[tuple[str, int]], book: str) -> int:
    """Spaces with a cell out of reach, found by stepping along the line: no intervals."""
    reach, least = (1800, 900) if book.startswith("cec") else (1828.8, 609.6)
    starts = _starts(room)
    whole = sum(wall["length_mm"] for wall in room["walls"])
    served = [starts[wall] + x for wall, x in at]
    free = [_free(cell + CELL / 2, room, whole, book) for cell in range(0, whole, CELL)]
    if all(free) and room["closed"]:
        served += [x + turn for x in served for turn in (-whole, whole)]
        return int(_out_of_reach(0, whole, served, reach))
    return sum(
        _out_of_reach(start, end, [p + t for p in served for t in (0, whole)], reach)
        for start, end in _runs(free, room["closed"])
        if end - start >= least
    )


def _out_of_reach(start: int, end: int, served: list[int], reach: float) -> bool:
    here = [p for p in served if start - reach <= p <= end + reach]
    if (start, end) not in WHOLE:
        here = [p for p in here if start <= p <= end]
    middles = range(start + CELL // 2, end, CELL)
    return any(min((abs(m - p) for p in here), default=1e9) > reach for m in middles)


def _starts(room: dict[str, Any]) -> dict[str, int]:
    starts, at = {}, 0
    for wall in room["walls"]:
        starts[wall["id"]] = at
        at += wall["length_mm"]
    return starts


def _cells(room: dict[str, Any]) -> list[float]:
    whole = sum(wall["length_mm"] for wall in room["walls"])
    return [step + 0.5 for step in range(whole)]


def _free(position: float, room: dict[str, Any], cec: bool) -> bool:
    whole = sum(wall["length_mm"] for wall in room["walls"])
    turns = (-whole, 0, whole) if room["closed"] else (0,)
    return not any(
        left < position + turn < right for left, right in _blocked(room, cec) for turn in turns
    )


def _blocked(room: dict[str, Any], cec: bool) -> list[tuple[int, int]]:
    blocked = []
    breaking = {"door", "sliding_door", "opening", "fireplace", "cabinet"}
    for wall, start in zip(room["walls"], _starts(room).values(), strict=True):
        for opening in wall["openings"]:
            left = start + opening["at_mm"]
            right = left + opening["width_mm"]
            window = cec and opening["kind"] == "window" and opening["sill_mm"] == 0
            if opening["kind"] in breaking or window:
                blocked.append((left, right))
            if cec and opening.get("swing") in ("left", "right"):
                blocked.append(_leaf(start, wall, opening))
    return blocked


def _leaf(start: int, wall: dict[str, Any], opening: dict[str, Any]) -> tuple[int, int]:
    width, left = opening["width_mm"], start + opening["at_mm"]
    if opening["swing"] == "left":
        own = opening["at_mm"]
        return (left - width if own >= width else start - width, left)
    end, right = start + wall["length_mm"], left + width
    return (right, right + width if end - right >= width else end + width)


def _runs(cells: list[bool], closed: bool) -> list[list[int]]:
    if all(cells):
        return [list(range(len(cells)))] if cells else []
    order = list(range(len(cells)))
    if closed:
        first = cells.index(False)
        order = order[first:] + order[:first]
    runs: list[list[int]] = [[]]
    for cell in order:
        if cells[cell]:
            runs[-1].append(cell)
        elif runs[-1]:
            runs.append([])
    return [run for run in runs if run]


@st.composite
def doubtful(draw: st.DrawFn) -> tuple[dict[str, Any], list[tuple[str, int]]]:
    """A room in which one to three swings and sills were not recorded."""
    room, at = draw(fitted())
    marked = [o for wall in room["walls"] for o in wall["openings"] if _fact(o)]
    assume(marked)
    for opening in draw(st.lists(st.sampled_from(marked), min_size=1, max_size=3)):
        opening[_fact(opening)] = "missing"
    return room, at


def _fact(opening: dict[str, Any]) -> str:
    return {"door": "swing", "window": "sill_mm"}.get(opening["kind"], "")


@given(doubtful(), st.sampled_from(["cec-2018", "cec-2021"]))
def test_a_verdict_on_missing_facts_holds_whatever_they_are(drawn, book) -> None:
    room, at = drawn
    unsure = judged(room, at, book)
    missing = [
        opening
        for wall in room["walls"]
        for opening in wall["openings"]
        if opening.get(_fact(opening)) == "missing"
    ]
    choices = [SWINGS if opening["kind"] == "door" else [0, 900] for opening in missing]
    for facts in product(*choices):
        for opening, fact in zip(missing, facts, strict=True):
            opening[_fact(opening)] = fact
        surely = list(judged(room, at, book).values())
        for finding in unsure.values():
            parts = [sure for sure in surely if _lies_in(sure, finding, room)]
            short = [part for part in parts if part.verdict is Verdict.SHORT]
            assert not (finding.verdict is Verdict.MEETS and short)
            assert finding.verdict is not Verdict.SHORT or short


def _lies_in(part: Finding, whole: Finding, room: dict[str, Any]) -> bool:
    starts = _starts(room)
    line = sum(wall["length_mm"] for wall in room["walls"])
    wall, at = part.data["start"]
    outer, outer_at = whole.data["start"]
    along = (starts[wall] + at - starts[outer] - outer_at) % line
    return along + part.data["space_mm"] <= whole.data["space_mm"] + 0.1
