"""Receptacles kept away from tubs and showers."""

from collections.abc import Iterator
from typing import Any

from inspections.checker.asking.bath_zones import (
    Near,
    lines_and_missing,
    near,
    near_words,
    rooms_to_bathe,
    severest,
)
from inspections.checker.asking.fixtures import height_of, room_missing
from inspections.checker.geometry.intervals import EPSILON

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, DeviceKind
from ..house.rooms import Room
from ..measures import Comparator, HasFigures, Tape
from ..rulebook import Rulebook
from ..site import HouseByCode
from ..words import length, listed

NAME = "tub-receptacles"


def tell(finding: Finding) -> FindingWords:
    """The receptacle and how far it is from each tub and shower."""
    data, imperial = finding.facts, finding.imperial
    if "near" not in data:
        return room_missing("tubs and showers")
    apart = []
    for _, at in data["near"]:
        if at is not None:
            apart.append(at)
    figure = "not recorded"
    if apart:
        figure = length(min(apart), imperial)
    limit = "outside it"
    if data["within"]:
        limit = f"at least {length(data['within'], imperial)}"
    missing = listed(data["missing"])
    fixtures = []
    for name, _ in data["near"]:
        fixtures.append(name)
    names = listed(fixtures)
    says = {
        Verdict.MEETS: f"The receptacle keeps away from {names}.",
        Verdict.SHORT: f"The receptacle is too near {names}.",
        Verdict.LOOK: f"The receptacle is near {names}; see whether it could stand farther away.",
        Verdict.UNKNOWN: f"Nobody recorded {missing}.",
    }[finding.verdict]
    if data["walled"]:
        look = "Measure round the wall."
    else:
        look = LOOKS[data["why"]]
    if data["preferred"]:
        look = f"{look} At least {length(data['preferred'], imperial)} where the room allows it."
    remedy = {
        Verdict.SHORT: "Move it out of the space around the tub or shower.",
        Verdict.LOOK: look,
        Verdict.UNKNOWN: f"Record {missing}.",
    }.get(finding.verdict, "")
    return FindingWords(says, figure, limit, tuple(_working(data, imperial)), remedy)


LOOKS = {
    "": "See whether it could stand farther away.",
    "small": "A bathroom this small may have it on the wall opposite, the farthest one.",
}


def _working(data: Any, imperial: bool) -> Iterator[str]:
    yield from near_words(data["near"], imperial)
    if data["below"]:
        yield f"it stands below the rim of {data['below']}, where this edition does not ask"
    if data["above"]:
        yield f"it stands above the space over {data['above']}"
    if data["why"] == "small":
        yield f"no corner of the room is {length(data['within'], imperial)} away"
    for fact in data["missing"]:
        yield f"not recorded: {fact}"


def _within(finding: HasFigures) -> float | None:
    """How far it must be; None where its height or the room's size excuses it."""
    data = finding.facts
    if any(data.get(excuse) for excuse in ("below", "above", "why")):
        return None
    return data.get("within")


@rule(
    NAME,
    topic="receptacles",
    title="Receptacles near tubs and showers",
    tell=tell,
    scope=Scope.ROOM,
    tapes=(Tape("from the tub or shower", Comparator.AT_LEAST, "within_mm", _within),),
)
def tub_receptacles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A receptacle stands clear of the space over and around a tub or shower.

    How far is a matter of code and edition: over the tub itself, or a distance out and up from
    its rim. Distances lie flat, from the receptacle to the outer edge, and not through a wall.
    """
    book = site.rulebook
    if f"{NAME}.within_mm" not in book:
        return
    for room, fixtures in rooms_to_bathe(site):
        boxes = []
        for box in site.receptacles_in[room.id]:
            if _counts(box):
                boxes.append(box)
        if fixtures is None and boxes:
            limits = (book[f"{NAME}.within_mm"],)
            yield Finding(this, room.id, Verdict.UNKNOWN, site.room_spot(room), {}, limits)
        for box in boxes if fixtures else ():
            yield _box(this, site, room, box, near(site, room, box, fixtures or []))


def _counts(box: Box) -> bool:
    for device in box.devices:
        if device.kind is DeviceKind.RECEPTACLE and not device.part_of_equipment:
            return True
    return False


def _box(this: Rule, site: HouseByCode, room: Room, box: Box, all_near: list[Near]) -> Finding:
    book = site.rulebook
    within, preferred = book.value(f"{NAME}.within_mm"), book.value(f"{NAME}.preferred_mm")
    lines, missing = lines_and_missing(all_near)
    data: dict[str, Any] = {
        "near": lines,
        "within": within,
        "preferred": preferred,
        "missing": missing,
        "height": height_of(box),
        **dict.fromkeys(("below", "above", "why"), ""),
        "walled": False,
    }
    verdicts = []
    for each in all_near:
        verdicts.append(_judge(site, room, box, each, data))
    data["missing"] = list(dict.fromkeys(data["missing"]))
    names = ("within_mm", "preferred_mm", "up_mm", "from_floor", "far_wall")
    limits = []
    for name in names:
        if f"{NAME}.{name}" in book:
            limits.append(book[f"{NAME}.{name}"])
    return Finding(this, box.id, severest(verdicts), site.box_spot(box), data, tuple(limits))


def _judge(site: HouseByCode, room: Room, box: Box, each: Near, data: dict[str, Any]) -> Verdict:
    verdict = each.within(data["within"])
    if verdict is Verdict.MEETS:
        return _by_preference(each, data)
    if verdict is Verdict.LOOK:
        data["walled"] = True
    if verdict is not Verdict.SHORT:
        return verdict
    verdict = _by_height(site.rulebook, box, each, data)
    farthest = site.plans[room.id].farthest(each.fixture)
    small = farthest is not None and farthest < data["within"] - EPSILON
    if verdict is Verdict.SHORT and small and site.rulebook.value(f"{NAME}.far_wall"):
        data["why"] = "small"
        return Verdict.LOOK
    return verdict


def _by_preference(each: Near, data: dict[str, Any]) -> Verdict:
    """Far enough; eyes are asked for where the code would rather have it farther still."""
    if not data["preferred"] or each.within(data["preferred"]) is Verdict.MEETS:
        return Verdict.MEETS
    data["walled"] |= bool(each.walled_off)
    return Verdict.LOOK


def _by_height(book: Rulebook, box: Box, each: Near, data: dict[str, Any]) -> Verdict:
    """Whether it is below the space or above it, where the edition gives it a height."""
    up, height, rim = book.value(f"{NAME}.up_mm"), height_of(box), each.fixture.top_mm
    if up is None:
        return Verdict.SHORT
    from_floor = book.value(f"{NAME}.from_floor", False)
    if height is None:
        data["missing"].append(f"how high box {box.id} stands")
    elif from_floor and height <= up + EPSILON:
        return Verdict.SHORT
    elif rim is None:
        data["missing"].append(f"how high the rim of {each.name} is")
    elif height > rim + up + EPSILON:
        data["above"] = each.name
        return Verdict.MEETS
    elif height < rim - EPSILON and not from_floor:
        data["below"] = each.name
        return Verdict.MEETS
    else:
        return Verdict.SHORT
    return Verdict.UNKNOWN
