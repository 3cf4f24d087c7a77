"""What rules say of the facts that can settle their findings, in words they share.

Each helper gives one fix, or, for a rule made of points, one for each point that is not met.
"""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

from inspections.checker.asking.points import Point, PointsFacts, Said
from inspections.checker.finding import Finding
from inspections.checker.house import House
from inspections.checker.house.boxes import Box, DeviceKind
from inspections.checker.house.cables import Cable
from inspections.checker.house.fixes import Fix, FixKind, fact_of, kind_of
from inspections.checker.house.paths import Path
from inspections.checker.house.power import Circuit, Protection
from inspections.checker.house.rooms import Room
from inspections.checker.measures import Comparator

Fixes = Callable[[Finding, House], Iterable[Fix]]

USUAL_HEIGHT_MM = 300.0
"""Where a receptacle is set whose height the shop does not state."""


def figure(
    path: Path, least: float | None = None, most: float | None = None, *, taped: bool = False
) -> Fix:
    """A figure that is held to a limit; its unit is that of the fact's name."""
    return Fix(path, kind_of(fact_of(path)), _rounded(least), _rounded(most), taped=taped)


def _rounded(limit: float | None) -> float | None:
    """Without what arithmetic adds beyond the thousandth."""
    if limit is None:
        return None
    return round(limit, 3)


def done(path: Path, to: Any = True) -> Fix:
    """What one button records."""
    return Fix(path, FixKind.DONE, to=to)


def choice(path: Path, choices: Iterable[Any]) -> Fix:
    """One of several; the same is offered once."""
    return Fix(path, FixKind.CHOICE, choices=tuple(dict.fromkeys(choices)))


def moved(box: str, to: dict[str, Any] | None = None) -> Fix:
    """The place of a box, given by a tap on the plan; `to` is one that would do."""
    return Fix(("boxes", box, "place"), FixKind.MOVED, to=to)


def box_facts(words: Mapping[str, Said], **facts: str) -> Fixes:
    """Of a rule made of points about boxes: the fact of the box that each point is about.

    A fact within another is written with a dot: place.height_mm.
    """
    return part_facts("boxes", words, **facts)


def part_facts(among: str, words: Mapping[str, Said], **facts: str) -> Fixes:
    """The same about the parts of another list of the house file."""

    def fixes(finding: Finding, _house: House) -> Iterator[Fix]:
        found = finding.facts
        if isinstance(found, PointsFacts):
            part: Path = (among, found.part)
            yield from point_fixes(part, found, words, facts)

    return fixes


def point_fixes(
    part: Path, found: PointsFacts, words: Mapping[str, Said], facts: Mapping[str, str]
) -> Iterator[Fix]:
    """A fix for each point that is not met, as the point is held."""
    for point in found.points:
        if point.holds or point.name not in facts:
            continue
        path = (*part, *facts[point.name].split("."))
        said = words[point.name]
        if isinstance(point.limit, bool):
            yield done(path, point.limit)
        elif isinstance(point.limit, int | float):
            taped = said.tape is not None and point.name == path[-1]
            yield held(path, said.way, point.limit, taped=taped)


def held(path: Path, way: Comparator | None, limit: float, *, taped: bool = False) -> Fix:
    """A figure that is held one way to its limit."""
    if way is Comparator.AT_LEAST:
        return figure(path, least=limit, taped=taped)
    return figure(path, most=limit, taped=taped)


def limit_in(point: Point) -> float:
    """The limit of a point that is held to a figure."""
    if isinstance(point.limit, int | float):
        return point.limit
    raise TypeError(f"{point.name} is held to no figure")


def light_path(house: House, box: str) -> Path:
    """The light in a box, among its devices."""
    return device_path(house, box, DeviceKind.LUMINAIRE)


def device_path(house: House, box: str, *kinds: DeviceKind) -> Path:
    """The first device of a kind in a box."""
    for place, device in enumerate(box_named(house, box).devices):
        if device.kind in kinds:
            return ("boxes", box, "devices", place)
    return ("boxes", box, "devices", 0)


def recessed_facts(words: Mapping[str, Said], **facts: str) -> Fixes:
    """Of a rule made of points about recessed lights."""

    def fixes(finding: Finding, house: House) -> Iterator[Fix]:
        found = finding.facts
        if isinstance(found, PointsFacts):
            part = (*light_path(house, found.part), "recessed")
            yield from point_fixes(part, found, words, facts)

    return fixes


def box_named(house: House, name: str) -> Box:
    """A box by its id."""
    return next(box for box in house.boxes if box.id == name)


