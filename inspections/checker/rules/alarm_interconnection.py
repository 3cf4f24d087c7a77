"""Alarms joined so that all of them sound."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Value, message
from inspections.checker.asking.lines import named_or_counted, parts_named_in
from inspections.checker.asking.protection import joined_by, reachable_nodes
from inspections.checker.graph.supply import ALARMS

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..site import HouseByCode

NAME = "alarm-interconnection"
TOGETHER = message(
    f"{NAME}.together",
    "Alarm {alarm} is interconnected with the {n} other alarms.",
    one="Alarm {alarm} is interconnected with the other alarm.",
)
APART = message(
    f"{NAME}.apart",
    "Alarm {alarm} is not interconnected with alarms {ids}.",
    one="Alarm {alarm} is not interconnected with alarm {ids}.",
)
APART_COUNT = message(
    f"{NAME}.apart-count", "Alarm {alarm} is not interconnected with {n} other alarms."
)
JOIN = message(
    f"{NAME}.remedy",
    "Run cable with {conductors} insulated conductors between them, or use wireless alarms.",
)
BY_CABLE = message(f"{NAME}.by-cable", "By cable with {conductors} or more insulated conductors.")
BY_RADIO = message(f"{NAME}.by-radio", "By radio.")
REACHED = message(f"{NAME}.reached", "Interconnected: {n} of {others}.")
NOT_REACHED = message(f"{NAME}.not-reached", "Not interconnected: {alarms}.")


@dataclass(frozen=True, slots=True)
class InterconnectionFacts:
    """The other alarms of the house, and those that do not sound with this one."""

    alarm: str
    others: int
    apart: frozenset[str]
    wireless: bool
    conductors: int


def tell(finding: Finding) -> FindingWords:
    """The other alarms that sound with this one."""
    facts: InterconnectionFacts = finding.facts
    together = facts.others - len(facts.apart)
    says = TOGETHER(alarm=facts.alarm, n=facts.others)
    remedy: Value = ""
    working: list[Value] = [BY_CABLE(conductors=facts.conductors)]
    if facts.wireless:
        working = [BY_RADIO()]
    working.append(REACHED(n=together, others=facts.others))
    if facts.apart:
        says = named_or_counted(APART, APART_COUNT, facts.apart, alarm=facts.alarm)
        remedy = JOIN(conductors=facts.conductors)
        working.append(NOT_REACHED(alarms=parts_named_in(facts.apart)))
    return FindingWords(says, together, facts.others, tuple(working), remedy)


@rule(
    NAME,
    topic="alarms",
    title="Alarms interconnected",
    tell=tell,
    scope=Scope.WIRING,
    facts=InterconnectionFacts,
)
def alarm_interconnection(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """When one alarm of the house sounds, all of them do.

    They are joined by cables with a third insulated conductor for the signal, or by radio.
    """
    book = site.rulebook
    together, conductors = book.get(f"{NAME}.together"), book.get(f"{NAME}.conductors")
    if not (together and together.value and conductors):
        return
    alarms = _alarms(site)
    if len(alarms) < 2:
        return
    joined = _joined(site, alarms, conductors.value)
    for box, wireless in alarms.items():
        reached = reachable_nodes(joined, box, frozenset(site.panels))
        apart = frozenset(alarms.keys() - reached)
        others = len(alarms) - 1
        facts = InterconnectionFacts(box, others, apart, wireless, conductors.value)
        verdict = Verdict.OK
        if apart:
            verdict = Verdict.NOT_TO_CODE
        spot = site.box_spot(site.boxes[box])
        yield Finding(this, box, verdict, spot, facts, (together, conductors))


def _alarms(site: HouseByCode) -> dict[str, bool]:
    """The boxes that hold an alarm, and whether one of theirs is joined by radio."""
    alarms: dict[str, bool] = {}
    for box in site.house.boxes:
        for device in box.devices:
            if device.kind in ALARMS:
                alarms[box.id] = alarms.get(box.id, False) or bool(device.wireless)
    return alarms


def _joined(site: HouseByCode, alarms: dict[str, bool], conductors: int) -> dict[str, list[str]]:
    """What a signal passes between: by cables of conductors enough, and by radio."""
    cables = []
    for cable in site.house.cables:
        if cable.kind.carries_power and cable.insulated >= conductors:
            cables.append(cable)
    joined = joined_by(cables)
    by_radio = []
    for box, wireless in alarms.items():
        if wireless:
            by_radio.append(box)
    for box in by_radio:
        joined[box] += by_radio
    return joined
