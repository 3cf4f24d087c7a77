"""Every outlet reached by cables from its own breaker, and by no other panel."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Listed, Value, message
from inspections.checker.asking.house_uses import fed_from
from inspections.checker.asking.lines import named_or_counted, parts_named_in, sentences
from inspections.checker.asking.points import NOT_RECORDED
from inspections.checker.asking.protection import joined_by, reachable_nodes
from inspections.checker.graph.supply import Supply
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import DeviceKind
from ..house.cables import Cable
from ..house.nouns import noun
from ..house.power import Circuit, PanelKind
from ..rulebook import Limit
from ..site import HouseByCode

NAME = "circuit-paths"
OK = message(f"{NAME}.ok", "Circuit {circuit} is wired from its breaker to everything on it.")
CUT = message(f"{NAME}.cut", "No cable from the breaker of circuit {circuit} reaches {ids}.")
CUT_COUNT = message(
    f"{NAME}.cut-count", "No cable from the breaker of circuit {circuit} reaches {n} places on it."
)
TWO_PANELS = message(f"{NAME}.two-panels", "Circuit {circuit} joins panels {panels}; 1 allowed.")
TRACE = message(f"{NAME}.remedy", "Trace the cables and correct the run, or record what feeds it.")
PART = message(f"{NAME}.two-panels.remedy", "Trace the cables and disconnect one panel.")
WHAT_FEEDS = message(f"{NAME}.missing", "what circuit {circuit} feeds")
REMOVE = message(f"{NAME}.missing.remedy", "Record it, or remove the circuit.")
WHICH_CIRCUIT = message(f"{NAME}.astray", "which circuit feeds box {box}")
TRACE_BACK = message(f"{NAME}.astray.remedy", "Trace its cable to the breaker and record it.")
CABLES = message(
    f"{NAME}.cables",
    "From panel {panel}: {n} cables; outlets reached: {reached}.",
    one="From panel {panel}: {n} cable; outlets reached: {reached}.",
)
NOT_REACHED = message(f"{NAME}.not-reached", "Not reached: {places}.")
OTHER_PANELS = message(f"{NAME}.other-panels", "Other panels: {panels}.")
HOLDS = message(f"{NAME}.holds", "Box {box}: {devices}.")


@dataclass(frozen=True, slots=True)
class PathFacts:
    """What a circuit's cables reach from its breaker, and what they do not."""

    circuit: str
    panel: str
    cables: int
    reached: int
    """Places that its cables lead to from the panel."""
    unreached: frozenset[str]
    panels: frozenset[str]
    """Other service panels at which it ends."""


@dataclass(frozen=True, slots=True)
class AstrayFacts:
    """A box whose circuit is not known, and its devices in order of their kind."""

    box: str
    devices: tuple[DeviceKind, ...]


def tell(finding: Finding) -> FindingWords:
    """What the breaker does not reach, or which other panel the circuit joins."""
    if isinstance(finding.facts, AstrayFacts):
        return _tell_box(finding.facts)
    facts: PathFacts = finding.facts
    says: Value = OK(circuit=facts.circuit)
    remedy: Value = ""
    if finding.verdict is Verdict.NOT_TO_CODE:
        says, remedy = _cut(facts), PART()
        if facts.unreached:
            remedy = TRACE()
    elif finding.verdict is Verdict.INFO_NEEDED:
        says, remedy = NOT_RECORDED(what=WHAT_FEEDS(circuit=facts.circuit)), REMOVE()
    working = [CABLES(panel=facts.panel, n=facts.cables, reached=facts.reached)]
    if facts.unreached:
        working.append(NOT_REACHED(places=parts_named_in(facts.unreached)))
    if facts.panels:
        working.append(OTHER_PANELS(panels=parts_named_in(facts.panels)))
    return FindingWords(says, facts.reached, "", tuple(working), remedy)


