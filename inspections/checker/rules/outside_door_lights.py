"""A light outside each outside door, with a switch within."""

from collections.abc import Iterator
from typing import Any

from config.messages.message import message

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.rooms import Opening, OpeningKind, Room, Wall
from ..site import HouseByCode
from ..words import listed

NAME = "outside-door-lights"
OUTSIDE_DOOR = message("place.outside-door", "outside door")
DOORS = (OpeningKind.DOOR, OpeningKind.SLIDING_DOOR)


def tell(finding: Finding) -> FindingWords:
    """The door, its light and what turns that on."""
    data = finding.facts
    missing = listed(data["missing"])
    light = data["light"]
    if light:
        figure = f"light {light}"
    else:
        figure = "not recorded"
        if data["none"]:
            figure = "no light"
    says = {
        Verdict.MEETS: "A wall switch turns on a light outside this door.",
        Verdict.SHORT: "No light outside this door has a wall switch.",
        Verdict.UNKNOWN: f"Nobody recorded {missing}.",
    }[finding.verdict]
    working = [f"outside this door: {figure}"]
    if light:
        working.append(f"{light}: switched at {listed(data['switches']) or 'no wall switch'}")
    for fact in data["missing"]:
        working.append(f"not recorded: {fact}")
    remedy = {
        Verdict.SHORT: "Add a lighting outlet outside the door and a wall switch within.",
        Verdict.UNKNOWN: f"Record {missing}.",
    }.get(finding.verdict, "")
    return FindingWords(says, figure, "1 light with a wall switch", tuple(working), remedy)


@rule(NAME, topic="lighting", title="Lights at outside doors", tell=tell, scope=Scope.WIRING)
def outside_door_lights(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Outside each entrance is a light that a wall switch within turns on.

    One code leaves out doors from which nobody comes to the ground. A vehicle door is no
    entrance.
    """
    book = site.rulebook
    if not book.value(f"{NAME}.asked"):
        return
    for room in site.house.rooms:
        for wall in room.walls:
            doors = []
            for each in wall.openings:
                if each.kind in DOORS and wall.outside:
                    doors.append(each)
            for number, door in enumerate(doors, 1):
                if not (book.value(f"{NAME}.to_grade") and door.to_grade is False):
                    yield _door(this, site, room, wall, number, door)


def _door(
    this: Rule, site: HouseByCode, room: Room, wall: Wall, number: int, door: Opening
) -> Finding:
    switches = []
    if door.light:
        for switcher in site.lights.switchers(door.light):
            switches.append(switcher.box)
    missing = _missing(site, door, switches)
    verdict = Verdict.SHORT
    if missing:
        verdict = Verdict.UNKNOWN
    elif switches:
        verdict = Verdict.MEETS
    data: dict[str, Any] = {
        "light": door.light,
        "none": not site.lights_outdoors,
        "switches": switches,
        "to_grade": door.to_grade,
        "missing": missing,
    }
    at = door.at_mm + door.width_mm / 2
    spot = site.wall_spot(room, wall.id, at, OUTSIDE_DOOR())
    subject = f"{room.id}/{wall.id}.{number}"
    return Finding(this, subject, verdict, spot, data, tuple(site.rulebook.limits_of(NAME)))


def _missing(site: HouseByCode, door: Opening, switches: list[str]) -> list[str]:
    """What nobody recorded of a door without a switched light."""
    if switches:
        return []
    missing = []
    if door.light is None and site.lights_outdoors:
        missing.append("which light stands outside it")
    elif door.light and not site.wiring.power_at(door.light):
        missing.append(f"the cables of light {door.light}")
    if site.rulebook.value(f"{NAME}.to_grade") and door.to_grade is None:
        missing.append("whether it leads to the ground")
    return missing
