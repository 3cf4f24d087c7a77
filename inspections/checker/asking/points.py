"""Points: single things that a rule requires of one part, how they are judged and how they read.

The name of a point is the name of the limit it is held against, so that the line of a room for
what is not recorded yet can say the same limits. Endings tell the unit: `_mm` a length, `_kg` a
weight, `_percent` a part of a hundred, `times` a ratio; a bool is so or not; any other a count.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from config.messages.message import (
    Joined,
    Length,
    Listed,
    Mass,
    Message,
    Percent,
    Ratio,
    Rounding,
    Text,
    Value,
    message,
)
from inspections.checker.asking.visual import Judged, RoomFacts, room_words
from inspections.checker.finding import Finding, FindingWords, Verdict
from inspections.checker.measures import Comparator, Tape, point_limit

DUST = 0.01  # mm, kg
NOT_RECORDED = message("not-recorded", "Not recorded yet: {what}.")
RECORD = message("record", "Measure or check it on site, and record it.")
STILL_MISSING = message("still-missing", "not recorded yet: {what}")
EITHER_WAY = message("either-way", "not recorded yet: {what}; the same either way")


@dataclass(frozen=True, slots=True)
class Point:
    """What was found and what is required; `holds` is None when a missing fact decides it."""

    name: str
    found: float | bool | str | None
    limit: float | bool | str | None
    holds: bool | None
    at: str = ""
    """Where on the part, by an id, when it has several such points: an end of a cable."""


@dataclass(frozen=True, slots=True)
class PointsFacts:
    """The points of one part, in the order that they are required in."""

    part: str
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Plural:
    """A sentence that is another for one: the number that `count` is filled with chooses."""

    one: str
    many: str
    count: str = "figure"


@dataclass(frozen=True, slots=True)
class PointWords:
    """How a point reads. Holes: {part}, the id; {figure}, what was found; {limit}; {at}.

    `wrong` and `ok` are sentences; so is `verify`, which is about all such parts of a room and
    has {limit} alone. `missing` is what is to be recorded, as part of a sentence: "how far box
    {part} sits behind the finished surface". `remedy` says what to do when it is wrong. What
    several of them say alike is one message, given in the place of its words.
    """

    wrong: str | Plural | Message
    ok: str | Plural | Message
    missing: str | Message
    remedy: str | Plural | Message
    verify: str | Plural | Message = ""
    way: Comparator | None = None
    tape: str = ""
    """What is measured on site, as a part of a sentence: "the box behind the finished surface"."""


@dataclass(frozen=True, slots=True)
class Said:
    """A point's messages."""

    wrong: Message
    ok: Message
    missing: Message
    remedy: Message
    verify: Message | None
    tape: Message | None
    way: Comparator | None


def point_words(rule: str, words: Mapping[str, PointWords]) -> dict[str, Said]:
    """Register the messages of a rule's points, each under rule, point and what it says."""
    said: dict[str, Said] = {}
    for name, each in words.items():
        about = f"{rule}.{name.replace('_', '-')}"
        said[name] = Said(
            _message(f"{about}.wrong", each.wrong),
            _message(f"{about}.ok", each.ok),
            _message(f"{about}.missing", each.missing),
            _message(f"{about}.remedy", each.remedy),
            _message(f"{about}.verify", each.verify) if each.verify else None,
            _message(f"{about}.tape", each.tape) if each.tape else None,
            each.way,
        )
    return said


def _message(id: str, words: str | Plural | Message) -> Message:
    if isinstance(words, Message):
        return words
    if isinstance(words, Plural):
        return message(id, words.many, one=words.one, count=words.count)
    return message(id, words)


def at_least(name: str, found: float | None, limit: float) -> Point:
    """A measure that is not to be less."""
    return Point(name, found, limit, None if found is None else found >= limit - DUST)


def at_most(name: str, found: float | None, limit: float, at: str = "") -> Point:
    """A measure that is not to be more, at a part where there are several."""
    return Point(name, found, limit, None if found is None else found <= limit + DUST, at)


def is_so(name: str, found: bool | None, limit: bool = True) -> Point:
    """A fact that is to be so, or not so."""
    return Point(name, found, limit, None if found is None else found is limit)


def judged(facts: PointsFacts, not_by_eye: Sequence[str] = ()) -> Judged:
    """Short when a point fails; unknown or to be verified when one is missing; else it meets.

    `not_by_eye` names the points that eyes and a tape on site cannot settle.
    """
    if not facts.points:
        return None
    verdict = Verdict.OK
    for point in facts.points:
        if point.holds is False:
            return Verdict.NOT_TO_CODE, facts
        if point.holds is None and verdict is not Verdict.INFO_NEEDED:
            verdict = Verdict.VERIFY
            if point.name in not_by_eye:
                verdict = Verdict.INFO_NEEDED
    return verdict, facts