def _cut(facts: PathFacts) -> Value:
    said: list[Value] = []
    if facts.unreached:
        said.append(named_or_counted(CUT, CUT_COUNT, facts.unreached, circuit=facts.circuit))
    if facts.panels:
        panels = parts_named_in(facts.panels | {facts.panel})
        said.append(TWO_PANELS(circuit=facts.circuit, panels=panels))
    return sentences(said)


def _tell_box(facts: AstrayFacts) -> FindingWords:
    kinds = dict.fromkeys(facts.devices)
    devices = Listed(tuple(noun(kind) for kind in kinds))
    return FindingWords(
        NOT_RECORDED(what=WHICH_CIRCUIT(box=facts.box)),
        working=(HOLDS(box=facts.box, devices=devices),),
        remedy=TRACE_BACK(),
    )


def _fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """A cable to each place that the breaker does not reach, from one that it does."""
    facts = finding.facts
    if not isinstance(facts, PathFacts):
        return
    for place in sorted(facts.unreached):
        yield fed_from(house, facts.circuit, facts.panel, place, facts.unreached)


@rule(
    NAME,
    topic="circuits",
    title="Circuit wiring, breaker to outlets",
    tell=tell,
    scope=Scope.WIRING,
    facts=PathFacts | AstrayFacts,
    fixes=_fixes,
)
def circuit_paths(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Whatever is on a circuit is joined to its breaker by cables of that circuit.

    The cables of circuits that share a neutral count as one. A box that no such cable reaches
    is dead or fed from elsewhere; a cable of the circuit that ends at another panel joins two.
    """
    limit = site.rulebook.get(f"{NAME}.joined")
    if limit is None or not limit.value:
        return
    for circuit in site.house.circuits:
        yield _circuit(this, site, circuit, limit)
    astray: dict[str, list[DeviceKind]] = {}
    for outlet in site.supply.astray:
        astray.setdefault(outlet.box.id, []).append(outlet.device.kind)
    for box, kinds in astray.items():
        spot = site.box_spot(site.boxes[box])
        facts = AstrayFacts(box, tuple(sorted(kinds)))
        yield Finding(this, f"box/{box}", Verdict.INFO_NEEDED, spot, facts, (limit,))


def _circuit(this: Rule, site: HouseByCode, circuit: Circuit, limit: Limit) -> Finding:
    supply = site.supply
    cables: list[Cable] = []
    for name in (circuit.id, *supply.partners[circuit.id]):
        cables += supply.cables[name]
    reached = reachable_nodes(joined_by(cables), circuit.panel)
    mine = _places(supply, circuit)
    unreached = frozenset(mine) - reached
    panels = _rival_panels(site, circuit, mine)
    facts = PathFacts(
        circuit.id,
        circuit.panel,
        cables=len(cables),
        reached=len(reached - {circuit.panel}),
        unreached=unreached,
        panels=panels,
    )
    verdict = Verdict.INFO_NEEDED
    if mine:
        verdict = Verdict.OK
    if unreached or panels:
        verdict = Verdict.NOT_TO_CODE
    return Finding(this, circuit.id, verdict, site.circuit_spot(circuit), facts, (limit,))


def _places(supply: Supply, circuit: Circuit) -> set[str]:
    """Where its cables end, and the boxes of its devices."""
    places: set[str] = set()
    for cable in supply.cables[circuit.id]:
        places.update(cable.ends)
    for outlet in supply.devices[circuit.id]:
        places.add(outlet.box.id)
    return places


def _rival_panels(site: HouseByCode, circuit: Circuit, places: set[str]) -> frozenset[str]:
    """Service panels among its places other than the circuit's own.

    A cable that ends at a panel of another kind feeds that panel.
    """
    panels = set()
    for node in places:
        panel = site.panels.get(node)
        if panel and node != circuit.panel and panel.kind is PanelKind.SERVICE:
            panels.add(node)
    return frozenset(panels)
