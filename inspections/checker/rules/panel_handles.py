"""Breaker handles within reach."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Length, message
from inspections.checker.asking.fixing import figure
from inspections.checker.asking.points import figure_rounding, limit_rounding
from inspections.checker.asking.service_panel import (
    fact_verdict,
    panel_not_recorded,
    power_panels,
    working_line,
)
from inspections.checker.geometry.intervals import EPSILON
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..measures import Comparator, Tape, held_in
from ..site import HouseByCode

NAME = "panel-handles"
WAY = Comparator.AT_MOST
SAYS = message(
    f"{NAME}.says", "Top breaker handle of panel {panel} is {height} up; {limit} maximum."
)
MISSING = message(f"{NAME}.missing", "how high the top breaker handle of panel {panel} is")
REMEDY = message(f"{NAME}.remedy", "Lower the panel, or leave its top spaces empty.")
MEASURE = message(f"{NAME}.measure", "Measure it with the handle up; {limit} maximum.")
TAPE = message(f"{NAME}.tape", "from the floor to the top breaker handle, with the handle up")


@dataclass(frozen=True, slots=True)
class PanelHandleFacts:
    """How high the highest handle is in its highest position; None when it is not recorded."""

    panel: str
    height_mm: float | None
    highest_mm: float


def tell(finding: Finding) -> FindingWords:
    """How high the highest handle is."""
    facts: PanelHandleFacts = finding.facts
    limit = Length(facts.highest_mm, limit_rounding(WAY))
    if facts.height_mm is None:
        return panel_not_recorded((MISSING(panel=facts.panel),), limit, remedy=MEASURE(limit=limit))
    rounding = figure_rounding(WAY, finding.verdict is Verdict.OK)
    height = Length(facts.height_mm, rounding)
    says = SAYS(panel=facts.panel, height=height, limit=limit)
    return working_line(finding, says, REMEDY(), height, limit)


def _fixes(finding: Finding, _house: House) -> Iterator[Fix]:
    """The height of the highest handle."""
    facts = finding.facts
    path = ("panels", facts.panel, "highest_handle_mm")
    yield figure(path, most=facts.highest_mm, taped=True)


@rule(
    NAME,
    topic="panel",
    title="Breaker handle height",
    tell=tell,
    scope=Scope.WIRING,
    tapes=(Tape(TAPE, WAY, "highest_mm", held_in("highest_mm")),),
    facts=PanelHandleFacts,
    workmanship=True,
    fixes=_fixes,
)
def panel_handles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """The highest breaker handle, in its highest position, can be reached from the floor."""
    limit = site.rulebook.get(f"{NAME}.highest_mm")
    if limit is None:
        return
    for panel in power_panels(site):
        height = panel.highest_handle_mm
        fits = None
        if height is not None:
            fits = height <= limit.value + EPSILON
        facts = PanelHandleFacts(panel.id, height, limit.value)
        yield Finding(this, panel.id, fact_verdict(fits), site.panel_spot(panel), facts, (limit,))
