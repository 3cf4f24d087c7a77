"""Supports of sheathed cable: the first one from a box, and those along the run."""

from collections.abc import Iterator
from dataclasses import replace

from config.messages.message import message
from inspections.checker.asking.fixing import cable_named, figure, limit_in
from inspections.checker.asking.points import (
    Point,
    PointsFacts,
    PointWords,
    at_most,
    judged,
    point_words,
    tapes,
    teller,
)
from inspections.checker.asking.visual import Judged, RoomFacts, cables_judged
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix
from inspections.checker.house.paths import Path

from ..finding import Finding, Rule, Scope, rule
from ..house.boxes import Clamps, Material
from ..house.cables import Cable, CableKind
from ..measures import Comparator
from ..site import HouseByCode

NAME = "cable-support"
SUPPORTED = (CableKind.NM, CableKind.UF, CableKind.AC)
FIRST = message(
    f"{NAME}.first", "Cable {part}: {figure} from {at} to its first support; {limit} maximum."
)
UNCLAMPED = message(
    f"{NAME}.unclamped",
    "Cable {part}: {figure} from box {at} (no clamp) to its first support; {limit} maximum.",
)
APART = message(f"{NAME}.apart", "Cable {part}: {figure} between supports; {limit} maximum.")
FIRST_MISSING = message(
    f"{NAME}.first.missing", "how far from {at} the first support of cable {part} is"
)
REMEDY = message(f"{NAME}.remedy", "Add a staple or strap.")
WORDS = point_words(
    NAME,
    {
        "first_mm": PointWords(
            wrong=FIRST,
            ok=FIRST,
            missing=FIRST_MISSING,
            remedy=REMEDY,
            verify="The first support is no more than {limit} from a box.",
            tape="from the box to the first support",
            way=Comparator.AT_MOST,
        ),
        "unclamped_mm": PointWords(
            wrong=UNCLAMPED,
            ok=UNCLAMPED,
            missing=FIRST_MISSING,
            remedy=REMEDY,
            verify="From a single-gang box without a clamp: {limit} maximum.",
            tape="from a box without a clamp to the first support",
            way=Comparator.AT_MOST,
        ),
        "interval_mm": PointWords(
            wrong=APART,
            ok=APART,
            missing="how far apart the supports of cable {part} are",
            remedy=REMEDY,
            verify="Supports are no more than {limit} apart.",
            tape="between supports",
            way=Comparator.AT_MOST,
        ),
    },
)


def _fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """The distance to the first support at an end, and that between supports."""
    facts = finding.facts
    if not isinstance(facts, PointsFacts):
        return
    ends = cable_named(house, facts.part).ends
    for point in facts.points:
        if point.holds:
            continue
        path: Path = ("cables", facts.part, "interval_mm")
        if point.at:
            path = ("cables", facts.part, "first_supports_mm", ends.index(point.at))
        yield figure(path, most=limit_in(point), taped=True)


@rule(
    NAME,
    topic="cables",
    title="Cable support",
    tell=teller(WORDS),
    scope=Scope.WIRING,
    tapes=tapes(WORDS, "first_mm", "unclamped_mm", "interval_mm"),
    facts=PointsFacts | RoomFacts,
    workmanship=True,
    fixes=_fixes,
)
def cable_support(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A sheathed or armoured cable is supported near each box, and again along its run.

    A hole in framing that carries it is a support. Where the code says so, a single-gang plastic
    box that does not clamp the cable brings the first support nearer. Cable that was fished
    through a closed space is left out.
    """
    limits = tuple(site.rulebook.limits_of(NAME))
    if not limits:
        return
    values = {}
    for limit in limits:
        values[limit.name.partition(".")[2]] = limit.value

    def judge(cable: Cable) -> Judged:
        near = cable.first_supports_mm or (None, None)
        points = []
        for end, measured in zip(cable.ends, near, strict=True):
            points.append(_first(site, cable, end, measured, values))
        points.append(at_most("interval_mm", cable.interval_mm, values["interval_mm"]))
        return judged(PointsFacts(cable.id, tuple(points)))

    held = []
    for c in site.house.cables:
        if c.kind in SUPPORTED and not c.fished:
            held.append(c)
    yield from cables_judged(this, site, held, judge, limits)


def _first(
    site: HouseByCode, cable: Cable, end: str, measured: float | None, values: dict[str, float]
) -> Point:
    """The first support from one end; a box that may or may not clamp leaves some in doubt."""
    usual = at_most("first_mm", measured, values["first_mm"], end)
    near = values.get("unclamped_mm")
    box = site.boxes.get(end)
    if near is None or box is None or box.gangs > 1 or cable.kind is CableKind.AC:
        return usual
    if box.material is Material.METAL or box.clamps in (Clamps.INTERNAL, Clamps.EXTERNAL):
        return usual
    close = at_most("unclamped_mm", measured, near, end)
    if box.clamps is Clamps.NONE:
        return close
    if close.holds or usual.holds is False:
        return usual
    return replace(close, holds=None)
