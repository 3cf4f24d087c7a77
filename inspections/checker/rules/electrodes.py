"""Grounding electrodes enough, and rods far enough apart."""

from collections.abc import Iterator
from typing import Any

from inspections.checker.asking.sentences import verdict_words
from inspections.checker.asking.service_panel import at_service, service_panel
from inspections.checker.geometry.intervals import EPSILON

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.grounding import Grounding, GroundingElectrode
from ..house.service import Electrode
from ..rulebook import Rulebook
from ..site import HouseByCode
from ..words import length, listed, number, plural

NAME = "electrodes"
SUFFICIENT = frozenset({Electrode.CONCRETE_ENCASED, Electrode.PLATE})
"""One of these is enough by itself."""


def tell(finding: Finding) -> FindingWords:
    """The electrodes and what is wanting of them."""
    data, imperial = finding.facts, finding.imperial
    found = listed(data["found"]) or "none"
    missing, faults = listed(data["missing"]), list(data["faults"])
    for rod, what, at, asked in data["rods"]:
        faults.append(f"rod {rod} {what} {length(at, imperial)}, {length(asked, imperial)} asked")
    says = {
        Verdict.MEETS: f"The service is grounded to {found}.",
        Verdict.SHORT: f"Grounding is wanting: {listed(faults)}.",
        Verdict.UNKNOWN: f"Nobody recorded {missing}.",
    }
    remedies = {
        Verdict.SHORT: "Drive another rod, or mend what is wanting.",
        Verdict.UNKNOWN: f"Record {missing}.",
    }
    working = [f"electrodes: {found}", *faults]
    ohms = data["ohms"]
    if ohms is not None:
        working += [f"resistance of the rod: {number(ohms)} ohm"]
    limit = f"steel in concrete, or {plural(data['asked'], 'rod')}, or as the code says"
    return verdict_words(finding, found, limit, working, says, remedies)


@rule(NAME, topic="grounding", title="Grounding electrodes", tell=tell, scope=Scope.WIRING)
def electrodes(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """The service has electrodes that the code takes as enough.

    Steel in concrete will do alone; so will a plate where the code says so. Rods come in two,
    apart from one another, unless one is shown to have little resistance. A metal water pipe is
    supplemented by another electrode where the code asks for that.
    """
    book, panel = site.rulebook, service_panel(site)
    rods = book.get(f"{NAME}.rods")
    if rods is None or panel is None:
        return
    grounding = site.house.grounding or Grounding()
    data = _judge(book, grounding)
    fits: bool | None = True
    if data["missing"]:
        fits = None
    if data["faults"] or data["rods"]:
        fits = False
    names = ("rods", "apart_mm", "length_mm", "most_ohm", "supplement")
    limits = []
    for name in names:
        if limit := book.get(f"{NAME}.{name}"):
            limits.append(limit)
    yield at_service(this, site, panel, fits, data, *limits)


def _judge(book: Rulebook, grounding: Grounding) -> dict[str, Any]:
    kinds = set()
    rods = []
    told = []
    for electrode in grounding.electrodes:
        kinds.add(electrode.kind)
        told.append(f"{electrode.kind.value.replace('_', ' ')} {electrode.id}")
        if electrode.kind is Electrode.ROD:
            rods.append(electrode)
    data: dict[str, Any] = {
        "found": told,
        "asked": book.value(f"{NAME}.rods"),
        "ohms": grounding.resistance_ohm,
        "faults": [],
        "rods": [],
        "missing": [],
    }
    if not kinds:
        data["missing"].append("the grounding electrodes of the service")
    elif Electrode.WATER_PIPE in kinds and not kinds & SUFFICIENT:
        if len(kinds) == 1 and book.value(f"{NAME}.supplement", False):
            data["faults"].append("a water pipe alone, without another electrode")
    elif not kinds & SUFFICIENT:
        _rods(book, grounding, rods, data)
    return data


def _rods(
    book: Rulebook, grounding: Grounding, rods: list[GroundingElectrode], data: dict[str, Any]
) -> None:
    """Rods as many as asked are each looked at; fewer, by what the ground resists."""
    if len(rods) < data["asked"]:
        _single(book, grounding, data)
        return
    for rod in rods:
        _rod(book, rod, data)


def _rod(book: Rulebook, rod: GroundingElectrode, data: dict[str, Any]) -> None:
    """One of several rods: long enough, and far enough from the next."""
    for limit, value, what in (
        (book.get(f"{NAME}.apart_mm"), rod.apart_mm, "stands apart by"),
        (book.get(f"{NAME}.length_mm"), rod.length_mm, "is driven"),
    ):
        if limit and value is None:
            data["missing"].append(f"how far rod {rod.id} {what}".removesuffix(" by"))
        elif limit and value is not None and value < limit.value - EPSILON:
            data["rods"].append((rod.id, what, value, limit.value))


def _single(book: Rulebook, grounding: Grounding, data: dict[str, Any]) -> None:
    """A rod alone will do where its resistance is shown to be small."""
    most, ohms = book.get(f"{NAME}.most_ohm"), grounding.resistance_ohm
    if most and ohms is not None and ohms <= most.value:
        return
    why = ""
    if ohms is not None and most:
        why = f", its resistance {number(ohms)} ohm"
    data["faults"].append(f"one rod alone{why}")
