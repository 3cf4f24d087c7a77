"""Parts of words for rules that tell their findings in one sentence of their own.

A rule whose points do not read one after another writes its sentences itself. Its figures are
rounded here as those of every other rule, and its rooms are verified line by line.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from config.messages.message import Listed, Message, Text, Value
from inspections.checker.asking.points import (
    NOT_RECORDED,
    RECORD,
    STILL_MISSING,
    Point,
    PointsFacts,
    figure_rounding,
    limit_rounding,
    quantity,
)
from inspections.checker.asking.visual import RoomFacts, room_words
from inspections.checker.finding import FindingWords
from inspections.checker.measures import Comparator


@dataclass(frozen=True, slots=True)
class RoomCheck:
    """A sentence on what is verified at the parts of a room; it may have the hole {limit}."""

    says: Message
    way: Comparator | None = None


def room_told(facts: RoomFacts, checks: Mapping[str, RoomCheck]) -> FindingWords:
    """What to verify in a room: the checks whose limit its parts are held to, in their order."""
    held_to = {held.name: held.limit for held in facts.held_to}
    says = []
    shown: Value = ""
    for name, check in checks.items():
        if name not in held_to:
            continue
        limit = quantity(name, held_to[name], limit_rounding(check.way))
        says.append(_filled(check.says, limit=limit))
        shown = shown or limit
    return room_words(facts, says, shown)


def _filled(says: Message, **holes: Value) -> Text:
    """A message with its one hole, or with none."""
    if says.holes:
        return says(**holes)
    return says()


def points_by_name(facts: PointsFacts) -> dict[str, Point]:
    """The points of a part by their names."""
    return {point.name: point for point in facts.points}


def found_in(point: Point, way: Comparator | None) -> Value:
    """What was found, rounded to its side of the limit."""
    return quantity(point.name, point.found, figure_rounding(way, point.holds))


def limit_of(point: Point, way: Comparator | None) -> Value:
    """What is required, rounded to its safe side."""
    return quantity(point.name, point.limit, limit_rounding(way))


def not_recorded(facts: PointsFacts, words: Mapping[str, Message]) -> FindingWords:
    """What is still missing of a part; its words may have the hole {part}."""
    missing: list[Value] = []
    for point in facts.points:
        if point.holds is None:
            missing.append(_filled(words[point.name], part=facts.part))
    what = Listed(tuple(missing))
    return FindingWords(
        NOT_RECORDED(what=what), working=(STILL_MISSING(what=what),), remedy=RECORD()
    )
