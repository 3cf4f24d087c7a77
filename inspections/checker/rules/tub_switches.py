"""Switches kept out of reach of a person in a tub or shower."""

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
from inspections.checker.asking.fixtures import room_missing

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, DeviceKind
from ..house.power import Protection
from ..measures import Comparator, Tape, held_in
from ..site import HouseByCode
from ..words import length, listed

NAME = "tub-switches"
SWITCHES = (DeviceKind.SWITCH, DeviceKind.DIMMER)
GROUND_FAULT = (Protection.GFCI, Protection.DUAL)


def tell(finding: Finding) -> FindingWords:
    """The switch and how far it is from each tub and shower."""
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
    names = listed(name for name, _ in data["near"])
    says = {
        Verdict.MEETS: f"The switch keeps away from {names}.",
        Verdict.SHORT: f"The switch is too near {names}.",
        Verdict.LOOK: f"The switch is near {names}.",
        Verdict.UNKNOWN: f"Nobody recorded {missing}.",
    }[finding.verdict]
    remedy = {
        Verdict.SHORT: "Move the switch away from the tub or shower.",
        Verdict.LOOK: LOOKS[data["why"]],
        Verdict.UNKNOWN: f"Record {missing}.",
    }.get(finding.verdict, "")
    return FindingWords(says, figure, limit, tuple(_working(data, imperial)), remedy)


LOOKS = {
    "": "",
    "walled": "Measure round the wall, flat, to the edge of the tub or shower.",
    "protection": "See that a Class A ground-fault interrupter protects it, or move it.",
}


def _working(data: Any, imperial: bool) -> Iterator[str]:
    yield from near_words(data["near"], imperial)
    if data["unprotected"] is not None:
        protected = "without"
        if data["protected"]:
            protected = "with"
        yield (
            f"{length(data['unprotected'], imperial)} asked, or "
            f"{length(data['within'], imperial)} behind a ground-fault interrupter; "
            f"the breaker is {protected} one"
        )
    for fact in data["missing"]:
        yield f"not recorded: {fact}"


@rule(
    NAME,
    topic="switching",
    title="Switches near tubs and showers",
    tell=tell,
    scope=Scope.ROOM,
    tapes=(Tape("from the tub or shower", Comparator.AT_LEAST, "within_mm", held_in("within")),),
)
def tub_switches(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A light switch is not within a tub or shower, nor, by some codes, within reach of one.

    Where a code gives a distance, half of it will do behind a Class A ground-fault interrupter.
    Distances lie flat, from the switch to the outer edge, and not through a wall.
    """
    book = site.rulebook
    if f"{NAME}.within_mm" not in book:
        return
    for room, fixtures in rooms_to_bathe(site):
        boxes = []
        for box in site.boxes_in[room.id]:
            if _switches(box):
                boxes.append(box)
        if fixtures is None and boxes:
            limits = (book[f"{NAME}.within_mm"],)
            yield Finding(this, room.id, Verdict.UNKNOWN, site.room_spot(room), {}, limits)
        for box in boxes if fixtures else ():
            yield _box(this, site, box, near(site, room, box, fixtures or []))


def _switches(box: Box) -> bool:
    for device in box.devices:
        if device.kind in SWITCHES:
            return True
    return False


def _box(this: Rule, site: HouseByCode, box: Box, all_near: list[Near]) -> Finding:
    book = site.rulebook
    lines, missing = lines_and_missing(all_near)
    data: dict[str, Any] = {
        "near": lines,
        "within": book.value(f"{NAME}.within_mm"),
        "unprotected": book.value(f"{NAME}.unprotected_mm"),
        "protected": _protected(site, box),
        "missing": missing,
        "why": "",
    }
    judges = []
    for each in all_near:
        judges.append(_judge(each, data))
    verdict = severest(judges)
    names = ("within_mm", "unprotected_mm")
    limits = []
    for name in names:
        if f"{NAME}.{name}" in book:
            limits.append(book[f"{NAME}.{name}"])
    return Finding(this, box.id, verdict, site.box_spot(box), data, tuple(limits))


def _judge(each: Near, data: dict[str, Any]) -> Verdict:
    verdict, unprotected = each.within(data["within"]), data["unprotected"]
    if verdict is Verdict.MEETS and unprotected is not None and not data["protected"]:
        if each.within(unprotected) is Verdict.MEETS:
            return verdict
        if each.walled_off:
            data["why"] = "walled"
        else:
            data["why"] = "protection"
        return Verdict.LOOK
    if verdict is Verdict.LOOK:
        data["why"] = "walled"
    return verdict


def _protected(site: HouseByCode, box: Box) -> bool:
    """Whether the breaker of every switch in it gives ground-fault protection."""
    for device in box.devices:
        if device.kind not in SWITCHES:
            continue
        circuit = site.circuits.get(device.circuit or "")
        if circuit is None or circuit.protection not in GROUND_FAULT:
            return False
    return True
