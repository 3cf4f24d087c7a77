"""The size of grounding electrode conductors."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from config.messages.message import Text, Value, message
from inspections.checker.asking.electrodes import ANY, RECORD_EACH
from inspections.checker.asking.points import EITHER_WAY, STILL_MISSING
from inspections.checker.asking.service_panel import (
    electrode_named,
    fact_verdict,
    panel_not_recorded,
    service_panel,
)
from inspections.checker.asking.wire_sizes import Metal, wire

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.gauges import awg, awg_number
from ..house.grounding import GroundingElectrode
from ..house.nouns import noun
from ..house.power import Panel
from ..house.service import Electrode
from ..rulebook import Limit
from ..site import HouseByCode

NAME = "electrode-conductors"
CAPS = {
    Electrode.ROD: "rod_awg",
    Electrode.PLATE: "rod_awg",
    Electrode.CONCRETE_ENCASED: "concrete_awg",
}
"""The limit that holds for an electrode however large the service is."""
ALUMINUM_LARGER = 2
"""Sizes by which an aluminum conductor is larger than the copper one it stands for."""


class ConductorBasis(StrEnum):
    """What the required size rests on."""

    ANY_HOUSE = "any house"
    ELECTRODE = "electrode"
    SERVICE = "service"


SAYS = {
    "NEC": message(
        f"{NAME}.nec.says",
        "Grounding electrode conductor to {electrode} is {wire}; {least} minimum.",
    ),
    "CEC": message(
        f"{NAME}.cec.says", "System grounding conductor to {electrode} is {wire}; {least} minimum."
    ),
}
SIZE = {
    "NEC": message(
        f"{NAME}.nec.size", "the size of the grounding electrode conductor to {electrode}"
    ),
    "CEC": message(f"{NAME}.cec.size", "the size of the system grounding conductor to {electrode}"),
}
SERVICE_SIZE = message(f"{NAME}.service-size", "size and metal of the service conductors")
SERVICE = message(f"{NAME}.service", "service conductors: {wire}")
LEAST = {
    ConductorBasis.ANY_HOUSE: message(f"{NAME}.any-house", "required in any house: {wire}"),
    ConductorBasis.ELECTRODE: message(
        f"{NAME}.by-electrode", "enough for a {kind}, whatever the service: {wire}"
    ),
    ConductorBasis.SERVICE: message(f"{NAME}.by-service", "required for that service: {wire}"),
}
IN_ALUMINUM = message(f"{NAME}.in-aluminum", "in aluminum, two sizes larger: {least}")
FOUND = message(f"{NAME}.found", "found: {wire}")
REMEDY = message(f"{NAME}.remedy", "Run a larger one, in one length.")
READ = message(f"{NAME}.read", "Read the marking and record it.")


@dataclass(frozen=True, slots=True)
class Wire:
    """A conductor; its size as `gauges.awg_number` counts."""

    size_awg: int
    metal: Metal | None


@dataclass(frozen=True, slots=True)
class ElectrodeConductorFacts:
    """The conductor to an electrode, and the size required; None for what is not recorded."""

    electrode: str
    kind: Electrode
    metal: Metal
    size_awg: int | None
    asked_awg: int | None
    """In that metal; None while the service conductors that decide it are missing."""
    basis: ConductorBasis
    service: Wire | None


@dataclass(frozen=True, slots=True)
class NoElectrodesFacts:
    """No electrode is recorded."""


def tell(finding: Finding) -> FindingWords:
    """The conductor against the size required."""
    facts: ElectrodeConductorFacts | NoElectrodesFacts = finding.facts
    if isinstance(facts, NoElectrodesFacts):
        return panel_not_recorded((ANY(),), remedy=RECORD_EACH())
    electrode = electrode_named(facts.kind, facts.electrode)
    limit: Value = ""
    if facts.asked_awg is not None:
        limit = awg(facts.asked_awg)
    working = _working(finding.verdict, facts)
    if facts.size_awg is None:
        return panel_not_recorded(
            (SIZE[finding.code](electrode=electrode),), limit, working, READ()
        )
    if facts.asked_awg is None:
        return panel_not_recorded((SERVICE_SIZE(),), limit, working, READ())
    figure = wire(facts.size_awg, facts.metal)
    says = SAYS[finding.code](electrode=electrode, wire=figure, least=limit)
    remedy: Value = ""
    if finding.verdict is Verdict.NOT_TO_CODE:
        remedy = REMEDY()
    return FindingWords(says, awg(facts.size_awg), limit, working, remedy)


def _working(verdict: Verdict, facts: ElectrodeConductorFacts) -> tuple[Value, ...]:
    """From the service to the size required, and what was found."""
    lines: list[Value] = []
    if facts.basis is not ConductorBasis.ANY_HOUSE and facts.asked_awg is not None:
        lines.append(_service_line(verdict, facts.service))
    if facts.asked_awg is not None:
        lines.append(_least_line(facts, facts.asked_awg))
        if facts.metal is Metal.ALUMINUM:
            lines.append(IN_ALUMINUM(least=awg(facts.asked_awg)))
    if facts.size_awg is not None:
        lines.append(FOUND(wire=wire(facts.size_awg, facts.metal)))
    return tuple(lines)


def _service_line(verdict: Verdict, service: Wire | None) -> Text:
    """The service conductors; without them a conductor that is OK would be so either way."""
    if service is not None and service.metal is not None:
        return SERVICE(wire=wire(service.size_awg, service.metal))
    if verdict is Verdict.OK:
        return EITHER_WAY(what=SERVICE_SIZE())
    return STILL_MISSING(what=SERVICE_SIZE())


def _least_line(facts: ElectrodeConductorFacts, asked_awg: int) -> Text:
    """The size required in copper, as the code prints it."""
    copper = asked_awg
    if facts.metal is Metal.ALUMINUM:
        copper += ALUMINUM_LARGER
    least = wire(copper, Metal.COPPER)
    if facts.basis is ConductorBasis.ELECTRODE:
        return LEAST[facts.basis](kind=noun(facts.kind), wire=least)
    return LEAST[facts.basis](wire=least)


@rule(
    NAME,
    topic="grounding",
    title="Electrode conductor size",
    tell=tell,
    scope=Scope.WIRING,
    facts=ElectrodeConductorFacts | NoElectrodesFacts,
    workmanship=True,
)
def electrode_conductors(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """The conductor to each grounding electrode is as large as the service requires.

    One code goes by the service conductors, but requires no more than a figure to rods and
    another to steel in concrete; the other requires the same of every house. Aluminum is two
    sizes larger.
    """
    book, panel = site.rulebook, service_panel(site)
    flat, table = book.get(f"{NAME}.least_awg"), book.get(f"{NAME}.copper_awg")
    if panel is None or not (flat or table):
        return
    grounding = site.house.grounding
    electrodes: tuple[GroundingElectrode, ...] = ()
    if grounding:
        electrodes = grounding.electrodes
    if not electrodes:
        limits = []
        for limit in (flat, table):
            if limit:
                limits.append(limit)
        spot = site.panel_spot(panel)
        yield Finding(this, panel.id, Verdict.INFO_NEEDED, spot, NoElectrodesFacts(), tuple(limits))
    for electrode in electrodes:
        yield _electrode(this, site, panel, electrode)


def _electrode(
    this: Rule, site: HouseByCode, panel: Panel, electrode: GroundingElectrode
) -> Finding:
    asked, limit, basis = _asked(site, electrode)
    metal = Metal(electrode.material)
    if asked is not None and metal is Metal.ALUMINUM:
        asked -= ALUMINUM_LARGER
    size = None
    if electrode.conductor is not None:
        size = awg_number(electrode.conductor)
    fits = None
    if size is not None and asked is not None:
        fits = size <= asked
    facts = ElectrodeConductorFacts(
        electrode.id, electrode.kind, metal, size, asked, basis, _service(site)
    )
    place = electrode_named(electrode.kind, electrode.id)
    subject, spot = f"{panel.id}/{electrode.id}", site.panel_spot(panel, place)
    return Finding(this, subject, fact_verdict(fits), spot, facts, (limit,))


def _service(site: HouseByCode) -> Wire | None:
    """The service conductors; None when their size is not recorded."""
    service = site.house.service
    if service is None or service.conductor is None:
        return None
    metal = None
    if service.material is not None:
        metal = Metal(service.material)
    return Wire(awg_number(service.conductor), metal)


def _asked(
    site: HouseByCode, electrode: GroundingElectrode
) -> tuple[int | None, Limit, ConductorBasis]:
    """The copper size required to an electrode, None while it is open, and what it rests on."""
    book = site.rulebook
    flat = book.get(f"{NAME}.least_awg")
    if flat:
        return flat.value, flat, ConductorBasis.ANY_HOUSE
    cap = None
    if electrode.kind in CAPS:
        cap = book.get(f"{NAME}.{CAPS[electrode.kind]}")
    service = _service(site)
    if service is None or service.metal is None:
        if cap:
            return cap.value, cap, ConductorBasis.ELECTRODE
        return None, book[f"{NAME}.copper_awg"], ConductorBasis.SERVICE
    table = book[f"{NAME}.{service.metal}_awg"]
    asked = _by_service(table, service.size_awg)
    if cap and cap.value > asked:
        return cap.value, cap, ConductorBasis.ELECTRODE
    return asked, table, ConductorBasis.SERVICE


def _by_service(table: Limit, size: int) -> int:
    """The size in the row of the service conductors: the first they are not larger than."""
    rows: list[tuple[int, int]] = []
    for row, asked in table.value.items():
        rows.append((awg_number(row), asked))
    return next(asked for row, asked in sorted(rows, reverse=True) if size >= row)
