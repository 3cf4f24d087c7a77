"""Cables kept from what is hot."""

from collections.abc import Iterator

from inspections.checker.asking.loose_points import (
    Asked,
    Point,
    at_least,
    is_so,
    judged,
    tapes,
    teller,
)
from inspections.checker.asking.loose_visual import Judged, Round

from ..finding import Finding, Rule, Scope, rule
from ..house.cables import CableKind, HeatGap
from ..site import HouseByCode

NAME = "cable-heat"
KINDS = (CableKind.NM, CableKind.UF)
REMEDY = "Move the cable, or put a barrier that keeps it at room temperature."
WORDS = {
    "duct_mm": Asked("from a heating duct", REMEDY, "at least"),
    "pipe_mm": Asked("from a hot pipe", REMEDY, "at least"),
    "chimney_mm": Asked("from a masonry chimney", REMEDY, "at least"),
    "cleanout_mm": Asked("from a chimney's cleanout", REMEDY, "at least"),
    "shielded": Asked("behind a barrier that keeps it at room temperature", REMEDY),
}


@rule(
    NAME,
    topic="cables",
    title="Cables clear of heat",
    tell=teller(WORDS),
    scope=Scope.WIRING,
    tapes=tapes(WORDS, "duct_mm", "pipe_mm", "chimney_mm", "cleanout_mm"),
)
def cable_heat(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A sheathed cable keeps its distance from ducts, hot pipes, chimneys and cleanouts.

    A barrier that keeps it at room temperature stands in for distance. In rooms where such
    things are, cables beside which nothing was measured are left to eyes.
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
            name = f"{gap.cable} by the {gap.source.value}"
            yield from here.run(cable, gap.room, _judged(gap, values), subject, name)
    yield from here.remaining(cables.values(), done, judged(points), values["rooms"])
    yield from here.looks()


def _judged(gap: HeatGap, values: dict[str, float]) -> Judged:
    name = f"{gap.source.value}_mm"
    far, shield = at_least(name, gap.distance_mm, values[name]), is_so("shielded", gap.shielded)
    if far.holds:
        return judged([far])
    if shield.holds or (shield.holds is None and far.holds is False):
        return judged([shield], distance=gap.distance_mm)
    return judged([far])
