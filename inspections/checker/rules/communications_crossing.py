"""Communication cables that cross power cables."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Ratio, Value, message
from inspections.checker.asking.fixing import figure, separation_path
from inspections.checker.asking.points import at_least, figure_rounding, limit_rounding
from inspections.checker.asking.visual import Round
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..measures import Comparator
from ..site import HouseByCode

NAME = "communications-crossing"
DEGREES = message(f"{NAME}.degrees", "{n}°")
CROSSES = message(
    f"{NAME}.crosses", "Cable {cable} crosses power cable {power} at {figure}; {limit} minimum."
)
ANGLE = message(f"{NAME}.angle", "angle {figure}, {limit} minimum")
REMEDY = message(f"{NAME}.remedy", "Re-run it at a right angle.")


@dataclass(frozen=True, slots=True)
class CrossingFacts:
    """A communication cable, the power cable that it crosses, and at what angle."""

    communications: str
    power: str
    crossing_deg: float
    minimum_deg: float


def tell(finding: Finding) -> FindingWords:
    """At what angle the cables cross."""
    facts: CrossingFacts = finding.facts
    holds = finding.verdict is Verdict.OK
    way = Comparator.AT_LEAST
    figure = DEGREES(n=Ratio(facts.crossing_deg, figure_rounding(way, holds)))
    limit = DEGREES(n=Ratio(facts.minimum_deg, limit_rounding(way)))
    says = CROSSES(cable=facts.communications, power=facts.power, figure=figure, limit=limit)
    remedy: Value = REMEDY()
    if holds:
        remedy = ""
    return FindingWords(says, figure, limit, (ANGLE(figure=figure, limit=limit),), remedy)


def _fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """The angle at which they cross."""
    facts = finding.facts
    path = separation_path(house, {facts.communications, facts.power}, finding.spot.room)
    yield figure((*path, "crossing_deg"), facts.minimum_deg)


@rule(
    NAME,
    topic="communications",
    title="Communication cables crossing power",
    tell=tell,
    scope=Scope.WIRING,
    facts=CrossingFacts,
    workmanship=True,
    fixes=_fixes,
)
def communications_crossing(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Where a communication cable crosses a power cable it crosses square.

    Side by side the one would hear the other. Where no crossing is recorded nothing is required.
    """
    limit = site.rulebook.get(f"{NAME}.crossing_deg")
    if limit is None:
        return
    here = Round(this, site, (limit,))
    for found in site.house.separations:
        first, second = (site.wiring.cables[name] for name in found.cables)
        if found.crossing_deg is None or first.kind.carries_power == second.kind.carries_power:
            continue
        power, other = (first, second) if first.kind.carries_power else (second, first)
        subject = here.numbered(f"{other.id}/{power.id}/{found.room}")
        facts = CrossingFacts(other.id, power.id, found.crossing_deg, limit.value)
        verdict = Verdict.NOT_TO_CODE
        if at_least("crossing_deg", found.crossing_deg, limit.value).holds:
            verdict = Verdict.OK
        yield from here.run(other, found.room, (verdict, facts), subject)
