"""Every outlet reached by cables from its own breaker, and by no other panel."""

from collections.abc import Iterator
from typing import Any

from inspections.checker.asking.protection import joined_by, reachable_nodes
from inspections.checker.asking.sentences import verdict_words
from inspections.checker.graph.supply import Supply

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.cables import Cable
from ..house.power import Circuit, PanelKind
from ..rulebook import Limit
from ..site import HouseByCode
from ..words import listed, plural

NAME = "circuit-paths"


def tell(finding: Finding) -> FindingWords:
    """What the breaker reaches, and what it does not."""
    data = finding.facts
    if "box" in data:
        return _tell_box(finding)
    cut = list(data["unreached"])
    for panel in data["panels"]:
        cut.append(f"panel {panel}")
    figure = f"{plural(data['reached'], 'place')} reached"
    says = {
        Verdict.MEETS: "Cables of this circuit lead from its breaker to everything on it.",
        Verdict.SHORT: f"Cables of this circuit do not lead from its breaker to "
        f"{listed(data['unreached'])}."
        if data["unreached"]
        else f"Cables of this circuit lead to {listed(cut)} as well.",
        Verdict.UNKNOWN: "Nobody recorded any cable or device of this circuit.",
    }
    remedies = {
        Verdict.SHORT: "Follow the cables and mend the run, or record what feeds each box.",
        Verdict.UNKNOWN: "Record what this breaker feeds, or take the circuit out.",
    }
    working = [f"from panel {data['panel']} along {plural(data['cables'], 'cable')}: {figure}"]
    if data["unreached"]:
        working += [f"not reached: {listed(data['unreached'])}"]
    if data["panels"]:
        working += [f"also joined to: {listed(cut)}"]
    limit = "everything on it, and no other panel"
    return verdict_words(finding, figure, limit, working, says, remedies)


def _tell_box(finding: Finding) -> FindingWords:
    box = finding.facts["box"]
    working = (f"box {box}: {listed(finding.facts['kinds'])}, on circuit: not recorded",)
    return FindingWords(
        f"Nobody recorded which circuit feeds box {box}.",
        "not recorded",
        "one circuit",
        working,
        "Follow its cable and record the circuit.",
    )


@rule(
    NAME, topic="circuits", title="From the breaker to every outlet", tell=tell, scope=Scope.WIRING
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
    astray: dict[str, list[str]] = {}
    for outlet in site.supply.astray:
        astray.setdefault(outlet.box.id, []).append(outlet.device.kind.value.replace("_", " "))
    for box, kinds in astray.items():
        spot, data = site.box_spot(site.boxes[box]), {"box": box, "kinds": kinds}
        yield Finding(this, f"box/{box}", Verdict.UNKNOWN, spot, data, (limit,))


def _circuit(this: Rule, site: HouseByCode, circuit: Circuit, limit: Limit) -> Finding:
    supply = site.supply
    cables: list[Cable] = []
    for name in (circuit.id, *supply.partners[circuit.id]):
        cables += supply.cables[name]
    reached = reachable_nodes(joined_by(cables), circuit.panel)
    mine = _places(supply, circuit)
    unreached = []
    for node in mine:
        if node not in reached:
            unreached.append(node)
    panels = _rival_panels(site, circuit, mine)
    data: dict[str, Any] = {
        "panel": circuit.panel,
        "cables": len(cables),
        "reached": len(reached - {circuit.panel}),
        "unreached": unreached,
        "panels": panels,
    }
    verdict = Verdict.UNKNOWN
    if mine:
        verdict = Verdict.MEETS
    if unreached or panels:
        verdict = Verdict.SHORT
    return Finding(this, circuit.id, verdict, site.circuit_spot(circuit), data, (limit,))


def _places(supply: Supply, circuit: Circuit) -> list[str]:
    """Where its cables end, then the boxes of its devices, each once."""
    places: dict[str, None] = {}
    for cable in supply.cables[circuit.id]:
        places |= dict.fromkeys(cable.ends)
    for outlet in supply.devices[circuit.id]:
        places[outlet.box.id] = None
    return list(places)


def _rival_panels(site: HouseByCode, circuit: Circuit, places: list[str]) -> list[str]:
    """Service panels among its places other than the circuit's own.

    A cable that ends at a panel of another kind feeds that panel.
    """
    panels = []
    for node in places:
        panel = site.panels.get(node)
        if panel and node != circuit.panel and panel.kind is PanelKind.SERVICE:
            panels.append(node)
    return panels
