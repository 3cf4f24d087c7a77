"""The size of grounding electrode conductors."""

from collections.abc import Iterator
from typing import Any

from config.messages.message import message
from inspections.checker.asking.sentences import verdict_words
from inspections.checker.asking.service_panel import service_panel

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..gauges import awg, awg_number
from ..house.grounding import GroundingElectrode
from ..house.power import Panel
from ..house.service import Electrode
from ..nouns import noun
from ..rulebook import Limit
from ..site import HouseByCode
from ..words import listed

ELECTRODE = message("place.electrode", "{kind} {electrode}")
NAME = "electrode-conductors"
CAPS = {
    Electrode.ROD: "rod_awg",
    Electrode.PLATE: "rod_awg",
    Electrode.CONCRETE_ENCASED: "concrete_awg",
}
"""The limit that holds for an electrode however large the service is."""
ALUMINUM_LARGER = 2
"""Sizes by which an aluminum conductor is larger than the copper one it stands for."""


def tell(finding: Finding) -> FindingWords:
    """The conductor against the size asked for."""
    data = finding.facts
    missing, electrode = listed(data["missing"]), data["electrode"]
    if data["asked"] is None:
        asked = "not known"
    else:
        asked = f"{awg(data['asked'])} {data['material']}"
    size = data["size"]
    if size is None:
        figure = "not recorded"
    else:
        figure = f"{size} {data['material']}"
    says = {
        Verdict.MEETS: f"The conductor to {electrode} is {figure}.",
        Verdict.SHORT: f"The conductor to {electrode} is {figure}; {asked} is asked.",
        Verdict.UNKNOWN: f"Nobody recorded {missing}.",
    }
    remedies = {
        Verdict.SHORT: "Run a larger conductor to the electrode, in one length.",
        Verdict.UNKNOWN: f"Record {missing}.",
    }
    working = [f"service conductors: {data['service'] or 'not recorded'}"]
    working += [f"to {electrode}: at least {asked}; found {figure}"]
    return verdict_words(finding, figure, f"at least {asked}", working, says, remedies)


@rule(NAME, topic="grounding", title="Size of electrode conductors", tell=tell, scope=Scope.WIRING)
def electrode_conductors(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """The conductor to each grounding electrode is as large as the service asks.

    One code goes by the service conductors, but asks no more than a figure to rods and another
    to steel in concrete; the other asks the same of every house. Aluminum is two sizes larger.
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
        data: dict[str, Any] = {
            "missing": ["the grounding electrodes of the service"],
            "electrode": "earth",
            **dict.fromkeys(("asked", "size", "service")),
            "material": "copper",
        }
        spot = site.panel_spot(panel)
        yield Finding(this, panel.id, Verdict.UNKNOWN, spot, data, tuple(limits))
    for electrode in electrodes:
        yield _electrode(this, site, panel, electrode)


def _electrode(
    this: Rule, site: HouseByCode, panel: Panel, electrode: GroundingElectrode
) -> Finding:
    asked, limit, missing = _asked(site, electrode)
    if asked is not None and electrode.material == "aluminum":
        asked -= ALUMINUM_LARGER
    size = electrode.conductor
    word = f"{electrode.kind.value.replace('_', ' ')} {electrode.id}"
    gone = []
    if size is None:
        gone = [f"the size of the conductor to {word}"]
    data: dict[str, Any] = {
        "electrode": word,
        "size": size if size is None else awg_or_kcmil(size),
        "asked": asked,
        "material": electrode.material,
        "service": _service(site),
        "missing": gone or missing,
    }
    verdict = Verdict.UNKNOWN
    if size is not None and asked is not None:
        verdict = Verdict.SHORT
        if awg_number(size) <= asked:
            verdict = Verdict.MEETS
    subject = f"{panel.id}/{electrode.id}"
    return Finding(
        this,
        subject,
        verdict,
        site.panel_spot(panel, ELECTRODE(kind=noun(electrode.kind), electrode=electrode.id)),
        data,
        (limit,),
    )


def _service(site: HouseByCode) -> str:
    """The service conductors in words; empty when nobody recorded them."""
    service = site.house.service
    if service is None or service.conductor is None:
        return ""
    return f"{awg_or_kcmil(service.conductor)} {service.material or ''}".strip()


def awg_or_kcmil(size: str) -> str:
    """A size with its unit."""
    if size.isdigit() and int(size) >= 250:
        return f"{size} kcmil"
    return f"{size} AWG"


def _asked(
    site: HouseByCode, electrode: GroundingElectrode
) -> tuple[float | None, Limit, list[str]]:
    """The copper size asked to an electrode, under which limit, and what is missing to say."""
    book = site.rulebook
    flat = book.get(f"{NAME}.least_awg")
    if flat:
        return flat.value, flat, []
    cap = None
    if electrode.kind in CAPS:
        cap = book.get(f"{NAME}.{CAPS[electrode.kind]}")
    service = site.house.service
    if not (service and service.conductor and service.material):
        if cap:
            return cap.value, cap, []
        return None, book[f"{NAME}.copper_awg"], ["the service conductors"]
    table = book[f"{NAME}.{service.material}_awg"]
    asked = _by_service(table, awg_number(service.conductor))
    if cap and cap.value > asked:
        return cap.value, cap, []
    return asked, table, []


def _by_service(table: Limit, size: int) -> float:
    """The size in the row of the service conductors: the first they are not larger than."""
    rows: list[tuple[int, float]] = []
    for row, asked in table.value.items():
        rows.append((awg_number(row), asked))
    return next(asked for row, asked in sorted(rows, reverse=True) if size >= row)
