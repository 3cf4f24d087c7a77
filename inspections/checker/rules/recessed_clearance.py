"""Recessed luminaires and what burns about them."""

from collections.abc import Iterator

from inspections.checker.asking.loose_points import Asked, at_least, is_so, judged, tapes, teller
from inspections.checker.asking.loose_visual import Judged
from inspections.checker.asking.recessed import recessed_judged

from ..finding import Finding, Rule, Scope, rule
from ..house.boxes import Recessed
from ..site import HouseByCode

NAME = "recessed-clearance"
REMEDY = "Move it away from the framing, or put in one marked for contact."
WORDS = {
    "marked": Asked("marked for contact with insulation (Type IC)", REMEDY),
    "combustible_mm": Asked("nearest material that burns", REMEDY, "at least"),
}


@rule(
    NAME,
    topic="recessed luminaires",
    title="Recessed luminaires clear of framing",
    tell=teller(WORDS),
    scope=Scope.ROOM,
    tapes=tapes(WORDS, "combustible_mm"),
)
def recessed_clearance(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A recessed luminaire stands clear of framing and all else that burns.

    The points where it is held, and the edge of the opening, may touch. One that is marked for
    contact with insulation (Type IC) may touch framing too.
    """
    limit = site.rulebook.get(f"{NAME}.combustible_mm")
    if limit is None:
        return

    def judge(found: Recessed) -> Judged:
        if found.insulation_contact:
            return judged([is_so("marked", True)])
        clear = at_least("combustible_mm", found.combustible_mm, limit.value)
        if clear.holds or found.insulation_contact is False:
            return judged([clear])
        return judged([is_so("marked", None), clear._replace(holds=None)])

    yield from recessed_judged(this, site, judge, (limit,))
