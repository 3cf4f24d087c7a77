"""What must hold for the walls of any room, whatever stands in them."""

import json
from itertools import product
from typing import Any

from hypothesis import assume, given
from hypothesis import strategies as st

from inspections.checker.finding import Finding, Verdict
from tests.checker.build import findings, house
from tests.checker.drawn_rooms import SWINGS, Points, Room, doubtful, fitted, missing_fact, points
from tests.checker.drawn_rooms import starts as starts_of
from tests.checker.walking import CELL, short_spaces
from tests.lengths import examples

BOOKS = st.sampled_from(["nec-2017", "nec-2023", "cec-2018", "cec-2021"])
RANK = {Verdict.SHORT: 0, Verdict.UNKNOWN: 1, Verdict.MEETS: 2}


def judged(room: Room, at: Points, book: str) -> dict[str, Finding]:
    """The wall findings, by subject."""
    receptacles = [f"{wall}@{x}^300" for wall, x in at]
    made = house(room=json.loads(json.dumps(room)), receptacles=receptacles)
    found = findings(made, book).values()
    return {f.subject: f for f in found if f.rule.id == "wall-receptacles"}


def shape_of(found: dict[str, Finding]) -> list[tuple[float, str, float]]:
    """What does not depend on where the walls are counted from."""
    return sorted(
        (
            round(f.facts.space_mm, 1),
            f.verdict.value,
            round(sum(gap.width_mm for gap in f.facts.gaps), 1),
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
    turns = [wall["turn_deg"] for wall in room["walls"]]
    walls = [
        {**mirrored(wall), "turn_deg": turn}
        for wall, turn in zip(
            reversed(room["walls"]), [*reversed(turns[:-1]), turns[-1]], strict=True
        )
    ]
    flipped = [(wall, lengths[wall] - x) for wall, x in at]
    mirror = judged({**room, "walls": walls}, flipped, book)
    assert shape_of(judged(room, at, book)) == shape_of(mirror)


def mirrored(wall: dict[str, Any]) -> dict[str, Any]:
    """A wall as a mirror shows it, left to right."""
    other = {"left": "right", "right": "left", "none": "none"}
    openings = []
    for opening in reversed(wall["openings"]):
        at = wall["length_mm"] - opening["at_mm"] - opening["width_mm"]
        swing = {"swing": other[opening["swing"]]} if "swing" in opening else {}
        openings.append({**opening, "at_mm": at, **swing})
    return {**wall, "openings": openings}


@examples(200, 5000)
@given(fitted(CELL), BOOKS)
def test_it_agrees_with_walking_the_line_step_by_step(drawn, book) -> None:
    room, at = drawn
    short = [f for f in judged(room, at, book).values() if f.verdict is Verdict.SHORT]
    assert len(short) == short_spaces(room, at, book[:3])


@given(doubtful(), st.sampled_from(["cec-2018", "cec-2021"]))
def test_a_verdict_on_missing_facts_holds_whatever_they_are(drawn, book) -> None:
    room, at = drawn
    unsure = judged(room, at, book).values()
    openings = [opening for wall in room["walls"] for opening in wall["openings"]]
    missing = [o for o in openings if o.get(missing_fact(o)) == "missing"]
    choices = [SWINGS if opening["kind"] == "door" else [0, 900] for opening in missing]
    short: dict[str, set[bool]] = {finding.subject: set() for finding in unsure}
    for facts in product(*choices):
        for opening, fact in zip(missing, facts, strict=True):
            opening[missing_fact(opening)] = fact
        surely = judged(room, at, book).values()
        for finding in unsure:
            parts = [part for part in surely if lies_in(part, finding, room)]
            short[finding.subject].add(any(p.verdict is Verdict.SHORT for p in parts))
    verdicts = {frozenset([True]): Verdict.SHORT, frozenset([False]): Verdict.MEETS}
    only_windows = all(opening["kind"] == "window" for opening in missing)
    for finding in unsure:
        verdict = verdicts.get(frozenset(short[finding.subject]), Verdict.UNKNOWN)
        over_careful = finding.verdict is Verdict.UNKNOWN and not only_windows
        assert finding.verdict is verdict or over_careful


def lies_in(part: Finding, whole: Finding, room: Room) -> bool:
    """Whether a space lies within another on the room's line."""
    starts = starts_of(room)
    line = sum(wall["length_mm"] for wall in room["walls"])
    wall, at = part.facts.wall, part.facts.at_mm
    outer, outer_at = whole.facts.wall, whole.facts.at_mm
    along = (starts[wall] + at - starts[outer] - outer_at) % line
    reaches = along + part.facts.space_mm
    return bool(whole.facts.space_mm == line or reaches <= whole.facts.space_mm + 0.1)
