"""Conductors between three-way and four-way switches."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Text, Value, message
from inspections.checker.asking.lines import named_or_counted, parts_named_in
from inspections.checker.asking.points import NOT_RECORDED
from inspections.checker.asking.protection import joined_by, reachable_nodes
from inspections.checker.graph.supply import SuppliedDevice

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import DeviceKind
from ..rulebook import Limit
from ..site import HouseByCode

NAME = "traveller-conductors"
SWITCHES = frozenset({DeviceKind.SWITCH, DeviceKind.DIMMER})
ENDS = {3: 1, 4: 2}
"""Runs of travellers that end at a three-way and at a four-way switch."""
OK = message(
    f"{NAME}.ok",
    "{ways}-way switch {switch} is wired to switches {ids}.",
    one="{ways}-way switch {switch} is wired to switch {ids}.",
)
OK_COUNT = message(f"{NAME}.ok-count", "{ways}-way switch {switch} is wired to {n} others.")
ALONE = message(
    f"{NAME}.alone",
    "No cable with {conductors} insulated conductors joins {ways}-way switch {switch} to another.",
)
TOO_FEW = message(
    f"{NAME}.too-few",
    "{ways}-way switch {switch} has {n} cables with {conductors} conductors; {runs} required.",
    one="{ways}-way switch {switch} has {n} cable with {conductors} conductors; {runs} required.",
)
PULL = message(f"{NAME}.remedy", "Pull {conductors}-conductor cable between the switches.")
OTHER_SWITCH = message(f"{NAME}.missing", "which switch works with {ways}-way switch {switch}")
SINGLE_POLE = message(f"{NAME}.missing.remedy", "Record it, or record this one as single-pole.")
CABLES = message(f"{NAME}.cables", "Cables with {conductors} or more conductors: {cables}.")
REACHED = message(f"{NAME}.reached", "They lead to: {switches}.")
MATES = message(f"{NAME}.mates", "Other 3-way and 4-way switches on the circuit: {n}.")


@dataclass(frozen=True, slots=True)
class TravellerFacts:
    """A three-way or four-way switch, the cables at it, and the switches that they lead to."""

    switch: str
    circuit: str
    ways: int
    runs: int
    conductors: int
    cables: tuple[str, ...]
    """In order of their ids; a cable that comes back to the switch twice."""
    others: frozenset[str]
    mates: int
    """Such switches on the circuit besides this one."""


def tell(finding: Finding) -> FindingWords:
    """The switch and the switches that its travellers reach."""
    facts: TravellerFacts = finding.facts
    remedy: Value = ""
    figure: Value = len(facts.cables)
    limit: Value = facts.runs
    if finding.verdict is Verdict.INFO_NEEDED:
        figure = limit = ""
        missing = OTHER_SWITCH(ways=facts.ways, switch=facts.switch)
        says, remedy = NOT_RECORDED(what=missing), SINGLE_POLE()
    elif finding.verdict is Verdict.NOT_TO_CODE:
        says, remedy = _wanting(facts), PULL(conductors=facts.conductors)
        if not facts.others:
            figure = 0  # its cables lead nowhere
    else:
        says = named_or_counted(OK, OK_COUNT, facts.others, ways=facts.ways, switch=facts.switch)
    working = (
        CABLES(conductors=facts.conductors, cables=parts_named_in(facts.cables)),
        REACHED(switches=parts_named_in(facts.others)),
        MATES(n=facts.mates),
    )
    return FindingWords(says, figure, limit, working, remedy)


def _wanting(facts: TravellerFacts) -> Text:
    if not facts.others:
        return ALONE(conductors=facts.conductors, ways=facts.ways, switch=facts.switch)
    return TOO_FEW(
        ways=facts.ways,
        switch=facts.switch,
        n=len(facts.cables),
        conductors=facts.conductors,
        runs=facts.runs,
    )


@rule(
    NAME,
    topic="circuits",
    title="Three-way switch wiring",
    tell=tell,
    scope=Scope.WIRING,
    facts=TravellerFacts,
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
        cables = []
        for cable in heavy:
            cables += [cable.id] * cable.nodes.count(name)
        ways = _most_ways(switches, name)
        facts = TravellerFacts(
            name,
            circuit,
            ways,
            runs=ENDS[ways],
            conductors=limit.value,
            cables=tuple(sorted(cables)),
            others=frozenset(at.keys() & reached),
            mates=len(at) - 1,
        )
        spot = site.box_spot(outlet.box)
        yield Finding(this, f"{name}/{circuit}", _verdict(facts), spot, facts, (limit,))


def _most_ways(switches: list[SuppliedDevice], box: str) -> int:
    """The ways of that switch of the box which has most."""
    ways = []
    for switch in switches:
        if switch.box.id == box:
            ways.append(switch.device.ways)
    return max(ways)


def _verdict(facts: TravellerFacts) -> Verdict:
    if not facts.mates:
        return Verdict.INFO_NEEDED
    if len(facts.cables) >= facts.runs and facts.others:
        return Verdict.OK
    return Verdict.NOT_TO_CODE
