"""Metal water and gas piping bonded to the service."""

from collections.abc import Iterator
from typing import Any

from inspections.checker.asking.sentences import verdict_words
from inspections.checker.asking.service_panel import fact_verdict, service_panel

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.grounding import Pipe
from ..rulebook import Limit, Rulebook
from ..site import HouseByCode

NAME = "pipe-bonding"


def tell(finding: Finding) -> FindingWords:
    """The piping and whether it is bonded."""
    data = finding.facts
    pipe, missing = data["pipe"], data["missing"]
    figure = {True: "bonded", False: "not bonded", None: "not recorded"}[data["bonded"]]
    says = {
        Verdict.MEETS: f"The {pipe} piping is bonded to the service.",
        Verdict.SHORT: f"The metal {pipe} piping is not bonded to the service.",
        Verdict.UNKNOWN: f"Nobody recorded {missing}.",
    }
    remedies = {
        Verdict.SHORT: "Bond it near where it enters, with a listed clamp that stays in reach.",
        Verdict.UNKNOWN: f"Look and record {missing}.",
    }
    working = (f"{pipe} piping: {figure}",)
    return verdict_words(finding, figure, "metal piping bonded", working, says, remedies)


@rule(NAME, topic="grounding", title="Bonding of piping", tell=tell, scope=Scope.WIRING)
def pipe_bonding(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Metal piping that could become live is bonded to the service. Plastic needs nothing."""
    panel = service_panel(site)
    limits = _limits(site.rulebook)
    if panel is None or not limits:
        return
    spot = site.panel_spot(panel)
    grounding = site.house.grounding
    if grounding is None or grounding.pipes is None:
        data: dict[str, Any] = {"pipe": "water and gas", "bonded": None}
        data["missing"] = "whether water and gas piping is metal"
        every = tuple(limits.values())
        yield Finding(this, panel.id, Verdict.UNKNOWN, spot, data, every)
        return
    for pipe in grounding.pipes:
        if pipe.metal is not False and pipe.kind in limits:
            data = {"pipe": pipe.kind.value, "bonded": pipe.bonded, "missing": _missing(pipe)}
            subject, limit = f"{panel.id}/{pipe.kind.value}", limits[pipe.kind.value]
            yield Finding(this, subject, _verdict(pipe), spot, data, (limit,))


def _limits(book: Rulebook) -> dict[str, Limit]:
    """What the code asks of each kind of piping."""
    limits = {}
    for kind in ("water", "gas"):
        limit = book.get(f"{NAME}.{kind}")
        if limit and limit.value:
            limits[kind] = limit
    return limits


def _verdict(pipe: Pipe) -> Verdict:
    """By its bonding; a pipe that may be plastic is not short for want of it."""
    if pipe.metal or pipe.bonded:
        return fact_verdict(pipe.bonded)
    return fact_verdict(None)


def _missing(pipe: Pipe) -> str:
    if pipe.metal is None:
        return f"whether the {pipe.kind.value} piping is metal"
    if pipe.bonded is None:
        return f"whether the {pipe.kind.value} piping is bonded"
    return ""
