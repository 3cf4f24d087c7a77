"""Nothing that hangs over a tub or shower: pendants and ceiling fans."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import partial

from config.messages.message import Joined, Message, Text, Value, message
from inspections.checker.asking.bath_words import (
    MOVE,
    SPACE,
    away_text,
    bath_not_recorded,
    distance_lines,
    either_way,
    fixture_text,
    least,
    rise_text,
    space_end,
    touches,
)
from inspections.checker.asking.bath_zones import (
    BathZone,
    BesideTub,
    Near,
    deciding_zone,
    near,
    rooms_to_bathe,
    severest,
)
from inspections.checker.asking.visual import Judged, RoomFacts, boxes_judged, room_words

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, DeviceKind, Mounting, OnCeiling, OnWall
from ..house.fixtures import Fixture
from ..house.rooms import Room
from ..site import HouseByCode

NAME = "tub-luminaires"


class Hanging(StrEnum):
    """What hangs from a box, or might."""

    FAN = "ceiling_fan"
    PENDANT = "pendant"
    LIGHT = "light"
    """A light whose mounting is not recorded yet."""


WHAT: dict[Hanging, Message] = {
    Hanging.FAN: message(f"{NAME}.fan", "Ceiling fan {box}"),
    Hanging.PENDANT: message(f"{NAME}.pendant", "Pendant {box}"),
    Hanging.LIGHT: message(f"{NAME}.light", "Light {box}"),
}
"""The beginnings of sentences."""
AWAY = message(f"{NAME}.away", "{what} is {away} from {fixture}; {limit} minimum.")
OVER = message(f"{NAME}.over", "{what} is over {fixture}.")
ABOVE = message(
    f"{NAME}.above", "{what} is {rise} above the rim of {fixture}; more than {limit} required."
)
VERIFY = message(
    f"{NAME}.verify",
    "Nothing hangs within {out} of a tub or shower, up to {up} above its rim.",
)
MOUNT = message(f"{NAME}.mount", "Move it, or use a surface-mounted light.")


@dataclass(frozen=True, slots=True)
class TubLuminaireFacts:
    """What hangs from a box, and where it is to each tub and shower of its room.

    Its height is there where the answer rests on it.
    """

    box: str
    what: Hanging
    beside: frozenset[BesideTub]
    within_mm: float
    up_mm: float
    height_mm: float | None


def tell(finding: Finding) -> FindingWords:
    """What hangs there and how far it is from the tub or shower that decides."""
    facts = finding.facts
    if isinstance(facts, RoomFacts):
        out, up = least(finding.limits[0].value), space_end(finding.limits[1].value)
        return room_words(facts, (VERIFY(out=out, up=up),), Joined((out, up), "; "))
    limit = least(facts.within_mm)
    working = tuple(_working(facts))
    if finding.verdict is Verdict.INFO_NEEDED:
        return bath_not_recorded(facts.box, facts.beside, limit, working)
    each = deciding_zone(facts.beside, finding.verdict)
    working = (*working, *either_way(facts.box, facts.beside))
    remedy: Value = ""
    if finding.verdict is Verdict.NOT_TO_CODE:
        remedy = MOUNT()
        if not touches(each):
            remedy = MOVE()
    figure = away_text(each)
    if _by_height(each):
        figure, limit = rise_text(each, facts.height_mm, facts.up_mm), space_end(facts.up_mm)
    return FindingWords(_says(facts, each), figure, limit, working, remedy)


def _by_height(each: BesideTub) -> bool:
    """Whether its height above the rim decides, and not how far to the side it is."""
    return each.zone is BathZone.ABOVE or (touches(each) and each.rim_mm is not None)


def _says(facts: TubLuminaireFacts, each: BesideTub) -> Text:
    what, fixture = WHAT[facts.what](box=facts.box), fixture_text(each)
    if _by_height(each):
        rise = rise_text(each, facts.height_mm or 0.0, facts.up_mm)
        return ABOVE(what=what, rise=rise, fixture=fixture, limit=space_end(facts.up_mm))
    if touches(each):
        return OVER(what=what, fixture=fixture)
    limit = least(facts.within_mm)
    return AWAY(what=what, away=away_text(each), fixture=fixture, limit=limit)


def _working(facts: TubLuminaireFacts) -> Iterator[Value]:
    yield from distance_lines(facts.beside, facts.height_mm, facts.up_mm)
    yield SPACE(out=least(facts.within_mm), up=space_end(facts.up_mm))


@rule(
    NAME,
    topic="lighting",
    title="Hanging lights and fans near tubs and showers",
    tell=tell,
    scope=Scope.ROOM,
    facts=TubLuminaireFacts | RoomFacts,
)
def tub_luminaires(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """No pendant and no ceiling fan hangs within a distance out and up from a tub or shower.

    Lights mounted on the surface or in it are left out; how a light will be mounted, when it is not
    recorded yet, is verified by eye.
    """
    book = site.rulebook
    if f"{NAME}.within_mm" not in book:
        return
    limits = (book[f"{NAME}.within_mm"], book[f"{NAME}.up_mm"])
    for room, fixtures in rooms_to_bathe(site):
        boxes = []
        for box in site.boxes_in[room.id]:
            if _hanging(box) is not None:
                boxes.append(box)
        if fixtures:
            judge = partial(_judged, site, room, fixtures)
            yield from boxes_judged(this, site, boxes, judge, limits)


def _hanging(box: Box) -> Hanging | None:
    """What hangs from the box; None when nothing does."""
    if any(device.kind is DeviceKind.CEILING_FAN for device in box.devices):
        return Hanging.FAN
    mountings = []
    for d in box.devices:
        if d.kind is DeviceKind.LUMINAIRE:
            mountings.append(d.mounting)
    if Mounting.PENDANT in mountings:
        return Hanging.PENDANT
    if None in mountings:
        return Hanging.LIGHT
    return None


def _judged(site: HouseByCode, room: Room, fixtures: list[Fixture], box: Box) -> Judged:
    book = site.rulebook
    within, up = book.value(f"{NAME}.within_mm"), book.value(f"{NAME}.up_mm")
    height = _height(room, box)
    beside = frozenset(_one(each, within, up, height) for each in near(site, room, box, fixtures))
    if all(each.zone is BathZone.CLEAR for each in beside):
        height = None
    hanging = _hanging(box) or Hanging.LIGHT
    verdict = severest(beside)
    if verdict is not Verdict.OK and hanging is Hanging.LIGHT:
        verdict = Verdict.VERIFY
    return verdict, TubLuminaireFacts(box.id, hanging, beside, within, up, height)


def _one(each: Near, within: float, up: float, height: float | None) -> BesideTub:
    zone = each.within(within)
    if zone is not BathZone.NEAR:
        return each.beside(zone)
    return each.by_height(height, up, from_floor=True)


def _height(room: Room, box: Box) -> float | None:
    """How high the box is: that of the ceiling it is in, or its own on a wall."""
    if isinstance(box.place, OnCeiling):
        return room.ceiling_mm
    if isinstance(box.place, OnWall):
        return box.place.height_mm
    return None
