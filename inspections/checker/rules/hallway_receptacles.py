"""Receptacles in hallways: one in a long hallway, or none too far from any point."""

from collections.abc import Iterator
from typing import Any

from inspections.checker.asking.receptacles import count_at_most, for_general_use
from inspections.checker.geometry.hallways import Hallway

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import OnWall
from ..house.rooms import Room, RoomKind
from ..site import HouseByCode
from ..words import length, plural

NAME = "hallway-receptacles"


def tell(finding: Finding) -> FindingWords:
    """The hallway and its receptacles, as this code asks."""
    if "walls" in finding.facts:
        return FindingWords(
            "Nobody recorded the walls of this hallway.",
            "not recorded",
            working=("a hallway of some length needs a receptacle; it has no walls here",),
            remedy="Record its walls, doors and receptacles.",
        )
    if "least" in finding.facts:
        return _tell_long(finding)
    return _tell_reach(finding)


def _tell_long(finding: Finding) -> FindingWords:
    data, imperial = finding.facts, finding.imperial
    limit, least, most = (length(data[x], imperial) for x in ("limit", "least", "most"))
    if least == most:
        long = least
    else:
        long = f"between {least} and {most}"
    has = plural(len(data["boxes"]), "receptacle")
    says = {
        Verdict.MEETS: f"This hallway has {has}.",
        Verdict.SHORT: f"This hallway is {least} long or more and has no receptacle.",
        Verdict.LOOK: f"Measure this hallway along its middle: it is {long} long.",
        Verdict.UNKNOWN: f"Nobody recorded how high box {', '.join(data['maybe'])} stands.",
    }[finding.verdict]
    remedies = {
        Verdict.SHORT: "Add a receptacle in the hallway.",
        Verdict.LOOK: f"Add a receptacle if it is {limit} long or longer.",
        Verdict.UNKNOWN: "Measure its height and record it.",
    }
    working = (f"length along the middle: {long}", f"one receptacle from {limit} up: {has}")
    asked = f"1 receptacle from {limit} up"
    return FindingWords(says, has, asked, working, remedies.get(finding.verdict, ""))


def _tell_reach(finding: Finding) -> FindingWords:
    data, imperial = finding.facts, finding.imperial
    reach = length(data["reach"], imperial)
    walls = []
    for wall, a, b in data["far"]:
        walls.append(f"wall {wall} from {length(a, imperial)} to {length(b, imperial)}")
    says = {
        Verdict.MEETS: f"No point of this hallway is more than {reach} from a receptacle.",
        Verdict.SHORT: f"Points of this hallway are more than {reach} from a receptacle.",
        Verdict.LOOK: f"Measure that a cord of {reach} reaches every point of this hallway.",
    }[finding.verdict]
    remedies = {
        Verdict.SHORT: "Add a receptacle nearer to them.",
        Verdict.LOOK: "Measure round corners, not through doors; add a receptacle if one is out.",
    }
    working = []
    for box in data["boxes"]:
        working.append(f"receptacle {box} in it")
    for wall in walls:
        working.append(f"farther than {reach} in a straight line: {wall}")
    figure = plural(len(data["boxes"]), "receptacle")
    return FindingWords(
        says, figure, f"within {reach}", tuple(working), remedies.get(finding.verdict, "")
    )


@rule(NAME, topic="receptacles", title="Receptacles in hallways", tell=tell, scope=Scope.ROOM)
def hallway_receptacles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A hallway of some length has a receptacle, or no point of it is too far from one.

    One code asks for a receptacle from a certain length up, measured along the middle; another
    for none of its points to be farther from a receptacle than a cord runs, not through a door.
    """
    book = site.rulebook
    limit = book.get(f"{NAME}.length_mm") or book.get(f"{NAME}.reach_mm")
    if limit is None:
        return
    for room in site.house.rooms:
        if room.kind is not RoomKind.HALLWAY:
            continue
        spot = site.room_spot(room)
        if not room.walls:
            yield Finding(this, room.id, Verdict.UNKNOWN, spot, {"walls": 0}, (limit,))
        elif limit.name.endswith("length_mm"):
            verdict, data = _long(site, room, limit.value)
            if verdict:
                yield Finding(this, room.id, verdict, spot, data, (limit,))
        else:
            verdict, data = _reached(site, room, limit.value)
            yield Finding(this, room.id, verdict, spot, data, (limit,))


def _long(site: HouseByCode, room: Room, limit: float) -> tuple[Verdict | None, dict[str, Any]]:
    least, most = Hallway(room, site.lines[room.id]).lengths()
    highest = site.rulebook.value("wall-receptacles.max_height_mm")
    counted: dict[bool | None, list[str]] = {True: [], None: [], False: []}
    for box in site.receptacles_in[room.id]:
        if for_general_use(box):
            height: float | None = 0.0
            if isinstance(box.place, OnWall):
                height = box.place.height_mm
            counted[count_at_most(height, highest, "high")[0]].append(box.id)
    data = {"least": least, "most": most, "limit": limit, "boxes": counted[True]}
    data["maybe"] = counted[None]
    if counted[True]:
        return Verdict.MEETS, data
    if most < limit:
        return None, data
    if counted[None]:
        return Verdict.UNKNOWN, data
    return (Verdict.SHORT if least >= limit else Verdict.LOOK), data


def _reached(site: HouseByCode, room: Room, reach: float) -> tuple[Verdict, dict[str, Any]]:
    hallway = Hallway(room, site.lines[room.id])
    boxes = {}
    for box in site.receptacles_in[room.id]:
        if for_general_use(box) and isinstance(box.place, OnWall):
            boxes[box.id] = (box.place.wall, box.place.at_mm)
    far = hallway.farther_than(reach, list(boxes.values()))
    data = {"reach": reach, "boxes": list(boxes), "far": far}
    data["at"] = list(boxes.values())
    if far:
        return (Verdict.LOOK if hallway.opens_up() else Verdict.SHORT), data
    return (Verdict.MEETS if hallway.convex() else Verdict.LOOK), data
