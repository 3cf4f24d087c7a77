"""Boxes of a kind at one height."""

from collections import Counter, defaultdict
from collections.abc import Iterator

from inspections.checker.asking.loose_points import Asked, judged, measure_at_most, tapes, teller
from inspections.checker.asking.loose_visual import Judged, boxes_judged

from ..finding import Finding, Rule, Scope, rule
from ..house.boxes import Box, DeviceKind, OnWall
from ..site import HouseByCode

NAME = "box-heights"
ALIKE = {DeviceKind.DIMMER: DeviceKind.SWITCH, DeviceKind.FAN_CONTROL: DeviceKind.SWITCH}
WORDS = {
    "tolerance_mm": Asked(
        "off the height of its kind", "Set it at the height of the others.", "at most"
    ),
}


@rule(
    NAME,
    topic="boxes",
    title="Boxes of a kind at one height",
    tell=teller(WORDS),
    scope=Scope.ROOM,
    tapes=tapes(WORDS, "tolerance_mm"),
)
def box_heights(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Boxes of a kind stand at the height that the shop states, or else at one height in a room.

    Without a stated height the most common one of the kind in the room is taken, the lower of
    two; all of them have to be measured for that. Boxes for one appliance, in a cabinet, or
    meant to stand at a height of their own are left out, and so are rooms such as kitchens
    where heights differ by purpose.
    """
    book = site.rulebook
    if f"{NAME}.tolerance_mm" not in book:
        return
    limits = (book[f"{NAME}.tolerance_mm"], book[f"{NAME}.rooms"])
    asked = limits[0].value
    at = _heights_asked(site, limits[1].value)

    def judge(box: Box) -> Judged:
        height, (of_kind, others) = _height(box), at[box.id]
        off = None
        if height is not None and of_kind is not None:
            off = abs(height - of_kind)
        point = measure_at_most("tolerance_mm", off, asked)
        return judged([point], at=of_kind, height=height, others=others)

    held = (box for box in site.house.boxes if box.id in at)
    yield from boxes_judged(this, site, held, judge, limits)


def _heights_asked(
    site: HouseByCode, rooms: list[str]
) -> dict[str, tuple[float | None, list[str]]]:
    """By box, the height of its kind, and the boxes that it was read off when none is stated."""
    alike: defaultdict[tuple[str, DeviceKind], list[Box]] = defaultdict(list)
    for box in site.house.boxes:
        if site.rooms[box.room].kind in rooms and (kind := _kind(box)):
            alike[box.room, kind].append(box)
    at: dict[str, tuple[float | None, list[str]]] = {}
    for (_, kind), boxes in alike.items():
        stated = site.house.height_mm.get(kind)
        if stated is not None:
            for box in boxes:
                at[box.id] = (stated, [])
        elif len(boxes) > 1:
            common = _common(boxes)
            names = [box.id for box in boxes]
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
