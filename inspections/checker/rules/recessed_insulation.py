"""Recessed luminaires and the insulation about them."""

from collections.abc import Iterator

from inspections.checker.asking.loose_points import (
    DUST,
    Asked,
    Point,
    at_least,
    is_so,
    judged,
    tapes,
    teller,
)
from inspections.checker.asking.loose_visual import Judged
from inspections.checker.asking.recessed import recessed_judged

from ..finding import Finding, Rule, Scope, rule
from ..house.boxes import Recessed
from ..site import HouseByCode

NAME = "recessed-insulation"
REMEDY = "Put in a luminaire marked for contact, or a barrier that keeps the insulation off."
WORDS = {
    "marked": Asked("marked for contact with insulation (Type IC)", REMEDY),
    "insulated": Asked("whether there will be insulation in its cavity", REMEDY),
    "insulation_mm": Asked("nearest insulation", REMEDY, "at least"),
}


@rule(
    NAME,
    topic="recessed luminaires",
    title="Recessed luminaires in insulation",
    tell=teller(WORDS),
    scope=Scope.ROOM,
    tapes=tapes(WORDS, "insulation_mm"),
)
def recessed_insulation(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A recessed luminaire that insulation touches is marked for it (Type IC).

    From any other the insulation is kept off by the distance that the code gives. One that is
    marked may stand anywhere.
    """
    limit = site.rulebook.get(f"{NAME}.insulation_mm")
    if limit is None:
        return
    yield from recessed_judged(this, site, lambda r: _judged(r, limit.value), (limit,))


def _judged(found: Recessed, asked: float) -> Judged:
    gap = found.insulation_mm
    if found.insulation_contact:
        return judged([is_so("marked", True)])
    if found.insulated is False:
        return judged([Point("insulated", False, False, True)])
    if gap is not None and gap >= asked - DUST:
        return judged([at_least("insulation_mm", gap, asked)])
    missing = [
        is_so("marked", found.insulation_contact, eyes=False),
        Point("insulated", found.insulated, False, False if found.insulated else None, False),
        at_least("insulation_mm", gap, asked, eyes=False),
    ]
    if any(point.holds is None for point in missing):
        missing = [point for point in missing if point.holds is None]
    return judged(missing)
