"""Supports of sheathed cable: the first one from a box, and those along the run."""

from collections.abc import Iterator

from inspections.checker.asking.loose_points import (
    Asked,
    Point,
    judged,
    measure_at_most,
    tapes,
    teller,
)
from inspections.checker.asking.loose_visual import Judged, cables_judged

from ..finding import Finding, Rule, Scope, rule
from ..house.boxes import Clamps, Material
from ..house.cables import Cable, CableKind
from ..site import HouseByCode

NAME = "cable-support"
SUPPORTED = (CableKind.NM, CableKind.UF, CableKind.AC)
REMEDY = "Put in a staple or strap."
WORDS = {
    "first_mm": Asked("from a box to the first support", REMEDY, "at most"),
    "unclamped_mm": Asked(
        "from a box that does not hold it to the first support", REMEDY, "at most"
    ),
    "interval_mm": Asked("between supports", REMEDY, "at most"),
}


@rule(
    NAME,
    topic="cables",
    title="Supports of cables",
    tell=teller(WORDS),
    scope=Scope.WIRING,
    tapes=tapes(WORDS, "first_mm", "unclamped_mm", "interval_mm"),
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
        return judged(
            [*points, measure_at_most("interval_mm", cable.interval_mm, values["interval_mm"])]
        )

    held = []
    for c in site.house.cables:
        if c.kind in SUPPORTED and not c.fished:
            held.append(c)
    yield from cables_judged(this, site, held, judge, limits)


def _first(
    site: HouseByCode, cable: Cable, end: str, measured: float | None, values: dict[str, float]
) -> Point:
    """The first support from one end; a box that may or may not clamp leaves some in doubt."""
    usual = measure_at_most("first_mm", measured, values["first_mm"])
    near = values.get("unclamped_mm")
    box = site.boxes.get(end)
    if near is None or box is None or box.gangs > 1 or cable.kind is CableKind.AC:
        return usual
    if box.material is Material.METAL or box.clamps in (Clamps.INTERNAL, Clamps.EXTERNAL):
        return usual
    close = measure_at_most("unclamped_mm", measured, near)
    if box.clamps is Clamps.NONE:
        return close
    if close.holds or usual.holds is False:
        return usual
    return close._replace(holds=None)
