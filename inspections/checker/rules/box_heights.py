"""Boxes of a kind at one height."""

from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace

from config.messages.message import Length, Listed, message
from inspections.checker.asking.fixing import figure, limit_in
from inspections.checker.asking.lines import in_order
from inspections.checker.asking.points import (
    PointsFacts,
    PointWords,
    at_most,
    judged,
    point_words,
    tapes,
    teller,
)
from inspections.checker.asking.visual import Judged, RoomFacts, boxes_judged
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, DeviceKind, OnWall
from ..measures import Comparator
from ..site import HouseByCode

NAME = "box-heights"
ALIKE = {DeviceKind.DIMMER: DeviceKind.SWITCH, DeviceKind.FAN_CONTROL: DeviceKind.SWITCH}
OFF = message(f"{NAME}.off", "Box {part} is {figure} off the usual height; {limit} maximum.")
AT = message(f"{NAME}.at", "Box {part} is at the usual height, within {limit}.")
STATED = message(f"{NAME}.stated", "{height} up; the height set for this house is {of_kind}")
COMMON = message(f"{NAME}.common", "{height} up; {of_kind} is the most common height of {boxes}")
SET_IT = message(f"{NAME}.remedy", "Set it at {of_kind}.")
WORDS = point_words(
    NAME,
    {
        "tolerance_mm": PointWords(
            wrong=OFF,
            ok=AT,
            missing="how high box {part} is",
            remedy="Set it level with the others.",
            verify="Boxes of the same kind are at one height, within {limit}.",
            tape="from the usual height to the box",
            way=Comparator.AT_MOST,
        ),
    },
)


@dataclass(frozen=True, slots=True)
class HeightFacts(PointsFacts):
    """How far a box is off the height of its kind, and where that height comes from."""

    of_kind_mm: float | None
    height_mm: float | None
    others: frozenset[str]
    """The boxes it was read off, itself among them; none where the shop states it."""


def tell(finding: Finding) -> FindingWords:
    """The box against the height of its kind, and the height to set it at."""
    words = teller(WORDS)(finding)
    facts = finding.facts
    if not isinstance(facts, HeightFacts) or facts.of_kind_mm is None or facts.height_mm is None:
        return words
    of_kind, height = Length(facts.of_kind_mm), Length(facts.height_mm)
    if facts.others:
        boxes = in_order(facts.others)
        common = COMMON(height=height, of_kind=of_kind, boxes=Listed(tuple(boxes)))
        return replace(words, working=(common, *words.working))
    if finding.verdict is Verdict.NOT_TO_CODE:
        words = replace(words, remedy=SET_IT(of_kind=of_kind))
    return replace(words, working=(STATED(height=height, of_kind=of_kind), *words.working))


def _fixes(finding: Finding, _house: House) -> Iterator[Fix]:
    """Its height, within the tolerance both ways."""
    facts = finding.facts
    if isinstance(facts, HeightFacts) and facts.of_kind_mm is not None:
        off = limit_in(facts.points[0])
        path = ("boxes", facts.part, "place", "height_mm")
        yield figure(path, facts.of_kind_mm - off, facts.of_kind_mm + off)


@rule(
    NAME,
    topic="boxes",
    title="Box heights",
    tell=tell,
    scope=Scope.ROOM,
    tapes=tapes(WORDS, "tolerance_mm"),
    facts=HeightFacts | RoomFacts,
    workmanship=True,
    fixes=_fixes,
)
def box_heights(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Boxes of a kind are at the height that the shop sets, or else at one height in a room.

    Without a set height the most common one of the kind in the room is taken, the lower of two; all
    of them have to be measured for that. Boxes for one appliance, in a cabinet, or meant for a
    height of their own are left out, and so are rooms such as kitchens where heights differ by
    purpose.
    """
    book = site.rulebook
    if f"{NAME}.tolerance_mm" not in book:
        return
    limits = (book[f"{NAME}.tolerance_mm"], book[f"{NAME}.rooms"])
    tolerance = limits[0].value
    at = _heights_held(site, limits[1].value)

    def judge(box: Box) -> Judged:
        height, (of_kind, others) = _height(box), at[box.id]
        off = None
        if height is not None and of_kind is not None:
            off = abs(height - of_kind)
        point = at_most("tolerance_mm", off, tolerance)
        return judged(HeightFacts(box.id, (point,), of_kind, height, others))

    held = (box for box in site.house.boxes if box.id in at)
    yield from boxes_judged(this, site, held, judge, limits)


def _heights_held(
    site: HouseByCode, rooms: list[str]
) -> dict[str, tuple[float | None, frozenset[str]]]:
    """By box, the height of its kind, and the boxes that it was read off when none is stated."""
    alike: defaultdict[tuple[str, DeviceKind], list[Box]] = defaultdict(list)
    for box in site.house.boxes:
        if site.rooms[box.room].kind in rooms and (kind := _kind(box)):
            alike[box.room, kind].append(box)
    at: dict[str, tuple[float | None, frozenset[str]]] = {}
    for (_, kind), boxes in alike.items():
        stated = site.house.height_mm.get(kind)
        if stated is not None:
            for box in boxes:
                at[box.id] = (stated, frozenset())
        elif len(boxes) > 1:
            common = _common(boxes)
            names = frozenset(box.id for box in boxes)
            for name in names:
                at[name] = (common, names)
    return at


def _kind(box: Box) -> DeviceKind | None:
    """The kind by which its height is held; None when nothing is asked of it."""
    if not isinstance(box.place, OnWall) or box.own_height or not box.devices:
        return None
    if any(d.dedicated_to or d.in_cabinet or d.part_of_equipment for d in box.devices):
        return None
    kind = box.devices[0].kind
    return ALIKE.get(kind, kind)


def _height(box: Box) -> float | None:
    if isinstance(box.place, OnWall):
        return box.place.height_mm
    return None


def _common(boxes: list[Box]) -> float | None:
    """The most common height, the lower of two; None while one of them is not measured."""
    measured = []
    for box in boxes:
        measured.append(_height(box))
    heights = Counter(measured)
    if None in heights:
        return None
    known = []
    for h in heights:
        if h is not None:
            known.append(h)
    return min(known, key=lambda h: (-heights[h], h))
