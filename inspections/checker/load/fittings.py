"""Faults of fixtures, stairs, outside doors and switches: what points to nothing or hangs over."""

from collections.abc import Iterator
from typing import Any

from . import reference_messages as words
from .faults import HouseFault
from .geometry import DUST, Data, length_given, objects


def fitting_faults(data: Data, names: dict[str, set[str]]) -> Iterator[HouseFault]:
    """Every fault of what is fitted in the rooms of a house file's values."""
    for index, room in objects(data.get("rooms")):
        path = f"rooms[{index}]"
        yield from _fixtures(path, room)
        yield from _each(f"{path}.joins", room.get("joins"), names["rooms"], "room")
        yield from _lights(path, room, names["boxes"])
    for index, box in objects(data.get("boxes")):
        for inner, device in objects(box.get("devices")):
            path = f"boxes[{index}].devices[{inner}].controls"
            yield from _each(path, device.get("controls"), names["boxes"], "box")


def _each(path: str, values: Any, names: set[str], noun: str) -> Iterator[HouseFault]:
    for index, value in enumerate(values if isinstance(values, list) else ()):
        if isinstance(value, str) and value not in names:
            yield HouseFault(f"{path}[{index}]", words.NO_SUCH[noun](name=repr(value)))


def _lights(path: str, room: Data, boxes: set[str]) -> Iterator[HouseFault]:
    for index, wall in objects(room.get("walls")):
        for inner, opening in objects(wall.get("openings")):
            light = opening.get("light")
            if isinstance(light, str) and light not in boxes:
                where = f"{path}.walls[{index}].openings[{inner}].light"
                yield HouseFault(where, words.NO_SUCH["box"](name=repr(light)))


def _fixtures(path: str, room: Data) -> Iterator[HouseFault]:
    walls = {}
    for _, wall in objects(room.get("walls")):
        if isinstance(wall.get("id"), str):
            walls[wall["id"]] = wall
    named: set[str] = set()
    for index, fixture in objects(room.get("fixtures")):
        where, name = f"{path}.fixtures[{index}]", fixture.get("id")
        if isinstance(name, str):
            if name in named:
                yield HouseFault(f"{where}.id", words.TWICE_IN_ROOM(name=repr(name)))
            named.add(name)
        yield from _off_wall(where, fixture, walls)


def _off_wall(where: str, fixture: Data, walls: dict[str, Data]) -> Iterator[HouseFault]:
    """A fixture on a wall that the room has not, or past the end of it."""
    wall = fixture.get("wall")
    if not isinstance(wall, str):
        return
    if wall not in walls:
        yield HouseFault(f"{where}.wall", words.ROOM_NO_WALL(wall=repr(wall)))
        return
    at, width = length_given(fixture.get("at_mm")), length_given(fixture.get("width_mm")) or 0
    length = length_given(walls[wall].get("length_mm"))
    if at is not None and length and 0 < length < at + width - DUST:
        yield HouseFault(where, words.ENDS_PAST_WALL(end=at + width, length=length))
