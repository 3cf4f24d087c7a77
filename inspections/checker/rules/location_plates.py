"""Location plates for recessed luminaires in ceilings that will be boarded."""

from collections.abc import Iterator

from inspections.checker.asking.loose_points import Asked, Point, is_so, judged, teller
from inspections.checker.asking.loose_visual import Judged
from inspections.checker.asking.recessed import recessed_judged

from ..finding import Finding, Rule, Scope, rule
from ..house.boxes import CeilingFinish, Recessed
from ..site import HouseByCode

NAME = "location-plates"
REMEDY = "Put a plate on it, so that the boarders find it and cut where it is."
WORDS = {
    "plate": Asked("location plate in a ceiling that will be boarded", REMEDY),
    "ceiling": Asked("what the ceiling will be closed with", REMEDY),
}


@rule(
    NAME, topic="recessed luminaires", title="Location plates", tell=teller(WORDS), scope=Scope.ROOM
)
def location_plates(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A recessed luminaire in a ceiling that will be boarded carries a location plate.

    In a ceiling of wood none is asked for: each board is cut to fit as it goes up.
    """
    limit = site.rulebook.get(f"{NAME}.plate")
    if limit is None or not limit.value:
        return
    yield from recessed_judged(this, site, _judged, (limit,))


def _judged(found: Recessed) -> Judged:
    if found.ceiling is CeilingFinish.WOOD:
        return None
    plate = is_so("plate", found.plate)
    if found.ceiling is CeilingFinish.BOARD or found.plate is not False:
        return judged([plate])
    return judged([Point("ceiling", None, None, None)])
