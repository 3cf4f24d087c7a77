"""Faults of geometry: openings beyond their wall, walls that do not close, boxes off a wall."""

import itertools
import math
from collections.abc import Iterator
from typing import Any

from . import reference_messages as words
from .faults import HouseFault

Data = dict[str, Any]
CLOSES_WITHIN = 50  # mm; what tapes and plans disagree by
DUST = 0.05  # mm


def length_given(value: Any) -> float | None:
    """The value as a usable length, or None when its shape is at fault."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    if -1e6 <= value <= 1e6:
        return float(value)
    return None


def objects(value: Any) -> list[tuple[int, Data]]:
    """The objects in a list, with their places."""
    if not isinstance(value, list):
        return []
    numbered: list[tuple[int, Data]] = []
    for index, part in enumerate(value):
        if isinstance(part, dict):
            numbered.append((index, part))
    return numbered


def room_faults(path: str, room: Data) -> Iterator[HouseFault]:
    """Walls named twice, openings that do not fit, walls that do not come back."""
    walls = objects(room.get("walls"))
    named: set[str] = set()
    for index, wall in walls:
        name = wall.get("id")
        if isinstance(name, str):
            if name in named:
                yield HouseFault(f"{path}.walls[{index}].id", words.TWICE_IN_ROOM(name=repr(name)))
            named.add(name)
        yield from _opening_faults(f"{path}.walls[{index}]", wall)
    yield from _closing_fault(path, room, [wall for _, wall in walls])


def _opening_faults(path: str, wall: Data) -> Iterator[HouseFault]:
    length = length_given(wall.get("length_mm"))
    spans = []
    for index, opening in objects(wall.get("openings")):
        at, width = length_given(opening.get("at_mm")), length_given(opening.get("width_mm"))
        if at is None or width is None or at < 0 or width <= 0:
            continue
        where = f"{path}.openings[{index}]"
        if length is not None and length > 0 and at + width > length + DUST:
            yield HouseFault(where, words.ENDS_PAST_WALL(end=at + width, length=length))
        spans.append((at, at + width, where))
    yield from _overlaps(spans)


def _overlaps(spans: list[tuple[float, float, str]]) -> Iterator[HouseFault]:
    for before, after in itertools.pairwise(sorted(spans)):
        if after[0] < before[1] - DUST:
            yield HouseFault(after[2], words.OVERLAPS(other=before[2].rsplit(".", 1)[1]))


def _closing_fault(path: str, room: Data, walls: list[Data]) -> Iterator[HouseFault]:
    if room.get("closed", True) is not True or not walls:
        return
    x = y = heading = 0.0
    for wall in walls:
        length, turn = length_given(wall.get("length_mm")), length_given(wall.get("turn_deg", 90))
        if length is None or length <= 0 or turn is None:
            return
        x += length * math.sin(math.radians(heading))
        y += length * math.cos(math.radians(heading))
        heading += turn
    gap = math.hypot(x, y)
    if gap > CLOSES_WITHIN:
        yield HouseFault(f"{path}.walls", words.NOT_CLOSED(gap=round(gap)))
    elif abs(heading - 360) > 0.5:
        yield HouseFault(f"{path}.walls", words.TURNS(degrees=heading))


def counter_faults(path: str, counter: Data, rooms: dict[str, Data]) -> Iterator[HouseFault]:
    """Stretches off their wall, fixtures off their counter, a wall counter along nothing."""
    walls = _walls(rooms, counter.get("room"))
    stretches = objects(counter.get("along"))
    whole = 0.0
    for index, stretch in stretches:
        where = f"{path}.along[{index}]"
        yield from _span_faults(where, stretch, walls)
        whole += length_given(stretch.get("width_mm")) or 0
    kind = counter.get("kind")
    if kind in ("island", "peninsula") and stretches:
        yield HouseFault(f"{path}.along", words.ALONG_WALL_ALONE(kind=kind))
    if kind != "wall":
        return
    if not stretches and isinstance(counter.get("along", []), list):
        yield HouseFault(f"{path}.along", words.ALONG_MISSING())
    yield from _interruption_faults(path, counter, whole)


def _interruption_faults(path: str, counter: Data, whole: float) -> Iterator[HouseFault]:
    for index, item in objects(counter.get("interruptions")):
        at, width = length_given(item.get("at_mm")), length_given(item.get("width_mm"))
        if at is not None and width is not None and at + width > whole + DUST:
            where = f"{path}.interruptions[{index}]"
            yield HouseFault(where, words.ENDS_PAST_COUNTER(end=at + width, length=whole))


def _span_faults(where: str, stretch: Data, walls: dict[str, Data] | None) -> Iterator[HouseFault]:
    name = stretch.get("wall")
    if walls is None or not isinstance(name, str):
        return
    if name not in walls:
        yield HouseFault(f"{where}.wall", words.ROOM_NO_WALL(wall=repr(name)))
        return
    at, width = length_given(stretch.get("at_mm")), length_given(stretch.get("width_mm"))
    length = length_given(walls[name].get("length_mm"))
    if at is not None and width is not None and length and 0 < length < at + width - DUST:
        yield HouseFault(where, words.ENDS_PAST_WALL(end=at + width, length=length))


def place_faults(
    path: str, box: Data, rooms: dict[str, Data], counters: dict[Any, Data]
) -> Iterator[HouseFault]:
    """A box on a wall or counter that its room lacks, or past the end of one."""
    place = box.get("place")
    if not isinstance(place, dict):
        return
    surface = place.get("surface")
    if surface == "counter":
        yield from _on_counter(path, box, place, counters)
    walls = _walls(rooms, box.get("room"))
    name = place.get("wall")
    if surface not in ("wall", "floor") or walls is None or not isinstance(name, str):
        return
    if name not in walls:
        yield HouseFault(
            f"{path}.wall", words.NAMED_ROOM_NO_WALL(room=repr(box["room"]), wall=repr(name))
        )
        return
    at, length = length_given(place.get("at_mm")), length_given(walls[name].get("length_mm"))
    if at is not None and length and 0 < length < at - DUST:
        yield HouseFault(f"{path}.at_mm", words.AT_PAST_WALL(at=at, length=length))


def _on_counter(
    path: str, box: Data, place: Data, counters: dict[Any, Data]
) -> Iterator[HouseFault]:
    name = place.get("counter")
    if not isinstance(name, str):
        return
    if name not in counters:
        yield HouseFault(f"{path}.counter", words.NO_SUCH["counter"](name=repr(name)))
    elif counters[name].get("room") != box.get("room"):
        yield HouseFault(f"{path}.counter", words.OTHER_ROOM(name=repr(name)))


def _walls(rooms: dict[str, Data], name: Any) -> dict[str, Data] | None:
    """The walls of a room by name; None where the room itself is at fault."""
    if not isinstance(name, str) or name not in rooms:
        return None
    walls = {}
    for _, wall in objects(rooms[name].get("walls")):
        if isinstance(wall.get("id"), str):
            walls[wall["id"]] = wall
    return walls
