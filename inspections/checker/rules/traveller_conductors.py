"""Conductors between three-way and four-way switches."""

from collections.abc import Iterator
from typing import Any

from inspections.checker.asking.protection import joined_by, reachable_nodes
from inspections.checker.asking.sentences import verdict_words
from inspections.checker.graph.supply import SuppliedDevice

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import DeviceKind
from ..rulebook import Limit
from ..site import HouseByCode
from ..words import listed, plural

NAME = "traveller-conductors"
SWITCHES = frozenset({DeviceKind.SWITCH, DeviceKind.DIMMER})
ENDS = {3: 1, 4: 2}
"""Runs of travellers that end at a three-way and at a four-way switch."""


def tell(finding: Finding) -> FindingWords:
    """The switch and the switches that its travellers reach."""
    data = finding.facts
    others, wanted = listed(data["others"]), plural(data["runs"], "cable")
    asked = plural(data["asked"], "insulated conductor")
    figure = plural(len(data["cables"]), "cable")
    says = {
        Verdict.MEETS: f"Cables of {asked} or more lead on to {others}.",
        Verdict.SHORT: f"No cables of {asked} lead from this {data['ways']}-way switch to another."
        if not others
        else f"This {data['ways']}-way switch has {figure} of {asked}; {wanted} asked.",
        Verdict.UNKNOWN: "Nobody recorded the other switch that works with this one.",
    }
    remedies = {
        Verdict.SHORT: f"Pull a cable of {asked} between the two switches.",
        Verdict.UNKNOWN: "Record it, or that this one is single-pole.",
    }
    working = (
        f"cables of {asked} or more at it: {listed(data['cables']) or 'none'}",
        f"switches reached along such cables: {others or 'none'}",
        f"other such switches on the circuit: {data['mates']}",
    )
    limit = f"{wanted} of {asked}, to another such switch"
    return verdict_words(finding, figure, limit, working, says, remedies)


@rule(
    NAME,
    topic="circuits",
    title="Travellers of three-way switches",
    tell=tell,
    scope=Scope.WIRING,
)
def traveller_conductors(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Three-way and four-way switches are joined by cables with conductors enough.

    Between two of them run two travellers, and with them in the same cable the conductor that
    comes or goes with the load. A three-way switch ends one such run, a four-way switch two.
    """
    limit = site.rulebook.get(f"{NAME}.conductors")
    if limit is None:
        return
    for circuit in site.house.circuits:
        switches = []
        for outlet in site.supply.devices[circuit.id]:
            if outlet.device.kind in SWITCHES and outlet.device.ways > 2:
                switches.append(outlet)
        if switches:
            yield from _circuit(this, site, circuit.id, switches, limit)


def _circuit(
    this: Rule, site: HouseByCode, circuit: str, switches: list[SuppliedDevice], limit: Limit
) -> Iterator[Finding]:
    heavy = []
    for cable in site.supply.cables[circuit]:
        if cable.insulated >= limit.value:
            heavy.append(cable)
    joined = joined_by(heavy)
    at: dict[str, SuppliedDevice] = {}
    for switch in switches:
        at[switch.box.id] = switch
    panel = frozenset({site.circuits[circuit].panel})
    for name, outlet in at.items():
        reached = reachable_nodes(joined, name, panel) - {name}
        others = []
        for other in at:
            if other in reached:
                others.append(other)
        cables = []
        for cable in heavy:
            cables += [cable.id] * cable.nodes.count(name)
        ways = _most_ways(switches, name)
        data: dict[str, Any] = {
            "ways": ways,
            "runs": ENDS[ways],
            "asked": limit.value,
            "cables": cables,
            "others": others,
            "mates": len(at) - 1,
        }
        yield Finding(
            this, f"{name}/{circuit}", _verdict(data), site.box_spot(outlet.box), data, (limit,)
        )


def _most_ways(switches: list[SuppliedDevice], box: str) -> int:
    """The ways of that switch of the box which has most."""
    ways = []
    for switch in switches:
        if switch.box.id == box:
            ways.append(switch.device.ways)
    return max(ways)


def _verdict(data: dict[str, Any]) -> Verdict:
    if not data["mates"]:
        return Verdict.UNKNOWN
    if len(data["cables"]) >= data["runs"] and data["others"]:
        return Verdict.MEETS
    return Verdict.SHORT
