"""Breaker handles within reach."""

from collections.abc import Iterator

from inspections.checker.asking.sentences import verdict_words
from inspections.checker.asking.service_panel import fact_verdict, power_panels
from inspections.checker.geometry.intervals import EPSILON

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..measures import Comparator, Tape, held_in
from ..site import HouseByCode
from ..words import length

NAME = "panel-handles"


def tell(finding: Finding) -> FindingWords:
    """How high the highest handle is."""
    data, imperial = finding.facts, finding.imperial
    asked, at = length(data["asked"], imperial), data["at"]
    if at is None:
        figure = "not recorded"
    else:
        figure = length(at, imperial)
    says = {
        Verdict.MEETS: f"The highest breaker handle is {figure} up.",
        Verdict.SHORT: f"The highest breaker handle is {figure} up, more than {asked}.",
        Verdict.UNKNOWN: "Nobody recorded how high the highest breaker handle is.",
    }
    remedies = {
        Verdict.SHORT: "Lower the panel, or leave the uppermost spaces empty.",
        Verdict.UNKNOWN: "Measure it in its highest position and record it.",
    }
    working = (f"highest handle {figure}; at most {asked}",)
    return verdict_words(finding, figure, f"at most {asked}", working, says, remedies)


@rule(
    NAME,
    topic="panel",
    title="Height of breaker handles",
    tell=tell,
    scope=Scope.WIRING,
    tapes=(Tape("highest breaker handle", Comparator.AT_MOST, "highest_mm", held_in("asked")),),
)
def panel_handles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """The highest breaker handle, in its highest position, can be reached from the floor."""
    limit = site.rulebook.get(f"{NAME}.highest_mm")
    if limit is None:
        return
    for panel in power_panels(site):
        at = panel.highest_handle_mm
        if at is None:
            fits = None
        else:
            fits = at <= limit.value + EPSILON
        data = {"at": at, "asked": limit.value}
        yield Finding(this, panel.id, fact_verdict(fits), site.panel_spot(panel), data, (limit,))
