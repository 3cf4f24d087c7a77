"""Grounding electrodes enough, and rods far enough apart."""

from collections.abc import Iterator
from dataclasses import replace

from inspections.checker.asking.electrodes import (
    SUFFICIENT,
    ElectrodeBasis,
    ElectrodesFacts,
    FoundElectrode,
    RodMeasure,
    RodShort,
    RodUnmeasured,
    tell,
)
from inspections.checker.asking.service_panel import at_service, service_panel
from inspections.checker.geometry.intervals import EPSILON

from ..finding import Finding, Rule, Scope, rule
from ..house.grounding import Grounding, GroundingElectrode
from ..house.service import Electrode
from ..rulebook import Rulebook
from ..site import HouseByCode

NAME = "electrodes"


@rule(
    NAME,
    topic="grounding",
    title="Grounding electrodes",
    tell=tell,
    scope=Scope.WIRING,
    facts=ElectrodesFacts,
)
def electrodes(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """The service has electrodes that the code takes as enough.

    Steel in concrete will do alone; so will a plate where the code says so. Rods come in two,
    apart from one another, unless one is shown to have little resistance. A metal water pipe is
    supplemented by another electrode where the code requires that.
    """
    book, panel = site.rulebook, service_panel(site)
    if book.get(f"{NAME}.rods") is None or panel is None:
        return
    facts = _judge(book, site.house.grounding or Grounding())
    limits = []
    for name in ("rods", "apart_mm", "length_mm", "most_ohm", "supplement"):
        if limit := book.get(f"{NAME}.{name}"):
            limits.append(limit)
    yield at_service(this, site, panel, facts.fits, facts, *limits)


def _judge(book: Rulebook, grounding: Grounding) -> ElectrodesFacts:
    found = set()
    rods = []
    for electrode in grounding.electrodes:
        found.add(FoundElectrode(electrode.kind, electrode.id))
        if electrode.kind is Electrode.ROD:
            rods.append(electrode)
    most = book.get(f"{NAME}.most_ohm")
    facts = ElectrodesFacts(
        frozenset(found),
        _basis(book, grounding, len(rods)),
        book.value(f"{NAME}.rods"),
        grounding.resistance_ohm,
        most.value if most else None,
    )
    if facts.basis is not ElectrodeBasis.RODS:
        return facts
    return _measured(book, rods, facts)


def _basis(book: Rulebook, grounding: Grounding, rods: int) -> ElectrodeBasis:
    """What decides, by the kinds of electrode there are."""
    kinds = {electrode.kind for electrode in grounding.electrodes}
    if not kinds:
        return ElectrodeBasis.NONE
    if kinds & SUFFICIENT:
        return ElectrodeBasis.ENOUGH_ALONE
    if Electrode.WATER_PIPE in kinds:
        if len(kinds) == 1 and book.value(f"{NAME}.supplement", False):
            return ElectrodeBasis.PIPE_ALONE
        return ElectrodeBasis.PIPE
    if rods < book.value(f"{NAME}.rods"):
        return ElectrodeBasis.FEW_RODS
    return ElectrodeBasis.RODS


def _measured(
    book: Rulebook, rods: list[GroundingElectrode], facts: ElectrodesFacts
) -> ElectrodesFacts:
    """Each of several rods is long enough, and far enough from the next."""
    short = set()
    missing = set()
    for rod in rods:
        for measure, name, found_mm in (
            (RodMeasure.APART, "apart_mm", rod.apart_mm),
            (RodMeasure.LENGTH, "length_mm", rod.length_mm),
        ):
            limit = book.get(f"{NAME}.{name}")
            if limit and found_mm is None:
                missing.add(RodUnmeasured(rod.id, measure))
            elif limit and found_mm is not None and found_mm < limit.value - EPSILON:
                short.add(RodShort(rod.id, measure, found_mm, limit.value))
    return replace(facts, short=frozenset(short), missing=frozenset(missing))
