"""Boxes for range and dryer receptacles: firm, and where the appliance lets them be."""

from collections.abc import Iterator

from config.messages.message import message
from inspections.checker.asking.appliance_boxes import DRYER, RANGE, serves
from inspections.checker.asking.fixing import box_facts
from inspections.checker.asking.points import (
    Point,
    PointsFacts,
    PointWords,
    at_most,
    is_so,
    judged,
    point_words,
    tapes,
    teller,
)
from inspections.checker.asking.visual import Judged, RoomFacts, boxes_judged

from ..finding import Finding, Rule, Scope, rule
from ..house.boxes import Box, OnWall
from ..house.rooms import InterruptionKind
from ..measures import Comparator
from ..site import HouseByCode

NAME = "range-dryer-boxes"
UP = message(
    f"{NAME}.height",
    "The middle of box {part} is {figure} above the floor; {limit} maximum.",
)
OFF = message(
    f"{NAME}.off-middle",
    "Box {part} is {figure} off the middle of the range's space; {limit} maximum.",
)
WORDS = point_words(
    NAME,
    {
        "fixed": PointWords(
            wrong="Box {part} is not firmly secured.",
            ok="Box {part} is firmly secured.",
            missing="whether box {part} is firmly secured",
            remedy="Secure it so that pulling the plug does not move it.",
            verify="Each box is firmly secured.",
        ),
        "height_mm": PointWords(
            wrong=UP,
            ok=UP,
            missing="how high box {part} is",
            remedy="Lower it behind the range.",
            verify="The middle of a range box is no more than {limit} above the floor.",
            tape="from the floor to the middle of the range box",
            way=Comparator.AT_MOST,
        ),
        "off_middle_mm": PointWords(
            wrong=OFF,
            ok=OFF,
            missing="where the range's space is",
            remedy="Move it toward the middle.",
            verify="Range boxes are no more than {limit} off the middle of the range's space.",
            tape="from the middle of the range's space to the box",
            way=Comparator.AT_MOST,
        ),
    },
)


@rule(
    NAME,
    topic="boxes",
    title="Range and dryer boxes",
    tell=teller(WORDS),
    scope=Scope.ROOM,
    tapes=tapes(WORDS, "height_mm", "off_middle_mm"),
    facts=PointsFacts | RoomFacts,
    workmanship=True,
    fixes=box_facts(WORDS, fixed="fixed", height_mm="place.height_mm"),
)
def range_dryer_boxes(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """The box of a range or dryer receptacle is firmly fixed, since a heavy plug pulls at it.

    Where the code says so, a range receptacle is low and near the middle of the space that the
    range will take, so that the range goes back to the wall.
    """
    limits = tuple(site.rulebook.limits_of(NAME))
    if not limits:
        return
    values = {}
    for limit in limits:
        values[limit.name.partition(".")[2]] = limit.value
    boxes = [box for box in site.house.boxes if serves(box, RANGE) or serves(box, DRYER)]

    def judge(box: Box) -> Judged:
        points: list[Point] = []
        if values.get("fixed"):
            points.append(is_so("fixed", box.fixed))
        if serves(box, RANGE) and isinstance(box.place, OnWall):
            if "height_mm" in values:
                points.append(at_most("height_mm", box.place.height_mm, values["height_mm"]))
            if "off_middle_mm" in values:
                points.append(_off_middle(site, box, box.place, values["off_middle_mm"]))
        return judged(PointsFacts(box.id, tuple(points)))

    yield from boxes_judged(this, site, boxes, judge, limits)


def _off_middle(site: HouseByCode, box: Box, place: OnWall, most: float) -> Point:
    """How far the box stands from the middle of the nearest space for a range in its wall."""
    off = []
    for middle in _middles(site, box.room, place.wall):
        off.append(abs(place.at_mm - middle))
    return at_most("off_middle_mm", min(off, default=None), most)


def _middles(site: HouseByCode, room: str, wall: str) -> Iterator[float]:
    """The middles of the spaces for a range, from the left end of a wall."""
    for counter in site.counters_in[room]:
        start = 0.0
        for stretch in counter.along:
            for item in counter.interruptions:
                middle = item.at_mm + item.width_mm / 2 - start
                fits = 0 <= middle <= stretch.width_mm and stretch.wall == wall
                if item.kind is InterruptionKind.RANGE and fits:
                    yield stretch.at_mm + middle
            start += stretch.width_mm
