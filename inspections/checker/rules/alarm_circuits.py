"""The circuit that alarms are on."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from config.messages.message import Listed, Message, Text, Value, message
from inspections.checker.asking.lines import beside, sentences
from inspections.checker.asking.points import EITHER_WAY, NOT_RECORDED, RECORD
from inspections.checker.asking.protection import FaultKind, Shield, ground_fault
from inspections.checker.graph.supply import ALARMS

from ..finding import Finding, FindingWords, Rule, Scope, fault_verdict, rule
from ..house.boxes import Box, Device, DeviceKind
from ..rulebook import Limit
from ..site import HouseByCode

NAME = "alarm-circuits"


class AlarmCircuitFault(StrEnum):
    """What is wrong with what feeds an alarm."""

    BATTERY_ONLY = "battery only"
    NO_LIGHTS = "no lights"
    NO_BATTERY = "no battery"


class AlarmCircuitMissing(StrEnum):
    """What has to be recorded to say how an alarm is fed."""

    CIRCUIT = "circuit"
    BATTERY = "battery"


FAULTS: dict[AlarmCircuitFault, Message] = {
    AlarmCircuitFault.BATTERY_ONLY: message(
        f"{NAME}.battery-only", "Alarm {alarm} runs on its battery alone."
    ),
    AlarmCircuitFault.NO_LIGHTS: message(
        f"{NAME}.no-lights", "Alarm {alarm} is on circuit {circuits}, which feeds no lights."
    ),
    AlarmCircuitFault.NO_BATTERY: message(
        f"{NAME}.no-battery",
        "Alarm {alarm} is behind {ground_fault} or AFCI protection and has no battery.",
    ),
}
REMEDIES: dict[AlarmCircuitFault, Message] = {
    AlarmCircuitFault.BATTERY_ONLY: message(
        f"{NAME}.battery-only.remedy", "Hardwire it, ahead of any switch."
    ),
    AlarmCircuitFault.NO_LIGHTS: message(
        f"{NAME}.no-lights.remedy", "Feed it from a lighting circuit, ahead of any switch."
    ),
    AlarmCircuitFault.NO_BATTERY: message(
        f"{NAME}.no-battery.remedy",
        "Install an alarm with a battery, or feed it from an unprotected circuit.",
    ),
}
ON_LIGHTS = message(
    f"{NAME}.battery-only.lights-remedy", "Hardwire it to a lighting circuit, ahead of any switch."
)
MISSING: dict[AlarmCircuitMissing, Message] = {
    AlarmCircuitMissing.CIRCUIT: message(
        f"{NAME}.missing.circuit", "which circuit feeds alarm {alarm}"
    ),
    AlarmCircuitMissing.BATTERY: message(
        f"{NAME}.missing.battery", "whether alarm {alarm} has a backup battery"
    ),
}
FED = message(
    f"{NAME}.fed",
    "Alarm {alarm} is wired to circuits {circuits}.",
    one="Alarm {alarm} is wired to circuit {circuits}.",
)
LIGHTS = message(f"{NAME}.lights", "Lights are on the same circuit.")
BARE = message(f"{NAME}.unprotected", "No {ground_fault} or AFCI protection ahead of it.")
PROTECTED = message(f"{NAME}.protected", "Ahead of it: {ground_fault} or AFCI protection.")
BATTERY = message(f"{NAME}.battery", "It has a backup battery.")


@dataclass(frozen=True, slots=True)
class AlarmCircuitFacts:
    """What feeds an alarm, and what is wrong with that."""

    alarm: str
    circuits: tuple[str, ...]
    """In the order that the alarm names them: the first is the one it is judged by."""
    protected: bool
    """By a breaker or receptacle that opens on a ground fault or an arc."""
    faults: frozenset[AlarmCircuitFault]
    missing: frozenset[AlarmCircuitMissing]


def tell(finding: Finding) -> FindingWords:
    """The circuit and what is wrong with it for an alarm."""
    facts: AlarmCircuitFacts = finding.facts
    says: Value = _said(FED, finding)
    remedy: Value = ""
    missing = _missing(finding)
    if facts.faults:
        faults = [fault for fault in AlarmCircuitFault if fault in facts.faults]
        says = sentences(_said(FAULTS[fault], finding) for fault in faults)
        remedy = sentences(_remedy(fault, finding) for fault in faults)
    elif missing:
        says, remedy = NOT_RECORDED(what=Listed(missing)), RECORD()
    working = beside(says, _working(finding, missing))
    return FindingWords(says, working=working, remedy=remedy)


def _said(told: Message, finding: Finding) -> Text:
    """A message with those of the holes that it has."""
    facts: AlarmCircuitFacts = finding.facts
    holes: dict[str, Value] = {
        "alarm": facts.alarm,
        "circuits": Listed(facts.circuits),
        "n": len(facts.circuits),
        "ground_fault": ground_fault(finding.code),
    }
    return told(**{name: holes[name] for name in told.holes})


def _missing(finding: Finding) -> tuple[Text, ...]:
    facts: AlarmCircuitFacts = finding.facts
    return tuple(
        _said(MISSING[each], finding) for each in AlarmCircuitMissing if each in facts.missing
    )


def _remedy(fault: AlarmCircuitFault, finding: Finding) -> Text:
    if fault is AlarmCircuitFault.BATTERY_ONLY and "lights" in _required(finding.limits):
        return ON_LIGHTS()
    return REMEDIES[fault]()


def _working(finding: Finding, missing: tuple[Text, ...]) -> list[Value]:
    """What feeds it, and each thing that is required of that."""
    facts: AlarmCircuitFacts = finding.facts
    required = _required(finding.limits)
    lines: list[Value] = []
    if facts.circuits:
        lines.append(_said(FED, finding))
        if "lights" in required and AlarmCircuitFault.NO_LIGHTS not in facts.faults:
            lines.append(LIGHTS())
        if "unprotected" in required:
            lines += _shielded(finding)
    if missing and facts.faults:
        lines.append(EITHER_WAY(what=Listed(missing)))
    return lines


def _shielded(finding: Finding) -> list[Value]:
    facts: AlarmCircuitFacts = finding.facts
    if not facts.protected:
        return [_said(BARE, finding)]
    if AlarmCircuitFault.NO_BATTERY in facts.faults:
        return []
    if AlarmCircuitMissing.BATTERY in facts.missing:
        return [_said(PROTECTED, finding)]
    return [_said(PROTECTED, finding), BATTERY()]


def _required(limits: Sequence[Limit]) -> set[str]:
    return {limit.name.rpartition(".")[2] for limit in limits}


@rule(
    NAME,
    topic="alarms",
    title="Alarm circuits",
    tell=tell,
    scope=Scope.WIRING,
    facts=AlarmCircuitFacts,
)
def alarm_circuits(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Alarms are fed by the house wiring, on a circuit whose failure somebody notices.

    One code requires lights on that circuit, and no ground-fault or arc-fault protection unless the
    alarm also has a battery.
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
    required = _required(limits)
    circuits = site.supply.of(box, alarm)
    protected = bool(circuits) and _is_protected(box, alarm, shields)
    faults, missing = _of_feed(site, box, circuits, required)
    if protected and "unprotected" in required:
        if alarm.battery is None:
            missing.add(AlarmCircuitMissing.BATTERY)
        elif not alarm.battery:
            faults.add(AlarmCircuitFault.NO_BATTERY)
    facts = AlarmCircuitFacts(box.id, circuits, protected, frozenset(faults), frozenset(missing))
    verdict = fault_verdict(faults, missing)
    return Finding(this, box.id, verdict, site.box_spot(box), facts, limits)


def _of_feed(
    site: HouseByCode, box: Box, circuits: Sequence[str], required: set[str]
) -> tuple[set[AlarmCircuitFault], set[AlarmCircuitMissing]]:
    """What is wrong with what feeds it, and what is missing to say so."""
    if circuits:
        if "lights" in required and not _lights(site, circuits[0]):
            return {AlarmCircuitFault.NO_LIGHTS}, set()
        return set(), set()
    if not site.wiring.power_at(box.id) and "wired" in required:
        return {AlarmCircuitFault.BATTERY_ONLY}, set()
    return set(), {AlarmCircuitMissing.CIRCUIT}


def _is_protected(box: Box, alarm: Device, shields: list[Shield]) -> bool:
    return any(shield.of(box, alarm) is not None for shield in shields)


def _lights(site: HouseByCode, circuit: str) -> bool:
    for o in site.supply.outlets(circuit):
        if o.device.kind is DeviceKind.LUMINAIRE:
            return True
    return False
