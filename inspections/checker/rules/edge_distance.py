"""Cables kept from the edge of framing, or guarded by a plate."""

from collections.abc import Iterator

from inspections.checker.asking.loose_points import Asked, at_least, judged, tapes, teller
from inspections.checker.asking.loose_visual import Judged, Round

from ..finding import Finding, Rule, Scope, rule
from ..house.cables import Cable, CableKind, Hole
from ..site import HouseByCode

NAME = "edge-distance"
GUARDED = (CableKind.NM, CableKind.UF, CableKind.AC, CableKind.MC)
REMEDY = "Put a steel plate over it, or move the cable in."
WORDS = {
    "edge_mm": Asked("from the edge of framing, with no plate", REMEDY, "at least"),
    "plate_mm": Asked("steel plate over it", REMEDY, "at least"),
}


@rule(
    NAME,
    topic="cables",
    title="Cables clear of the edge of framing",
    tell=teller(WORDS),
    scope=Scope.WIRING,
    tapes=tapes(WORDS, "edge_mm", "plate_mm"),
)
def edge_distance(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A cable in or along framing stays so far from its edge that screws and nails miss it.

    Where it cannot, a steel plate guards it. A notch always takes a plate.
    """
    book = site.rulebook
    if f"{NAME}.edge_mm" not in book:
        return
    limits = (book[f"{NAME}.edge_mm"], book[f"{NAME}.plate_mm"])
    clear, thick = limits[0].value, limits[1].value

    here = Round(this, site, limits)
    cables = {cable.id: cable for cable in site.house.cables if cable.kind in GUARDED}
    for hole in site.house.holes:
        if cables.keys() & set(hole.cables):
            found = _judged(hole, clear, thick)
            yield from here.part(hole, "hole", found, "hole/")
    for notch in site.house.notches:
        if cables.keys() & set(notch.cables):
            found = judged([at_least("plate_mm", notch.plate_mm, thick)])
            yield from here.part(notch, "notch", found, "notch/")
    for cable in cables.values():
        yield from here.cable(cable, _judged(cable, clear, thick))
    yield from here.looks()


def _judged(where: Cable | Hole, clear: float, thick: float) -> Judged:
    """A cable along framing, or one through a hole, by its distance and then by its plate."""
    far = at_least("edge_mm", where.edge_mm, clear)
    guard = at_least("plate_mm", where.plate_mm, thick)
    if far.holds or (far.holds is None and not guard.holds):
        return judged([far])
    if guard.holds or guard.holds is None:
        return judged([guard], edge=where.edge_mm)
    return judged([far, guard])
