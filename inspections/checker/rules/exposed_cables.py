"""Cables across the faces of joists and rafters in attics, crawl spaces and basements."""

from collections.abc import Iterator

from inspections.checker.asking.loose_points import (
    DUST,
    Asked,
    Point,
    is_so,
    judged,
    measure_at_most,
    tapes,
    teller,
)
from inspections.checker.asking.loose_visual import Judged, Round

from ..finding import Finding, Rule, Scope, rule
from ..house.cables import Cable, CableKind, Crossing, Face
from ..house.rooms import RoomKind
from ..site import HouseByCode

NAME = "exposed-cables"
KINDS = (CableKind.NM, CableKind.UF)
OPEN = frozenset({RoomKind.ATTIC, RoomKind.CRAWL_SPACE, RoomKind.BASEMENT})
REMEDY = "Guard it with strips or a running board, or draw it through the framing."
WORDS = {
    "guarded": Asked("guarded where it crosses the faces of framing", REMEDY),
    "hatch_mm": Asked("from the attic's hatch", REMEDY, "more than"),
    "stairs": Asked("attic with permanent stairs", REMEDY),
    "space_mm": Asked("height between joists and rafters", REMEDY, "at most"),
}


@rule(
    NAME,
    topic="cables",
    title="Cables in attics and crawl spaces",
    tell=teller(WORDS),
    scope=Scope.WIRING,
    tapes=tapes(WORDS, "space_mm", "hatch_mm"),
)
def exposed_cables(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A cable that crosses the faces of joists or rafters is guarded where people may tread.

    In an attic that is asked near the way in, or where there is room to move, as the code says;
    below joists everywhere, but for cables heavy enough where the code lets those be. In an
    attic, crawl space or basement where cables end and no crossing is recorded, eyes decide.
    """
    limits = tuple(site.rulebook.limits_of(NAME))
    if not limits:
        return
    values = {}
    for limit in limits:
        values[limit.name.partition(".")[2]] = limit.value
    if not values.get("guarded"):
        return
    here = Round(this, site, limits)
    cables = {cable.id: cable for cable in site.house.cables if cable.kind in KINDS}
    done: set[tuple[str, str]] = set()
    for crossing in site.house.crossings:
        cable = cables.get(crossing.cable)
        if cable is not None:
            done.add((cable.id, crossing.room))
            subject = here.numbered(f"{cable.id}/{crossing.room}")
            judgement = _judged(crossing, cable, values)
            yield from here.run(cable, crossing.room, judgement, subject, cable.id)
    asked = judged([is_so("guarded", None)])
    yield from here.remaining(cables.values(), done, asked, OPEN)
    yield from here.looks()


def _judged(crossing: Crossing, cable: Cable, values: dict[str, float]) -> Judged:
    guarded = is_so("guarded", crossing.guarded)
    if guarded.holds:
        return judged([guarded])
    if crossing.face is Face.LOWER:
        if _is_heavy(cable, values):
            return judged([Point("guarded", crossing.guarded, True, True)])
        return judged([guarded])
    excuse = _excuse(crossing, values)
    unknown = []
    refuted = False
    for point in excuse:
        if point.holds is None:
            unknown.append(point)
        elif not point.holds:
            refuted = True
    if not unknown and not refuted:
        return judged(excuse)
    if guarded.holds is None or refuted:
        return judged([guarded])
    return judged(unknown)


def _excuse(found: Crossing, values: dict[str, float]) -> list[Point]:
    """What lets a cable on the upper faces of an attic's joists be without a guard."""
    if (most := values.get("space_mm")) is not None:
        return [measure_at_most("space_mm", found.space_mm, most)._replace(eyes=False)]
    far, hatch = found.hatch_mm, values["hatch_mm"]
    if far is None:
        holds = None
    else:
        holds = far > hatch + DUST
    away = Point("hatch_mm", far, hatch, holds, eyes=False)
    return [is_so("stairs", found.stairs, asked=False, eyes=False), away]


def _is_heavy(cable: Cable, values: dict[str, float]) -> bool:
    """Whether it is so heavy that the code lets it cross the lower faces of joists."""
    most = values.get("heavy_two_awg" if cable.insulated < 3 else "heavy_three_awg")
    size = cable.awg or ""
    number = 0
    if size.isdigit():
        number = int(size)
    kcmil = number >= 250
    return most is not None and bool(size) and (kcmil or number <= most)
