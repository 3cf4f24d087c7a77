"""Points: single things that a rule asks of one part, and how a list of them is judged and told.

The name of a point is the name of the limit it is held against, so that a look for what nobody
recorded can say the same limits. Endings tell the unit: `_mm` a length, `_kg` a weight.
"""

from collections.abc import Callable, Mapping, Sequence
from typing import Any, NamedTuple

from inspections.checker.asking.loose_visual import Judged, tell_look
from inspections.checker.finding import Finding, FindingWords, Verdict
from inspections.checker.measures import Comparator, Tape, point_limit
from inspections.checker.words import length, number, weight

DUST = 0.01  # mm, kg


class Point(NamedTuple):
    """What was found and what is asked; `holds` is None when a missing fact decides it."""

    name: str
    found: Any
    asked: Any
    holds: bool | None
    eyes: bool = True
    """Whether eyes or a tape on site settle what is missing."""


class Asked(NamedTuple):
    """How a point reads: what it is, which way it is held, what to do when it does not hold."""

    what: str
    remedy: str
    way: str = ""


def at_least(name: str, found: float | None, asked: float, eyes: bool = True) -> Point:
    """A measure that is not to be less."""
    return Point(name, found, asked, None if found is None else found >= asked - DUST, eyes)


def measure_at_most(name: str, found: float | None, asked: float, eyes: bool = True) -> Point:
    """A measure that is not to be more."""
    return Point(name, found, asked, None if found is None else found <= asked + DUST, eyes)


def is_so(name: str, found: bool | None, asked: bool = True, eyes: bool = True) -> Point:
    """A fact that is to be so, or not so."""
    return Point(name, found, asked, None if found is None else found is asked, eyes)


def judged(points: Sequence[Point], **data: Any) -> Judged:
    """Short when a point fails; unknown or a look when one is missing; else it meets."""
    if not points:
        return None
    verdict = Verdict.MEETS
    for point in points:
        if point.holds is False:
            verdict = Verdict.SHORT
            break
        if point.holds is None and verdict is not Verdict.UNKNOWN:
            verdict = Verdict.UNKNOWN
            if point.eyes:
                verdict = Verdict.LOOK
    return verdict, {"points": points, **data}


HELD = {
    "at least": Comparator.AT_LEAST,
    "at most": Comparator.AT_MOST,
    "more than": Comparator.AT_LEAST,
}
"""Which way a tape is held against a point's limit; at the limit itself it contradicts nothing."""


def tapes(words: Mapping[str, Asked], *names: str) -> tuple[Tape, ...]:
    """Points that a tape settles on site, the one that is measured first of all first."""
    measures = []
    for name in names:
        measures.append(Tape(words[name].what, HELD[words[name].way], name, point_limit(name)))
    return tuple(measures)


def teller(words: Mapping[str, Asked]) -> Callable[[Finding], FindingWords]:
    """How a rule made of points tells its findings."""

    def tell(finding: Finding) -> FindingWords:
        imperial = finding.imperial
        if "look" in finding.facts:
            asked = finding.facts["asked"].items()
            each = []
            for n, value in asked:
                each.append(_limit(words[n], n, value, imperial))
            return tell_look(finding, "; ".join(each), "; ".join(each))
        return _told(finding, words)

    return tell


def _told(finding: Finding, words: Mapping[str, Asked]) -> FindingWords:
    imperial, verdict = finding.imperial, finding.verdict
    points: Sequence[Point] = finding.facts["points"]
    wanted = {Verdict.SHORT: False, Verdict.MEETS: True}.get(verdict)
    telling = [point for point in points if point.holds is wanted] or list(points)
    facts = []
    says = []
    remedies = {}
    limits = []
    figures = []
    for point in telling:
        asked = words[point.name]
        facts.append(asked.what)
        says.append(_line(asked, point, imperial))
        remedies[asked.remedy] = True
        limits.append(_limit(asked, point.name, point.asked, imperial))
        figures.append(figure(point.name, point.found, imperial))
    said = "; ".join(says)
    remedy = " ".join(remedies)
    if verdict is Verdict.UNKNOWN:
        said = f"nobody recorded {', '.join(facts)}"
        remedy = f"Record {', '.join(facts)}."
    elif verdict is Verdict.MEETS:
        remedy = ""
    working = tuple(_line(words[point.name], point, imperial) for point in points)
    return FindingWords(
        f"{said[:1].upper()}{said[1:]}.", "; ".join(figures), "; ".join(limits), working, remedy
    )


def _line(asked: Asked, point: Point, imperial: bool) -> str:
    found = figure(point.name, point.found, imperial)
    if not asked.way:
        return f"{asked.what}: {found}"
    return f"{asked.what}: {found}, {asked.way} {figure(point.name, point.asked, imperial)} asked"


def _limit(asked: Asked, name: str, value: Any, imperial: bool) -> str:
    if asked.way:
        return f"{asked.what} {asked.way} {figure(name, value, imperial)}"
    if value is not False:
        return asked.what
    return f"not {asked.what}"


def figure(name: str, value: Any, imperial: bool) -> str:
    """A value in the words of its unit."""
    if value is None:
        return "not recorded"
    if isinstance(value, bool):
        if value:
            return "yes"
        return "no"
    if name.endswith("_mm"):
        return length(value, imperial)
    if name.endswith("_kg"):
        return weight(value, imperial)
    return number(value)
