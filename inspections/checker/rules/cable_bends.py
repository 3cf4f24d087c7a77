"""Bends of sheathed cable."""

from collections.abc import Iterator

from inspections.checker.asking.loose_points import Asked, at_least, judged, teller
from inspections.checker.asking.loose_visual import Judged, cables_judged

from ..finding import Finding, Rule, Scope, rule
from ..house.cables import Cable, CableKind
from ..site import HouseByCode

NAME = "cable-bends"
BENT = (CableKind.NM, CableKind.UF)
WORDS = {
    "times": Asked("diameters of the cable in its sharpest bend", "Ease the bend.", "at least"),
}


@rule(NAME, topic="cables", title="Bends of cables", tell=teller(WORDS), scope=Scope.WIRING)
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
        point = at_least("times", times, limit.value, eyes=radius is None)
        return judged([point], bend=radius, width=width)

    cables = (cable for cable in site.house.cables if cable.kind in BENT)
    yield from cables_judged(this, site, cables, judge, (limit,))
