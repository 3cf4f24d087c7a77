"""Cables kept from what is hot."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import message
from inspections.checker.asking.fixing import done, figure
from inspections.checker.asking.points import (
    Point,
    PointsFacts,
    PointWords,
    at_least,
    is_so,
    judged,
    point_words,
    tapes,
    teller,
)
from inspections.checker.asking.visual import Judged, RoomFacts, Round
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, Rule, Scope, rule
from ..house.cables import CableKind, HeatGap
from ..measures import Comparator
from ..site import HouseByCode

NAME = "cable-heat"
KINDS = (CableKind.NM, CableKind.UF)
DUCT = message(f"{NAME}.duct", "Cable {part} is {figure} from a heating duct; {limit} minimum.")
PIPE = message(f"{NAME}.pipe", "Cable {part} is {figure} from a hot pipe; {limit} minimum.")
CHIMNEY = message(
    f"{NAME}.chimney", "Cable {part} is {figure} from a masonry chimney; {limit} minimum."
)
CLEANOUT = message(
    f"{NAME}.cleanout", "Cable {part} is {figure} from a chimney cleanout; {limit} minimum."
)
DISTANCE = message(f"{NAME}.distance", "how far cable {part} is from it")
REMEDY = message(f"{NAME}.remedy", "Move it away, or put insulation between.")
WORDS = point_words(
    NAME,
    {
        "duct_mm": PointWords(
            wrong=DUCT,
            ok=DUCT,
            missing=DISTANCE,
            remedy=REMEDY,
            verify="From heating ducts: {limit} minimum.",
            tape="from the heating duct to the cable",
            way=Comparator.AT_LEAST,
        ),
        "pipe_mm": PointWords(
            wrong=PIPE,
            ok=PIPE,
            missing=DISTANCE,
            remedy=REMEDY,
            verify="From hot pipes: {limit} minimum.",
            tape="from the hot pipe to the cable",
            way=Comparator.AT_LEAST,
        ),
        "chimney_mm": PointWords(
            wrong=CHIMNEY,
            ok=CHIMNEY,
            missing=DISTANCE,
            remedy=REMEDY,
            verify="From a masonry chimney: {limit} minimum.",
            tape="from the masonry chimney to the cable",
            way=Comparator.AT_LEAST,
        ),
        "cleanout_mm": PointWords(
            wrong=CLEANOUT,
            ok=CLEANOUT,
            missing=DISTANCE,
            remedy=REMEDY,
            verify="From a chimney cleanout: {limit} minimum.",
            tape="from the chimney cleanout to the cable",
            way=Comparator.AT_LEAST,
        ),
        "shielded": PointWords(
            wrong="Cable {part} is not behind an insulating barrier.",
            ok="Cable {part} is behind an insulating barrier.",
            missing="whether cable {part} is behind an insulating barrier",
            remedy=REMEDY,
            verify="Closer cables are behind an insulating barrier.",
        ),
    },
)


@dataclass(frozen=True, slots=True)
class HeatFacts(PointsFacts):
    """A cable near something hot; the distance counts where no barrier stands in for it."""

    distance_mm: float | None


def _fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """Farther from what is hot, or a barrier between."""
    facts = finding.facts
    if not isinstance(facts, HeatFacts):
        return
    limits = {limit.name: limit.value for limit in finding.limits}
    for gap in house.heat_gaps:
        if (gap.cable, gap.room) == (facts.part, finding.spot.room):
            path = ("heat_gaps", f"{gap.cable} {gap.source.value} {gap.room}")
            least = limits[f"{NAME}.{gap.source.value}_mm"]
            yield figure((*path, "distance_mm"), least, taped=True)
            yield done((*path, "shielded"))


@rule(
    NAME,
    topic="cables",
    title="Cables clear of heat",
    tell=teller(WORDS),
    scope=Scope.WIRING,
    tapes=tapes(WORDS, "duct_mm", "pipe_mm", "chimney_mm", "cleanout_mm"),
    facts=HeatFacts | RoomFacts,
    workmanship=True,
    fixes=_fixes,
)
def cable_heat(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A sheathed cable keeps its distance from ducts, hot pipes, chimneys and cleanouts.

    A barrier that keeps it at room temperature stands in for distance. In rooms with such things,
    cables beside which nothing was measured are verified by eye.
    """
    limits = tuple(site.rulebook.limits_of(NAME))
    if not limits:
        return
    values = {}
    points = []
    for limit in limits:
        name = limit.name.partition(".")[2]
        values[name] = limit.value
        if name.endswith("_mm"):
            points.append(Point(name, None, limit.value, None))
    here = Round(this, site, limits)
    done = set()
    cables = {cable.id: cable for cable in site.house.cables if cable.kind in KINDS}
    for gap in site.house.heat_gaps:
        cable = cables.get(gap.cable)
        if cable is not None:
            done.add((gap.cable, gap.room))
            subject = here.numbered(f"{gap.cable}/{gap.source.value}/{gap.room}")
            yield from here.run(cable, gap.room, _judged(gap, values), subject)
    unseen = judged(PointsFacts("", tuple(points)))
    yield from here.remaining(cables.values(), done, unseen, values["rooms"])
    yield from here.rooms_to_verify()


def _judged(gap: HeatGap, values: dict[str, float]) -> Judged:
    name = f"{gap.source.value}_mm"
    far, shield = at_least(name, gap.distance_mm, values[name]), is_so("shielded", gap.shielded)
    counts = far
    if not far.holds and (shield.holds or (shield.holds is None and far.holds is False)):
        counts = shield
    return judged(HeatFacts(gap.cable, (counts,), gap.distance_mm))