def room_named(house: House, name: str) -> Room:
    """A room by its id."""
    return next(room for room in house.rooms if room.id == name)


def circuit_named(house: House, name: str) -> Circuit:
    """A circuit by its id."""
    return next(circuit for circuit in house.circuits if circuit.id == name)


def cable_named(house: House, name: str) -> Cable:
    """A cable by its id."""
    return next(cable for cable in house.cables if cable.id == name)


def breaker_fixes(circuits: Iterable[str], wanted: Protection) -> Iterator[Fix]:
    """The breaker of a circuit exchanged for one that protects."""
    for circuit in sorted(circuits):
        path: Path = ("circuits", circuit, "protection")
        yield choice(path, (wanted.value, Protection.DUAL.value))


def added_receptacle(house: House, place: dict[str, Any], room: str, **more: Any) -> Fix:
    """A receptacle that is not there yet."""
    return added_box(house, DeviceKind.RECEPTACLE, place, room, **more)


def added_box(house: House, kind: DeviceKind, place: dict[str, Any], room: str, **more: Any) -> Fix:
    """A box with one device that is not there yet, at the place where it is lacking."""
    name = next_id(house, kind)
    device = {"kind": kind.value}
    to = {"id": name, "room": room, "place": place, "devices": [device], **more}
    return Fix(("boxes", name), FixKind.ADDED, to=to)


def next_id(house: House, kind: DeviceKind) -> str:
    """The next id in the manner of the boxes for such a device: R54 where there are R1 to R53."""
    letters: Counter[str] = Counter()
    taken = set()
    for box in house.boxes:
        taken.add(box.id)
        if box.devices and box.devices[0].kind is kind:
            letters[box.id.rstrip("0123456789")] += 1
    letter = letters.most_common(1)[0][0] if letters else kind.value[0].upper()
    return _next(letter, taken | {cable.id for cable in house.cables})


def next_cable_id(house: House) -> str:
    """The same for a cable."""
    taken = {box.id for box in house.boxes}
    return _next("C", taken | {cable.id for cable in house.cables})


def _next(letter: str, taken: set[str]) -> str:
    highest = 0
    for name in taken:
        number = name.removeprefix(letter)
        if name.startswith(letter) and number.isdigit():
            highest = max(highest, int(number))
    return f"{letter}{highest + 1}"


def wall_place(wall: str, at_mm: float, height_mm: float | None) -> dict[str, Any]:
    """A place on a wall, as a house file has it; to the millimetre, as a tape reads."""
    place: dict[str, Any] = {"surface": "wall", "wall": wall, "at_mm": float(round(at_mm))}
    if height_mm is not None:
        place["height_mm"] = height_mm
    return place


def usual_height(house: House) -> float:
    """The height at which this house sets receptacles."""
    return house.height_mm.get(DeviceKind.RECEPTACLE, USUAL_HEIGHT_MM)


def on_longest_wall(house: House, room: str) -> dict[str, Any]:
    """The middle of a room's longest wall; its ceiling where no wall is recorded."""
    walls = room_named(house, room).walls
    if not walls:
        return {"surface": "ceiling"}
    longest = max(walls, key=lambda wall: wall.length_mm)
    return wall_place(longest.id, longest.length_mm / 2, usual_height(house))


def by_ground_fault(finding: Finding, house: House) -> Iterator[Fix]:
    """A receptacle that needs ground-fault protection: at its breaker, or in the receptacle."""
    facts = finding.facts
    yield from breaker_fixes(facts.circuits, Protection.GFCI)
    path = (*device_path(house, facts.box, DeviceKind.RECEPTACLE), "protection")
    yield done(path, Protection.GFCI.value)


def added_in_room(finding: Finding, house: House) -> Iterator[Fix]:
    """A receptacle where a room has too few of them."""
    yield added_receptacle(house, on_longest_wall(house, finding.spot.room), finding.spot.room)


def power_alone(house: House, cables: Iterable[str]) -> list[str]:
    """Those of some cables that carry power."""
    kept = []
    for name in cables:
        if cable_named(house, name).kind.carries_power:
            kept.append(name)
    return kept


def separation_path(house: House, cables: set[str], room: str) -> Path:
    """What was measured between two cables in a room."""
    for each in house.separations:
        if set(each.cables) == cables and each.room == room:
            return ("separations", f"{' '.join(each.cables)} {room}")
    raise LookupError(f"nothing is recorded between {sorted(cables)} in {room}")
