"""The circuit that alarms are on."""

from collections.abc import Iterator, Sequence
from typing import Any

from inspections.checker.asking.protection import FaultKind, Shield
from inspections.checker.asking.sentences import verdict_words
from inspections.checker.graph.supply import ALARMS

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, fault_verdict, rule
from ..house.boxes import Box, Device, DeviceKind
from ..rulebook import Limit
from ..site import HouseByCode
from ..words import listed

NAME = "alarm-circuits"


def tell(finding: Finding) -> FindingWords:
    """The circuit and what is at fault with it for an alarm."""
    data = finding.facts
    circuit = data["circuit"] or "not recorded"
    faults, missing = listed(data["faults"]), listed(data["missing"])
    says = {
        Verdict.MEETS: f"Circuit {circuit} suits an alarm.",
        Verdict.SHORT: f"This alarm {faults}.",
        Verdict.UNKNOWN: f"Nobody recorded {missing}.",
    }
    remedies = {
        Verdict.SHORT: "Feed it from a lighting circuit of the house, before any switch.",
        Verdict.UNKNOWN: f"Record {missing}.",
    }
    working = [f"circuit: {circuit}", f"faults: {faults or 'none'}"]
    if missing:
        working += [f"not recorded: {missing}"]
    figure = f"circuit {circuit}"
    return verdict_words(finding, figure, "a circuit that stays on", working, says, remedies)


@rule(NAME, topic="alarms", title="Circuit of the alarms", tell=tell, scope=Scope.WIRING)
def alarm_circuits(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Alarms are fed by the house wiring, on a circuit whose failure somebody notices.

    One code wants lights on that circuit, and no ground-fault or arc-fault protection unless
    the alarm has a battery besides.
    """
    book = site.rulebook
    wired = book.get(f"{NAME}.wired")
    if wired is None:
        return
    lights, unprotected = book.get(f"{NAME}.lights"), book.get(f"{NAME}.unprotected")
    limits = []
    for limit in (wired, lights, unprotected):
        if limit and limit.value:
            limits.append(limit)
    shields = []
    for fault in FaultKind:
        shields.append(Shield(site, fault))
    for box in site.house.boxes:
        alarms = []
        for device in box.devices:
            if device.kind in ALARMS:
                alarms.append(device)
        if alarms:
            yield _alarm(this, site, box, alarms[0], tuple(limits), shields)


def _alarm(
    this: Rule,
    site: HouseByCode,
    box: Box,
    alarm: Device,
    limits: tuple[Limit, ...],
    shields: list[Shield],
) -> Finding:
    asked = set()
    for limit in limits:
        asked.add(limit.name.rpartition(".")[2])
    circuits = site.supply.of(box, alarm)
    protected = bool(circuits) and _is_protected(box, alarm, shields)
    faults, missing = _of_feed(site, box, circuits, asked)
    if protected and "unprotected" in asked:
        if alarm.battery is None:
            missing.append(f"whether alarm {box.id} has a battery besides")
        elif not alarm.battery:
            faults.append("is on a protected circuit and has no battery")
    names = []
    for name in circuits:
        names.append(site.circuits[name].name)
    data: dict[str, Any] = {
        "circuit": listed(names),
        "protected": protected,
        "faults": faults,
        "missing": missing,
    }
    verdict = fault_verdict(faults, missing)
    return Finding(this, box.id, verdict, site.box_spot(box), data, limits)


def _of_feed(
    site: HouseByCode, box: Box, circuits: Sequence[str], asked: set[str]
) -> tuple[list[str], list[str]]:
    """What is at fault with what feeds it, and what is missing to say so."""
    if circuits:
        if "lights" in asked and not _lights(site, circuits[0]):
            return ["is on a circuit without lights"], []
        return [], []
    if not site.wiring.power_at(box.id) and "wired" in asked:
        return ["has no cable and lives on its battery alone"], []
    return [], [f"which circuit feeds alarm {box.id}"]


def _is_protected(box: Box, alarm: Device, shields: list[Shield]) -> bool:
    return any(shield.of(box, alarm) for shield in shields)


def _lights(site: HouseByCode, circuit: str) -> bool:
    for o in site.supply.outlets(circuit):
        if o.device.kind is DeviceKind.LUMINAIRE:
            return True
    return False
