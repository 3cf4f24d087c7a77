"""Receptacles along the walls of rooms people live in."""

from collections.abc import Iterator
from typing import Any

from ..finding import Finding, Rule, Spot, Verdict, Words, rule
from ..floorline import Breaks, FloorLine, Space, uncovered, within
from ..house.boxes import Box, DeviceKind, OnFloor, OnWall
from ..house.rooms import OpeningKind, Room
from ..site import Site
from ..words import length, listed

NAME = "wall-receptacles"


def tell(finding: Finding) -> Words:
    """The space, its receptacles and what they leave uncovered."""
    data, imperial = finding.data, finding.imperial
    if "space" not in data:
        return Words(
            "The walls of this room are not recorded.", remedy="Record the walls and openings."
        )
    reach = length(data["reach"], imperial)
    working = [f"unbroken wall space of {length(data['space'], imperial)}, round corners"]
    working += [
        f"receptacle {box} at {length(at, imperial)} from its left end" for box, at in data["at"]
    ]
    working += [f"receptacle {box} does not count: {why}" for box, why in data["out"]]
    gaps = [
        f"{length(b - a, imperial)} from {length(at, imperial)} along wall {wall}"
        for a, b, wall, at in data["uncovered"]
    ]
    working += [f"farther than {reach} from any: {gap}" for gap in gaps]
    says = {
        Verdict.MEETS: f"No point of this wall space is more than {reach} from a receptacle.",
        Verdict.SHORT: f"Uncovered: {listed(gaps)}.",
        Verdict.UNKNOWN: f"It depends on {listed(data['missing'])}.",
    }[finding.verdict]
    remedy = {
        Verdict.SHORT: "Add a receptacle so that no point is farther than the reach.",
        Verdict.UNKNOWN: "Measure it and record it.",
    }.get(finding.verdict, "")
    worst = max((b - a for a, b, *_ in data["uncovered"]), default=0)
    figure = f"{length(worst, imperial)} uncovered" if worst else "covered"
    return Words(says, figure, f"{reach} reach", tuple(working), remedy)


@rule(NAME, topic="receptacles", title="Receptacles along walls", tell=tell)
def wall_receptacles(this: Rule, site: Site) -> Iterator[Finding]:
    """No point of an unbroken wall space may lie farther from a receptacle than the reach.

    Spaces run round corners and end at doorways, fireplaces, full-height cabinets, counters
    and whatever else the code names; the shortest are not asked for. Receptacles that stand
    too high, in a cabinet, for one appliance, or in the floor away from the wall do not count.
    """
    book = site.rulebook
    if f"{NAME}.reach_mm" not in book:
        return
    kinds = book.value(f"{NAME}.rooms")
    for room in site.house.rooms:
        if room.kind not in kinds:
            continue
        if not room.walls:
            limits = (book[f"{NAME}.reach_mm"], book[f"{NAME}.rooms"])
            yield Finding(this, room.id, Verdict.UNKNOWN, site.room_spot(room), {}, limits)
        else:
            yield from _room(this, site, room)


def breaks_of(site: Site) -> Breaks:
    """What parts a wall line by the site's code."""
    value = site.rulebook.value
    return Breaks(
        frozenset(OpeningKind(kind) for kind in value(f"{NAME}.breaks")),
        door_leaf=value(f"{NAME}.door_leaf", False),
        window_to_floor=value(f"{NAME}.window_to_floor", False),
        railing=value(f"{NAME}.railing", False),
    )


def _room(this: Rule, site: Site, room: Room) -> Iterator[Finding]:
    book, line = site.rulebook, site.lines[room.id]
    taken = [
        (start := line.position(stretch.wall, stretch.at_mm), start + stretch.width_mm)
        for counter in site.counters_in[room.id]
        for stretch in counter.along
    ]
    least = book.value(f"{NAME}.min_space_mm")
    points = [
        (box, line.position(box.place.wall, box.place.at_mm), *_counts(site, box))
        for box in site.boxes_in[room.id]
        if isinstance(box.place, OnWall | OnFloor) and _has_receptacle(box)
    ]
    names = ("reach_mm", "min_space_mm", "max_height_mm", "floor_from_wall_mm")
    limits = tuple(book[f"{NAME}.{name}"] for name in names if f"{NAME}.{name}" in book)
    for space in line.spaces(breaks_of(site), taken):
        if space.length >= least - 0.01:
            here = _within(space, line, points)
            data, verdict = _measure(space, here, book.value(f"{NAME}.reach_mm"))
            data["uncovered"] = [
                (round(a - space.start, 3), round(b - space.start, 3), *_rounded(line.wall_at(a)))
                for a, b in data["uncovered"]
            ]
            subject = f"{room.id}/{space.wall}.{space.number}"
            yield Finding(this, subject, verdict, _spot(site, room, line, space), data, limits)


Point = tuple[Box, float, bool | None, str]


def _within(space: Space, line: FloorLine, points: list[Point]) -> list[Point]:
    found = []
    for box, at, counts, why in points:
        position = within(space, at, line.length)
        if position is not None:
            found.append((box, position, counts, why))
    return found


def _measure(space: Space, here: list[Point], reach: float) -> tuple[dict[str, Any], Verdict]:
    sure = [at for _, at, counts, _ in here if counts]
    hoped = [at for _, at, counts, _ in here if counts is not False]
    left, at_best = uncovered(space, sure, reach), uncovered(space, hoped, reach)
    verdict = Verdict.MEETS if not left else Verdict.SHORT if at_best else Verdict.UNKNOWN
    data = {
        "space": round(space.length, 3),
        "reach": reach,
        "at": [(box.id, round(at - space.start, 3)) for box, at, counts, _ in here if counts],
        "out": [(box.id, why) for box, _, counts, why in here if counts is False],
        "missing": [why for _, _, counts, why in here if counts is None],
        "uncovered": at_best if verdict is Verdict.SHORT else left,
    }
    return data, verdict


def _rounded(place: tuple[str, float]) -> tuple[str, float]:
    return place[0], round(place[1], 3)


def _has_receptacle(box: Box) -> bool:
    return any(device.kind is DeviceKind.RECEPTACLE for device in box.devices)


def _counts(site: Site, box: Box) -> tuple[bool | None, str]:
    """Whether a receptacle box counts for the wall, or what is missing to tell."""
    general = [
        device
        for device in box.devices
        if device.kind is DeviceKind.RECEPTACLE
        and not (device.in_cabinet or device.part_of_equipment or device.dedicated_to)
        and device.poles == 1
    ]
    if not general:
        return False, "it is not for general use"
    place = box.place
    if isinstance(place, OnFloor):
        return _at_most(site, place.from_wall_mm, "floor_from_wall_mm", box, "from the wall")
    if isinstance(place, OnWall):
        return _at_most(site, place.height_mm, "max_height_mm", box, "above the floor")
    return False, "it is not on a wall"


def _at_most(
    site: Site, measured: float | None, limit: str, box: Box, where: str
) -> tuple[bool | None, str]:
    most = site.rulebook.value(f"{NAME}.{limit}")
    if most is None:
        return True, ""
    if measured is None:
        return None, f"how far {box.id} is {where}, which is not recorded"
    if measured > most + 0.01:
        return False, f"{length(measured, site.imperial)} {where}"
    return True, ""


def _spot(site: Site, room: Room, line: FloorLine, space: Space) -> Spot:
    wall, at = line.wall_at(space.start)
    return site.wall_spot(room, wall, at, ("from its left end", at))
