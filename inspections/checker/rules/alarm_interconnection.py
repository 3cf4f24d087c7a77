"""Alarms joined so that all of them sound."""

from collections.abc import Iterator
from typing import Any

from inspections.checker.asking.protection import joined_by, reachable_nodes
from inspections.checker.asking.sentences import verdict_words
from inspections.checker.graph.supply import ALARMS

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..site import HouseByCode
from ..words import listed, plural

NAME = "alarm-interconnection"


def tell(finding: Finding) -> FindingWords:
    """The other alarms that sound with this one."""
    data = finding.facts
    apart, count = listed(data["apart"]), len(data["apart"])
    figure = f"joined to {data['others'] - count} of {data['others']}"
    asked = plural(data["asked"], "insulated conductor")
    says = {
        Verdict.MEETS: f"This alarm is joined to {plural(data['others'], 'other alarm')}.",
        Verdict.SHORT: f"This alarm is not joined to {apart}.",
    }
    remedies = {Verdict.SHORT: f"Join them by a cable of {asked}, or by radio where listed so."}
    if data["wireless"]:
        how = "by radio"
    else:
        how = f"by cables of {asked} or more"
    working = (f"{how}: {figure}",)
    return verdict_words(finding, figure, "joined to every other alarm", working, says, remedies)


@rule(NAME, topic="alarms", title="Alarms joined", tell=tell, scope=Scope.WIRING)
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
        apart = []
        for other in alarms:
            if other not in reached:
                apart.append(other)
        data: dict[str, Any] = {
            "others": len(alarms) - 1,
            "apart": apart,
            "wireless": wireless,
            "asked": conductors.value,
        }
        verdict = Verdict.MEETS
        if apart:
            verdict = Verdict.SHORT
        spot = site.box_spot(site.boxes[box])
        yield Finding(this, box, verdict, spot, data, (together, conductors))


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