def tapes(words: Mapping[str, Said], *names: str) -> tuple[Tape, ...]:
    """Points that a tape settles on site, the one that is measured first of all first."""
    measures = []
    for name in names:
        said = words[name]
        if said.tape is None or said.way is None:
            raise ValueError(f"{name} says neither what is measured nor which way it is held")
        measures.append(Tape(said.tape, said.way, name, point_limit(name)))
    return tuple(measures)


def teller(words: Mapping[str, Said]) -> Callable[[Finding], FindingWords]:
    """How a rule made of points tells its findings."""

    def tell(finding: Finding) -> FindingWords:
        if isinstance(finding.facts, RoomFacts):
            return _room(finding.facts, words)
        return _told(finding, words)

    return tell


def _room(facts: RoomFacts, words: Mapping[str, Said]) -> FindingWords:
    """What to verify in a room, in the order that the rule names its points."""
    held_to = {held.name: held.limit for held in facts.held_to}
    checks = []
    limits = []
    for name, said in words.items():
        if name in held_to and said.verify is not None:
            limit = quantity(name, held_to[name], limit_rounding(said.way))
            checks.append(_filled(said.verify, limit=limit))
            limits.append(limit)
    return room_words(facts, checks, _parts(limits))


def _told(finding: Finding, words: Mapping[str, Said]) -> FindingWords:
    facts: PointsFacts = finding.facts
    wanted = {Verdict.NOT_TO_CODE: False, Verdict.OK: True}.get(finding.verdict)
    telling = [point for point in facts.points if point.holds is wanted]
    says = []
    remedies: dict[Value, None] = {}
    for point in telling:
        says.append(_sentence(facts.part, point, words, EITHER_WAY))
        if point.holds is False:
            remedies[_filled(words[point.name].remedy, **_holes(facts.part, point, words))] = None
    sentence: Value = Joined(tuple(says))
    remedy: Value = Joined(tuple(remedies)) if remedies else ""
    if wanted is None:
        missing = []
        for point in telling:
            missing.append(_missing(facts.part, point, words))
        sentence, remedy = NOT_RECORDED(what=Listed(tuple(missing))), RECORD()
    missing_line = STILL_MISSING if wanted is None else EITHER_WAY
    working = [_sentence(facts.part, point, words, missing_line) for point in facts.points]
    figures = [_holes(facts.part, point, words)["figure"] for point in telling]
    limits = [_holes(facts.part, point, words)["limit"] for point in telling]
    return FindingWords(sentence, _parts(figures), _parts(limits), tuple(working), remedy)


def _parts(figures: Sequence[Value]) -> Value:
    """Figures beside each other; a yes or no is none."""
    shown = [figure for figure in figures if figure != ""]
    if len(shown) == 1:
        return shown[0]
    return Joined(tuple(shown), "; ") if shown else ""


def _sentence(part: str, point: Point, words: Mapping[str, Said], missing: Message) -> Text:
    """What was found of a point, or that it is not recorded yet."""
    said = words[point.name]
    if point.holds is None:
        return missing(what=_missing(part, point, words))
    chosen = said.wrong
    if point.holds:
        chosen = said.ok
    return _filled(chosen, **_holes(part, point, words))


def _missing(part: str, point: Point, words: Mapping[str, Said]) -> Text:
    return _filled(words[point.name].missing, **_holes(part, point, words))


def _holes(part: str, point: Point, words: Mapping[str, Said]) -> dict[str, Value]:
    way = words[point.name].way
    return {
        "part": part,
        "at": point.at,
        "figure": quantity(point.name, point.found, figure_rounding(way, point.holds)),
        "limit": quantity(point.name, point.limit, limit_rounding(way)),
    }


def _filled(said: Message, **holes: Any) -> Text:
    """A message with those of the holes that it has."""
    return said(**{name: value for name, value in holes.items() if name in said.holes})


def limit_rounding(way: Comparator | None) -> Rounding:
    """A limit is rounded to its safe side."""
    if way is None:
        return Rounding.NEAREST
    return Rounding.UP if way is Comparator.AT_LEAST else Rounding.DOWN


def figure_rounding(way: Comparator | None, holds: bool | None) -> Rounding:
    """A figure is rounded to its own side of the limit, so that it never denies its verdict."""
    if way is None or holds is None:
        return Rounding.NEAREST
    inward = Rounding.UP if way is Comparator.AT_LEAST else Rounding.DOWN
    outward = Rounding.DOWN if way is Comparator.AT_LEAST else Rounding.UP
    return inward if holds else outward


def quantity(name: str, value: Any, rounding: Rounding = Rounding.NEAREST) -> Value:
    """A figure with the unit that the name of its point ends with; empty for a yes or no."""
    if value is None or isinstance(value, bool):
        return ""
    if name.endswith("_mm"):
        return Length(value, rounding)
    if name.endswith("_kg"):
        return Mass(value, rounding)
    if name.endswith("_percent"):
        return Percent(value, rounding)
    if name.endswith("times"):
        return Ratio(value, rounding)
    return value  # type: ignore[no-any-return]
