"""Lights in clothes closets, away from what is kept there."""

from collections.abc import Iterator
from enum import StrEnum
from typing import Any

from inspections.checker.asking.loose_visual import (
    Judged,
    boxes_judged,
    measured_finding,
    tell_look,
)
from inspections.checker.geometry.intervals import EPSILON
from inspections.checker.graph.lights import is_light

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, Device, DeviceKind, Mounting, OnWall
from ..house.rooms import OpeningKind, Room, RoomKind
from ..measures import Comparator, HasFigures, Tape
from ..rulebook import Rulebook
from ..site import HouseByCode
from ..words import length

NAME = "closet-luminaires"
DOORWAYS = (OpeningKind.DOOR, OpeningKind.SLIDING_DOOR, OpeningKind.OPENING)
CLEAR = "clear of what is kept there"


def tell(finding: Finding) -> FindingWords:
    """Where the light is, how it is mounted and how far from storage."""
    data, imperial = finding.facts, finding.imperial
    if "look" in data:
        return _tell_look(finding)
    if data["asked"] is None:
        limit = CLEAR
    else:
        limit = f"at least {length(data['asked'], imperial)}"
    clear = data["clear"]
    if clear is None:
        figure = "not measured"
    else:
        figure = f"{length(clear, imperial)} clear"
    says = {
        "": "The light is clear of what is kept in the closet.",
        "near": "The light is too near what is kept in the closet.",
        "pendant": "A pendant hangs in a clothes closet.",
        "wall": "The light is neither in the ceiling nor on the wall above the door.",
    }[data["why"]]
    about = f"{data['mounting'] or 'mounting not recorded'}, {data['lamp'] or 'lamp not recorded'}"
    remedy = "Move the light, or change it for one that may be there."
    return measured_finding(finding, figure, limit, says, remedy, about, f"{figure}; {limit} asked")


def _tell_look(finding: Finding) -> FindingWords:
    imperial = finding.imperial
    asked = {limit.name.rpartition(".")[2]: limit.value for limit in finding.limits}
    asks = "no pendant, in the ceiling or on the wall above the door"
    limit = CLEAR
    if "surface_mm" in asked:
        clearances = []
        for mounting in ("surface", "recessed"):
            for lamp, clear in asked[f"{mounting}_mm"].items():
                clearances.append(f"{length(clear, imperial)} ({mounting} {lamp})")
        limit = ", ".join(clearances)
        asks += ", clear of where clothes and boxes are kept"
    return tell_look(finding, asks, limit)


def _least(finding: HasFigures) -> float | None:
    """How far it must be; in the look of a room, what no kind of light may be nearer than."""
    if "look" not in finding.facts:
        return finding.facts.get("asked")
    clearances = []
    for limit in finding.limits:
        if limit.name.endswith("_mm"):
            for each in limit.value.values():
                clearances.append(float(each))
    return min(clearances, default=None)


@rule(
    NAME,
    topic="lighting",
    title="Lights in clothes closets",
    tell=tell,
    scope=Scope.ROOM,
    tapes=(Tape("clear of what is kept there", Comparator.AT_LEAST, "surface_mm", _least),),
)
def closet_luminaires(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A light in a clothes closet is in the ceiling or on the wall above the door, no pendant.

    Where a code gives distances, they run from the light to the space where clothes hang and
    boxes stand, by how it is mounted and its lamp. What nobody measured is left to a tape.
    """
    book = site.rulebook
    if not book.value(f"{NAME}.above_door"):
        return
    boxes = []
    for room in site.house.rooms:
        if room.kind is RoomKind.CLOSET:
            for box in site.boxes_in[room.id]:
                if is_light(box):
                    boxes.append(box)
    limits = tuple(book.limits_of(NAME))
    yield from boxes_judged(
        this, site, boxes, lambda box: _judged(book, site.rooms[box.room], box), limits
    )


def _judged(book: Rulebook, room: Room, box: Box) -> Judged:
    light = next(each for each in box.devices if each.kind is DeviceKind.LUMINAIRE)
    asked = _asked(book, light)
    clear = light.from_storage_mm
    data: dict[str, Any] = {
        "mounting": _word(light.mounting),
        "lamp": _word(light.lamp),
        "asked": asked,
        "clear": clear,
        "why": _misplaced(book, room, box, light),
    }
    if data["why"]:
        return Verdict.SHORT, data
    if light.mounting is None:
        return Verdict.LOOK, data
    if f"{NAME}.surface_mm" not in book:
        return Verdict.MEETS, data
    if asked is None or clear is None:
        return Verdict.LOOK, data
    if clear >= asked - EPSILON:
        return Verdict.MEETS, data
    return Verdict.SHORT, data | {"why": "near"}


def _word(recorded: StrEnum | None) -> str:
    if recorded is None:
        return ""
    return recorded.value


def _misplaced(book: Rulebook, room: Room, box: Box, light: Device) -> str:
    """Why the light may not be there at any distance; empty when it may."""
    if isinstance(box.place, OnWall) and not _above_door(room, box.place):
        return "wall"
    if light.mounting is Mounting.PENDANT and not book.value(f"{NAME}.pendant"):
        return "pendant"
    return ""


def _asked(book: Rulebook, light: Device) -> float | None:
    """How far it must be; None when its mounting or lamp is missing and makes a difference."""
    recessed = light.mounting is Mounting.RECESSED
    table = book.value(f"{NAME}.{'recessed' if recessed else 'surface'}_mm")
    if table is None or light.mounting is None:
        return None
    if light.lamp is not None:
        return float(table[light.lamp.value])
    figures = set()
    for each in table.values():
        figures.add(float(each))
    if len(figures) == 1:
        return figures.pop()
    return None


def _above_door(room: Room, place: OnWall) -> bool:
    for wall in room.walls:
        if wall.id == place.wall:
            for opening in wall.openings:
                if (
                    opening.kind in DOORWAYS
                    and opening.at_mm - EPSILON
                    <= place.at_mm
                    <= opening.at_mm + opening.width_mm + EPSILON
                ):
                    return True
    return False
