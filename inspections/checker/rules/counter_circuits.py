"""Circuits of the receptacles along kitchen counters."""

from collections.abc import Iterator
from typing import Any

from inspections.checker.asking.receptacles import is_general, serves_counter
from inspections.checker.asking.sentences import verdict_words
from inspections.checker.graph.supply import SuppliedDevice

from ..finding import Finding, FindingWords, Rule, Verdict, fault_verdict, rule
from ..house.rooms import Room, RoomKind
from ..rulebook import Limit
from ..site import HouseByCode
from ..words import amperes, listed, plural

NAME = "counter-circuits"


def tell(finding: Finding) -> FindingWords:
    """The circuits of the counters, or one of them."""
    if "asked" in finding.facts:
        return _tell_kitchen(finding)
    return _tell_circuit(finding)


def _tell_kitchen(finding: Finding) -> FindingWords:
    data = finding.facts
    found, asked = plural(len(data["circuits"]), "circuit"), plural(data["asked"], "circuit")
    says = {
        Verdict.MEETS: f"The counter receptacles of this kitchen are on {found}.",
        Verdict.SHORT: f"The counter receptacles are on {found}; {asked} are asked.",
    }
    remedies = {Verdict.SHORT: f"Spread the counter receptacles over {asked}."}
    working = (
        f"{plural(data['receptacles'], 'counter receptacle')} on "
        f"{listed(data['circuits']) or 'no circuit'}; {asked} asked",
    )
    return verdict_words(finding, found, f"at least {asked}", working, says, remedies)


def _tell_circuit(finding: Finding) -> FindingWords:
    data = finding.facts
    faults, missing = listed(data["faults"]), listed(data["missing"])
    figure, limit = plural(data["count"], "receptacle"), f"at most {data['most']}, nothing else"
    says = {
        Verdict.MEETS: f"This circuit feeds {figure} along the counters and nothing else.",
        Verdict.SHORT: f"This counter circuit is at fault: {faults}.",
        Verdict.UNKNOWN: f"Nobody recorded how many amperes {missing} is made for.",
    }
    remedies = {
        Verdict.SHORT: "Give counters circuits of 20 A with 20 A receptacles, or of 15 A with "
        "split receptacles, two receptacles on each.",
        Verdict.UNKNOWN: "Read it on the receptacle and record it.",
    }
    working = (
        f"breaker {amperes(data['breaker'])}, {'split' if data['split'] else 'not split'}",
        f"counter receptacles: {listed(data['boxes'])}",
        f"faults: {faults or 'none'}",
    )
    return verdict_words(finding, figure, limit, working, says, remedies)


@rule(NAME, topic="circuits", title="Circuits of kitchen counters", tell=tell)
def counter_circuits(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Counter receptacles of a kitchen are few on a circuit, and the circuit feeds nothing else.

    Where two receptacles or more are asked for, they are on two circuits or more. They are
    split receptacles on two 15 A circuits with a shared neutral, or 20 A receptacles at 20 A.
    """
    book = site.rulebook
    if f"{NAME}.most" not in book:
        return
    asked, most, single = (book[f"{NAME}.{x}"] for x in ("circuits", "most", "single_a"))
    for room in site.house.rooms:
        if room.kind is not RoomKind.KITCHEN:
            continue
        groups = _by_circuit(site, room)
        yield from _kitchen(this, site, room, groups, asked)
        for pair, outlets in groups.items():
            if pair:
                yield _circuit(this, site, room, pair, outlets, (most, single))


def _by_circuit(site: HouseByCode, room: Room) -> dict[tuple[str, ...], list[SuppliedDevice]]:
    """The counter receptacles of a room by the circuit, or the two, that they are on."""
    groups: dict[tuple[str, ...], list[SuppliedDevice]] = {}
    for box in site.receptacles_in[room.id]:
        for device in box.devices:
            if is_general(device) and serves_counter(site, box):
                outlet = SuppliedDevice(box, device)
                groups.setdefault(_pair(site, outlet), []).append(outlet)
    return groups


def _pair(site: HouseByCode, outlet: SuppliedDevice) -> tuple[str, ...]:
    """A circuit with the one that shares its neutral: together they are one branch circuit."""
    names = site.supply.of(*outlet)
    partners = []
    for name in names:
        for other in site.supply.partners[name]:
            partners.append(other)
    return tuple(sorted({*names, *partners}))


def _kitchen(
    this: Rule,
    site: HouseByCode,
    room: Room,
    groups: dict[tuple[str, ...], list[SuppliedDevice]],
    asked: Limit,
) -> Iterator[Finding]:
    count = 0
    for outlets in groups.values():
        count += len(outlets)
    if not count:
        return
    wanted = 1
    if count > 1:
        wanted = asked.value
    circuits = []
    for pair in groups:
        if pair:
            names = []
            for name in pair:
                names.append(site.circuits[name].name)
            circuits.append(listed(names))
    data = {"circuits": circuits, "receptacles": count, "asked": wanted}
    verdict = Verdict.SHORT
    if len(circuits) >= wanted:
        verdict = Verdict.MEETS
    yield Finding(this, room.id, verdict, site.room_spot(room), data, (asked,))


def _circuit(
    this: Rule,
    site: HouseByCode,
    room: Room,
    pair: tuple[str, ...],
    outlets: list[SuppliedDevice],
    limits: tuple[Limit, Limit],
) -> Finding:
    most, single = (limit.value for limit in limits)
    breaker = min(site.circuits[name].breaker_a for name in pair)
    others = _others(site, pair, outlets)
    faults = []
    missing: list[str] = []
    if len(outlets) > most:
        faults.append(f"{len(outlets)} receptacles on it")
    if others:
        faults.append(f"it also feeds {listed(dict.fromkeys(others))}")
    split = all(outlet.device.second_circuit for outlet in outlets)
    if not split:
        small, missing = _small_and_unread(outlets, single)
        if breaker < single:
            faults.append(f"{amperes(breaker)} without split receptacles")
        if small:
            faults.append(f"{listed(small)} is made for less than {single} A")
    data: dict[str, Any] = {
        "count": len(outlets),
        "most": most,
        "breaker": breaker,
        "split": split,
        "boxes": [outlet.box.id for outlet in outlets],
        "faults": faults,
        "missing": missing,
    }
    subject = f"{room.id}/{'+'.join(pair)}"
    verdict = fault_verdict(faults, missing)
    return Finding(this, subject, verdict, site.room_spot(room), data, limits)


def _small_and_unread(outlets: list[SuppliedDevice], least: float) -> tuple[list[str], list[str]]:
    """The boxes of receptacles made for less, and of those whose rating nobody read."""
    small = []
    unread = []
    for outlet in outlets:
        if outlet.device.amperes is None:
            unread.append(outlet.box.id)
        elif outlet.device.amperes < least:
            small.append(outlet.box.id)
    return small, unread


def _others(site: HouseByCode, pair: tuple[str, ...], outlets: list[SuppliedDevice]) -> list[str]:
    """What else is on the circuit: boxes with other outlets, then appliances."""
    others = []
    for name in pair:
        for outlet in site.supply.outlets(name):
            if outlet not in outlets:
                others.append(outlet.box.id)
    for name in pair:
        for appliance in site.supply.appliances[name]:
            others.append(appliance.name)
    return others
