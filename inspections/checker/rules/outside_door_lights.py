"""A light outside each outside door, with a switch within."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from config.messages.message import Listed, Text, Value, message
from inspections.checker.asking.light_words import (
    RECORD_WIRING,
    WHAT_SWITCHES,
    SwitchedOutlet,
    light_lines,
    switched,
)
from inspections.checker.asking.points import NOT_RECORDED, RECORD, STILL_MISSING
from inspections.checker.asking.switch_fixes import switched_from
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.rooms import Opening, OpeningKind, Room, Wall
from ..site import HouseByCode

NAME = "outside-door-lights"
OUTSIDE_DOOR = message("place.outside-door", "outside door")
DOORS = (OpeningKind.DOOR, OpeningKind.SLIDING_DOOR)
HAS = message(f"{NAME}.has", "Light {light} outside this door has a wall switch.")
DARK = message(f"{NAME}.dark", "Light {light} outside this door has no wall switch.")
NONE = message(f"{NAME}.none", "No light outside this door.")
DARK_FIX = message(f"{NAME}.dark.remedy", "Wire it to a switch inside.")
NONE_FIX = message(f"{NAME}.none.remedy", "Add one with a wall switch inside.")
NONE_OUTDOORS = message(f"{NAME}.none-outdoors", "no light recorded outdoors")
WHICH = message(f"{NAME}.which", "which light is outside this door")
GRADE = message(f"{NAME}.grade", "whether this door leads to grade")


class DoorLightGap(StrEnum):
    """A fact that is missing of a door without a switched light."""

    LIGHT = "light"
    SWITCH = "switch"
    GRADE = "grade"


@dataclass(frozen=True, slots=True)
class OutsideDoorLightFacts:
    """A door, the light outside it and what turns that on."""

    light: str | None
    switches: frozenset[str]
    to_grade: bool | None
    none_outdoors: bool
    missing: frozenset[DoorLightGap]


def tell(finding: Finding) -> FindingWords:
    """The door, its light and what turns that on."""
    facts: OutsideDoorLightFacts = finding.facts
    missing = _missing_texts(facts)
    working = tuple(_working(facts, missing))
    if finding.verdict is Verdict.INFO_NEEDED:
        what = NOT_RECORDED(what=Listed(missing))
        remedy = RECORD()
        if facts.missing == {DoorLightGap.SWITCH}:
            remedy = RECORD_WIRING()
        return FindingWords(what, working=working, remedy=remedy)
    if facts.light is None:
        return FindingWords(NONE(), working=working, remedy=NONE_FIX())
    if finding.verdict is Verdict.NOT_TO_CODE:
        return FindingWords(DARK(light=facts.light), working=working, remedy=DARK_FIX())
    return FindingWords(HAS(light=facts.light), working=working)


def _missing_texts(facts: OutsideDoorLightFacts) -> tuple[Text, ...]:
    """What is to be recorded, each as part of a sentence."""
    texts = []
    if DoorLightGap.LIGHT in facts.missing:
        texts.append(WHICH())
    if DoorLightGap.SWITCH in facts.missing and facts.light is not None:
        texts.append(WHAT_SWITCHES(light=facts.light))
    if DoorLightGap.GRADE in facts.missing:
        texts.append(GRADE())
    return tuple(texts)


def _working(facts: OutsideDoorLightFacts, missing: tuple[Text, ...]) -> Iterator[Value]:
    if facts.light is not None and DoorLightGap.SWITCH not in facts.missing:
        yield from light_lines([SwitchedOutlet(facts.light, facts.switches)])
    elif facts.light is None and facts.none_outdoors:
        yield NONE_OUTDOORS()
    for text in missing:
        yield STILL_MISSING(what=text)


def _fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """Which light is outside the door; or which switch turns it on."""
    facts = finding.facts
    if facts.light is not None:
        yield from switched_from(house, finding.spot.room, facts.light)


@rule(
    NAME,
    topic="lighting",
    title="Lights at outside doors",
    tell=tell,
    scope=Scope.WIRING,
    facts=OutsideDoorLightFacts,
    fixes=_fixes,
)
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
    switches: frozenset[str] = frozenset()
    if door.light:
        switches = switched(site, door.light).switches
    missing: frozenset[DoorLightGap] = frozenset()
    if not switches:
        missing = frozenset(_missing(site, door))
    verdict = Verdict.NOT_TO_CODE
    if missing:
        verdict = Verdict.INFO_NEEDED
    elif switches:
        verdict = Verdict.OK
    facts = OutsideDoorLightFacts(
        door.light, switches, door.to_grade, not site.lights_outdoors, missing
    )
    at = door.at_mm + door.width_mm / 2
    spot = site.wall_spot(room, wall.id, at, OUTSIDE_DOOR())
    subject = f"{room.id}/{wall.id}.{number}"
    return Finding(this, subject, verdict, spot, facts, tuple(site.rulebook.limits_of(NAME)))


def _missing(site: HouseByCode, door: Opening) -> Iterator[DoorLightGap]:
    """What is missing of a door without a switched light."""
    if door.light is None and site.lights_outdoors:
        yield DoorLightGap.LIGHT
    elif door.light and not site.wiring.power_at(door.light):
        yield DoorLightGap.SWITCH
    if site.rulebook.value(f"{NAME}.to_grade") and door.to_grade is None:
        yield DoorLightGap.GRADE
