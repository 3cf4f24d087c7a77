"""Nothing that hangs over a tub or shower: pendants and ceiling fans."""

from collections.abc import Iterator
from functools import partial
from typing import Any

from inspections.checker.asking.bath_zones import (
    Near,
    lines_and_missing,
    near,
    rooms_to_bathe,
    severest,
)
from inspections.checker.asking.loose_visual import Judged, boxes_judged, tell_look
from inspections.checker.geometry.intervals import EPSILON

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, DeviceKind, Mounting, OnCeiling, OnWall
from ..house.fixtures import Fixture
from ..house.rooms import Room
from ..site import HouseByCode
from ..words import length, listed

NAME = "tub-luminaires"


def tell(finding: Finding) -> FindingWords:
    """What hangs there and how far it is from each tub and shower."""
    data, imperial = finding.facts, finding.imperial
    if "look" in data:
        out, up = (length(limit.value, imperial) for limit in finding.limits)
        asks = f"no pendant, nor anything on a chain or cord, within {out} of the tub or shower"
        return tell_look(finding, asks, f"{out} out, {up} up")
    limit = f"{length(data['within'], imperial)} out, {length(data['up'], imperial)} up"
    apart = []
    for _, at in data["near"]:
        if at is not None:
            apart.append(at)
    figure = "not recorded"
    if apart:
        figure = f"{length(min(apart), imperial)} away"
    missing = listed(data["missing"])
    names = listed(name for name, _ in data["near"])
    says = {
        Verdict.MEETS: f"Nothing hangs in the space around {names}.",
        Verdict.SHORT: f"The {data['what']} hangs in the space around {names}.",
        Verdict.UNKNOWN: f"Nobody recorded {missing}.",
    }[finding.verdict]
    working = []
    for name, at in data["near"]:
        working.append(
            f"{name}: {'not recorded' if at is None else length(at, imperial)} away on the plan"
        )
    for fact in data["missing"]:
        working.append(f"not recorded: {fact}")
    remedy = {
        Verdict.SHORT: "Move it out of that space, or mount a light on the surface.",
        Verdict.UNKNOWN: f"Record {missing}.",
    }.get(finding.verdict, "")
    return FindingWords(says, figure, limit, tuple(working), remedy)


@rule(NAME, topic="lighting", title="Luminaires over tubs and showers", tell=tell, scope=Scope.ROOM)
def tub_luminaires(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """No pendant and no ceiling fan hangs within a distance out and up from a tub or shower.

    Luminaires mounted on the surface or in it are left out; how a luminaire will be mounted,
    when nobody recorded it, is for eyes.
    """
    book = site.rulebook
    if f"{NAME}.within_mm" not in book:
        return
    limits = (book[f"{NAME}.within_mm"], book[f"{NAME}.up_mm"])
    for room, fixtures in rooms_to_bathe(site):
        boxes = []
        for box in site.boxes_in[room.id]:
            if _hanging(box) is not False:
                boxes.append(box)
        if fixtures:
            judge = partial(_judged, site, room, fixtures)
            yield from boxes_judged(this, site, boxes, judge, limits)


def _hanging(box: Box) -> bool | None:
    """Whether something hangs from the box; None when its mounting was not recorded."""
    if any(device.kind is DeviceKind.CEILING_FAN for device in box.devices):
        return True
    mountings = []
    for d in box.devices:
        if d.kind is DeviceKind.LUMINAIRE:
            mountings.append(d.mounting)
    if Mounting.PENDANT in mountings:
        return True
    if None in mountings:
        return None
    return False


def _judged(site: HouseByCode, room: Room, fixtures: list[Fixture], box: Box) -> Judged:
    book = site.rulebook
    all_near = near(site, room, box, fixtures)
    lines, missing = lines_and_missing(all_near)
    data: dict[str, Any] = {
        "near": lines,
        "within": book.value(f"{NAME}.within_mm"),
        "up": book.value(f"{NAME}.up_mm"),
        "what": "ceiling fan" if any(d.kind == "ceiling_fan" for d in box.devices) else "pendant",
        "missing": missing,
    }
    ones = []
    for each in all_near:
        ones.append(_one(room, box, each, data))
    verdict = severest(ones)
    if verdict is not Verdict.MEETS and _hanging(box) is None:
        verdict = Verdict.LOOK
    return verdict, data


def _one(room: Room, box: Box, each: Near, data: dict[str, Any]) -> Verdict:
    verdict = each.within(data["within"])
    if verdict is not Verdict.SHORT:
        return verdict
    height, rim = _height(room, box), each.fixture.top_mm
    if height is None:
        data["missing"].append(f"how high box {box.id} is")
    elif height <= data["up"] + EPSILON:
        return Verdict.SHORT
    elif rim is None:
        data["missing"].append(f"how high the rim of {each.name} is")
    else:
        if height <= rim + data["up"] + EPSILON:
            return Verdict.SHORT
        return Verdict.MEETS
    return Verdict.UNKNOWN


def _height(room: Room, box: Box) -> float | None:
    """How high the box is: that of the ceiling it is in, or its own on a wall."""
    if isinstance(box.place, OnCeiling):
        return room.ceiling_mm
    if isinstance(box.place, OnWall):
        return box.place.height_mm
    return None
