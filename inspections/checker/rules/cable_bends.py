"""Bends of sheathed cable."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from config.messages.message import Length, Ratio, message
from inspections.checker.asking.fixing import figure, limit_in
from inspections.checker.asking.points import (
    PointsFacts,
    PointWords,
    at_least,
    figure_rounding,
    judged,
    point_words,
    teller,
)
from inspections.checker.asking.visual import Judged, RoomFacts, cables_judged
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, rule
from ..house.cables import Cable, CableKind
from ..measures import Comparator
from ..site import HouseByCode

NAME = "cable-bends"
BENT = (CableKind.NM, CableKind.UF)
WORDS = point_words(
    NAME,
    {
        "times": PointWords(
            wrong="Cable {part} is bent too tightly: {figure} diameters, minimum {limit}.",
            ok="Cable {part} is bent to {figure} diameters; {limit} minimum.",
            missing="how wide cable {part} is",
            remedy="Re-run it with a wider bend.",
            verify="The inside radius of a bend is {limit} cable diameters or more.",
            way=Comparator.AT_LEAST,
        ),
    },
)
DIVIDED = message(f"{NAME}.divided", "radius {radius} ÷ diameter {width} = {times}")
RADIUS = message(f"{NAME}.radius", "radius of the sharpest bend: {radius}")


@dataclass(frozen=True, slots=True)
class BendFacts(PointsFacts):
    """The sharpest bend of a cable in its own diameters, and what that comes from."""

    radius_mm: float | None
    width_mm: float | None


def tell(finding: Finding) -> FindingWords:
    """The bend against the limit, with the division that it comes from."""
    words = teller(WORDS)(finding)
    facts = finding.facts
    if not isinstance(facts, BendFacts) or facts.radius_mm is None:
        return words
    radius = Length(facts.radius_mm)
    if facts.width_mm is None:
        return replace(words, working=(RADIUS(radius=radius), *words.working))
    rounding = figure_rounding(Comparator.AT_LEAST, facts.points[0].holds)
    times = Ratio(facts.radius_mm / facts.width_mm, rounding)
    divided = DIVIDED(radius=radius, width=Length(facts.width_mm), times=times)
    return replace(words, working=(divided,))


def _fixes(finding: Finding, _house: House) -> Iterator[Fix]:
    """A wider bend, by as many diameters as the code has."""
    facts = finding.facts
    if not isinstance(facts, BendFacts):
        return
    if facts.width_mm is None:
        yield figure(("cables", facts.part, "width_mm"))
    else:
        least = limit_in(facts.points[0]) * facts.width_mm
        yield figure(("cables", facts.part, "bend_mm"), least)


@rule(
    NAME,
    topic="cables",
    title="Cable bends",
    tell=tell,
    scope=Scope.WIRING,
    facts=BendFacts | RoomFacts,
    workmanship=True,
    fixes=_fixes,
)
def cable_bends(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A sheathed cable is bent no tighter than so many times its own diameter.

    The radius is that of the inner side of the bend; of a flat cable the wide way counts.
    """
    limit = site.rulebook.get(f"{NAME}.times")
    if limit is None:
        return

    def judge(cable: Cable) -> Judged:
        radius, width = cable.bend_mm, cable.width_mm
        times = None
        if radius is not None and width is not None:
            times = radius / width
        facts = BendFacts(cable.id, (at_least("times", times, limit.value),), radius, width)
        if radius is None:
            return judged(facts)
        return judged(facts, not_by_eye=("times",))

    cables = (cable for cable in site.house.cables if cable.kind in BENT)
    yield from cables_judged(this, site, cables, judge, (limit,))
