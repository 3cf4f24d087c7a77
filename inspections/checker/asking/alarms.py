"""Smoke and carbon monoxide alarms: which there are, where, and how far from doors and ranges."""

from collections.abc import Iterator
from enum import StrEnum
from math import hypot
from typing import NamedTuple

from config.messages.message import Message, Text, message
from inspections.checker.asking.fixtures import in_counter
from inspections.checker.geometry.plan import Point
from inspections.checker.house.boxes import Box, DeviceKind
from inspections.checker.house.fixtures import Fixture, FixtureKind
from inspections.checker.house.nouns import noun
from inspections.checker.house.rooms import InterruptionKind, Opening, Room, RoomKind, Wall
from inspections.checker.site import DOORWAYS, HouseByCode

SMOKE = frozenset({DeviceKind.SMOKE_ALARM, DeviceKind.COMBINED_ALARM})
CARBON_MONOXIDE = frozenset({DeviceKind.CO_ALARM, DeviceKind.COMBINED_ALARM})
NOT_LIVED_IN = frozenset(
    {RoomKind.ATTIC, RoomKind.CRAWL_SPACE, RoomKind.OUTDOORS, RoomKind.PORCH, RoomKind.GARAGE}
)
COOKING = frozenset({InterruptionKind.RANGE, InterruptionKind.COOKTOP})
COUNTED: dict[DeviceKind, Message] = {
    DeviceKind.SMOKE_ALARM: message(
        "count.smoke-alarms", "{n} smoke alarms", one="{n} smoke alarm"
    ),
    DeviceKind.CO_ALARM: message("count.co-alarms", "{n} CO alarms", one="{n} CO alarm"),
}
ADD = message("alarms.add", "Add one and interconnect it.")
HERE = message("alarms.here", "Found: {alarms}.")
EACH_AREA = message("alarms.each-area", "Each sleeping area has its own {alarm} outside.")
AT_DOORS = message("alarms.at-doors", "Check at the bedroom doors, or add an alarm.")


class AlarmPlace(StrEnum):
    """Where an alarm is required."""

    BEDROOM = "bedroom"
    OUTSIDE = "outside"
    LEVEL = "level"


FOUND: dict[AlarmPlace, Message] = {
    AlarmPlace.BEDROOM: message("alarms.bedroom.found", "{alarms} in this bedroom; 1 required."),
    AlarmPlace.OUTSIDE: message(
        "alarms.outside.found", "{alarms} outside the bedrooms; 1 required."
    ),
    AlarmPlace.LEVEL: message("alarms.level.found", "{alarms} on this level; 1 required."),
}
WANTING: dict[AlarmPlace, Message] = {
    AlarmPlace.BEDROOM: message("alarms.bedroom.none", "No {alarm} in this bedroom; 1 required."),
    AlarmPlace.OUTSIDE: message(
        "alarms.outside.none", "No {alarm} outside the bedrooms; 1 required."
    ),
    AlarmPlace.LEVEL: message("alarms.level.none", "No {alarm} on this level; 1 required."),
}


def alarms_found(kind: DeviceKind, place: AlarmPlace, count: int) -> Text:
    """How many alarms of a kind there are at a place where one is required."""
    if count:
        return FOUND[place](alarms=COUNTED[kind](n=count))
    return WANTING[place](alarm=noun(kind))


def alarms_in(site: HouseByCode, room: Room, kinds: frozenset[DeviceKind]) -> list[Box]:
    """The boxes of a room that hold an alarm of these kinds."""
    boxes: list[Box] = []
    for box in site.boxes_in[room.id]:
        if any(device.kind in kinds for device in box.devices):
            boxes.append(box)
    return boxes


class Sleeping(NamedTuple):
    """The bedrooms of a storey and the alarms outside them on the same storey."""

    storey: str
    bedrooms: list[Room]
    halls: list[Room]
    outside: list[Box]
    """Alarms in its hallways, or in any room lived in when it has no hallway."""


def sleeping_areas(site: HouseByCode, kinds: frozenset[DeviceKind]) -> Iterator[Sleeping]:
    """The bedrooms of each storey that has any, with what stands outside them."""
    for storey, rooms in site.rooms_on.items():
        bedrooms = []
        halls = []
        others = []
        for room in rooms:
            if room.kind is RoomKind.BEDROOM:
                bedrooms.append(room)
            elif room.kind not in NOT_LIVED_IN:
                others.append(room)
            if room.kind is RoomKind.HALLWAY:
                halls.append(room)
        if bedrooms:
            outside: list[Box] = []
            for room in halls or others:
                outside += alarms_in(site, room, kinds)
            yield Sleeping(storey, bedrooms, halls, outside)


def point_of(site: HouseByCode, box: Box) -> Point | None:
    """Where a box is on the plan; None when that is not known."""
    plan = site.plans.get(box.room)
    if plan:
        return plan.of(box)
    return None


def doors_of(room: Room) -> Iterator[tuple[Wall, Opening]]:
    """The doorways in the walls of a room."""
    for wall in room.walls:
        for opening in wall.openings:
            if opening.kind in DOORWAYS:
                yield wall, opening


def from_door(site: HouseByCode, point: Point, room: Room, wall: Wall, door: Opening) -> float:
    """The straight distance from a point to a doorway, mm."""
    plan = site.plans[room.id]
    (ax, ay), (bx, by) = (plan.at(wall.id, at) for at in (door.at_mm, door.at_mm + door.width_mm))
    along = ((point[0] - ax) * (bx - ax) + (point[1] - ay) * (by - ay)) / door.width_mm**2
    share = min(max(along, 0.0), 1.0)
    return hypot(point[0] - ax - share * (bx - ax), point[1] - ay - share * (by - ay))


def cooking_in(site: HouseByCode, room: Room) -> Iterator[Fixture]:
    """The ranges and cooktops of a room."""
    for each in room.fixtures or ():
        if each.kind is FixtureKind.RANGE:
            yield each
    for counter in site.counters_in[room.id]:
        for number, item in enumerate(counter.interruptions, 1):
            if item.kind in COOKING and counter.along:
                yield in_counter(counter, f"{counter.id}.{number}", item, FixtureKind.RANGE)
