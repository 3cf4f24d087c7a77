"""Location plates for recessed lights in ceilings of drywall."""

from collections.abc import Iterator

from inspections.checker.asking.fixing import recessed_facts
from inspections.checker.asking.points import (
    Point,
    PointsFacts,
    PointWords,
    is_so,
    judged,
    point_words,
    teller,
)
from inspections.checker.asking.recessed import recessed_judged
from inspections.checker.asking.visual import Judged, RoomFacts

from ..finding import Finding, Rule, Scope, rule
from ..house.boxes import Box, CeilingFinish, Recessed
from ..site import HouseByCode

NAME = "location-plates"
WORDS = point_words(
    NAME,
    {
        "plate": PointWords(
            wrong="Light {part} has no location plate.",
            ok="Light {part} has a location plate.",
            missing="whether light {part} has a location plate",
            remedy="Install a location plate before the drywall goes up.",
            verify="Recessed lights in drywall ceilings have location plates.",
        ),
        "ceiling": PointWords(
            wrong="The ceiling at light {part} will be drywall.",
            ok="The ceiling at light {part} will be wood.",
            missing="what closes the ceiling at light {part}",
            remedy="Install a location plate.",
            verify="Lights without a plate are in wood ceilings.",
        ),
    },
)


@rule(
    NAME,
    topic="recessed luminaires",
    title="Location plates",
    tell=teller(WORDS),
    scope=Scope.ROOM,
    facts=PointsFacts | RoomFacts,
    workmanship=True,
    fixes=recessed_facts(WORDS, plate="plate", ceiling="ceiling"),
)
def location_plates(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A recessed light in a ceiling of drywall has a location plate, by which it is cut out.

    In a ceiling of wood none is required: each board is cut to fit as it goes up.
    """
    limit = site.rulebook.get(f"{NAME}.plate")
    if limit is None or not limit.value:
        return
    yield from recessed_judged(this, site, _judged, (limit,))


def _judged(box: Box, found: Recessed) -> Judged:
    if found.ceiling is CeilingFinish.WOOD:
        return None
    plate = is_so("plate", found.plate)
    if found.ceiling is CeilingFinish.BOARD or found.plate is not False:
        return judged(PointsFacts(box.id, (plate,)))
    return judged(PointsFacts(box.id, (Point("ceiling", None, None, None),)))
