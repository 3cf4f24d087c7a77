"""Breaker spaces enough in the service panel, some of them spare."""

from collections.abc import Iterator
from typing import Any

from inspections.checker.asking.sentences import verdict_words
from inspections.checker.asking.service_panel import at_service, service_panel

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.power import Panel
from ..rulebook import Limit
from ..site import HouseByCode
from ..words import amperes, listed, plural

NAME = "panel-spaces"


def tell(finding: Finding) -> FindingWords:
    """The spaces there are, those asked for, and what is left."""
    data = finding.facts
    missing = listed(data["missing"])
    if missing:
        figure = "not recorded"
    else:
        figure = f"{data['spaces']} spaces, {data['spare']} spare"
    says = {
        Verdict.MEETS: f"The panel has {figure}.",
        Verdict.SHORT: f"The panel has {figure}; too few.",
        Verdict.UNKNOWN: f"Nobody recorded {missing} of the panel.",
    }
    remedies = {
        Verdict.SHORT: "Fit a panel with more spaces.",
        Verdict.UNKNOWN: f"Read {missing} on its label and record it.",
    }
    if missing:
        asked = "by its rating"
    else:
        asked = f"at least {data['least']}"
    working = [f"{figure}; spare asked: {data['asked_spare']}"]
    if not missing:
        taken = plural(data["taken"], "space")
        working = [
            f"rating {amperes(data['rating'])}: at least {plural(data['least'], 'space')}",
            f"{data['spaces']} spaces, {taken} taken: {data['spare']} spare, "
            f"{data['asked_spare']} asked",
        ]
    limit = f"{asked}, {plural(data['asked_spare'], 'spare space')}"
    return verdict_words(finding, figure, limit, working, says, remedies)


@rule(NAME, topic="panel", title="Spaces of the panel", tell=tell, scope=Scope.WIRING)
def panel_spaces(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """The service panel has the spaces that its rating asks for, and some of them are spare.

    A circuit takes as many as its breaker has poles. The figures are those of a house without
    central electric heating, which are the greater.
    """
    least, spare = (site.rulebook.get(f"{NAME}.{name}") for name in ("least", "spare"))
    panel = service_panel(site)
    if least is None or spare is None or panel is None:
        return
    missing = []
    if panel.rating_a is None:
        missing.append("its rating")
    if panel.spaces is None:
        missing.append("the spaces")
    data: dict[str, Any] = {
        "rating": panel.rating_a,
        "spaces": panel.spaces,
        "taken": _taken(site, panel),
        "asked_spare": spare.value,
        "missing": missing,
    }
    fits = None
    if panel.rating_a is not None and panel.spaces is not None:
        data["least"] = _least(least, panel.rating_a)
        data["spare"] = panel.spaces - data["taken"]
        fits = panel.spaces >= data["least"] and data["spare"] >= spare.value
    yield at_service(this, site, panel, fits, data, least, spare)


def _taken(site: HouseByCode, panel: Panel) -> int:
    """The spaces that its circuits take; a circuit without a place, as many as its poles."""
    slots: set[int] = set()
    poles = 0
    for circuit in site.house.circuits:
        if circuit.panel != panel.id:
            continue
        slots.update(circuit.slots)
        if not circuit.slots:
            poles += circuit.poles
    return len(slots) + poles


def _least(least: Limit, rating: float) -> Any:
    """The spaces asked by the first row that the rating does not exceed, or by the last."""
    rows = []
    for row, spaces in least.value.items():
        rows.append((float(row), spaces))
    rows.sort()
    for row, spaces in rows:
        if rating <= row:
            return spaces
    return rows[-1][1]
