"""Clear space in front of panels."""

from collections.abc import Iterator
from typing import Any

from inspections.checker.asking.sentences import verdict_words
from inspections.checker.asking.service_panel import power_panels
from inspections.checker.geometry.intervals import EPSILON

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.power import Panel
from ..rulebook import Limit
from ..site import HouseByCode
from ..words import length, listed

NAME = "panel-working-space"
SIDES = ("width", "depth", "height")


def tell(finding: Finding) -> FindingWords:
    """What is clear in front of the panel, side by side."""
    data, imperial = finding.facts, finding.imperial
    asked = []
    clear = []
    for side, at, limit in data["sides"]:
        asked.append(f"{side} {length(limit, imperial)}")
        if at is not None:
            clear.append(f"{side} {length(at, imperial)}")
    tight, missing = listed(data["tight"]), listed(data["missing"])
    figure = ", ".join(clear) or "not recorded"
    says = {
        Verdict.MEETS: f"The space before the panel is clear: {figure}.",
        Verdict.SHORT: f"Too little {tight} before the panel: {figure}.",
        Verdict.UNKNOWN: f"Nobody recorded the clear {missing} before the panel.",
    }
    remedies = {
        Verdict.SHORT: "Clear the space, or move what stands in it, or the panel.",
        Verdict.UNKNOWN: f"Measure the {missing} and record it.",
    }
    working = []
    for each in asked:
        working.append(f"at least {each} asked")
    working.append(f"found: {figure}")
    return verdict_words(finding, figure, f"at least {', '.join(asked)}", working, says, remedies)


@rule(NAME, topic="panel", title="Working space", tell=tell, scope=Scope.WIRING)
def panel_working_space(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A person can stand, kneel and draw back before a panel.

    The space is as wide as asked, anywhere across the panel's front, and reaches from the floor
    to the height asked. Nothing is stored in it.
    """
    limits = {}
    for side in SIDES:
        limits[side] = site.rulebook.get(f"{NAME}.{side}_mm")
    asked = {}
    for side, limit in limits.items():
        if limit:
            asked[side] = limit
    if asked:
        for panel in power_panels(site):
            yield _panel(this, site, panel, asked)


def _panel(this: Rule, site: HouseByCode, panel: Panel, asked: dict[str, Limit]) -> Finding:
    found = {
        "width": panel.clear_width_mm,
        "depth": panel.clear_depth_mm,
        "height": panel.clear_height_mm,
    }
    sides = []
    for side, limit in asked.items():
        sides.append((side, found[side], limit.value))
    tight = []
    for s, at, least in sides:
        if at is not None and at < least - EPSILON:
            tight.append(s)
    missing = []
    for side, at, _ in sides:
        if at is None:
            missing.append(side)
    data: dict[str, Any] = {
        "sides": sides,
        "tight": tight,
        "missing": missing,
    }
    verdict = Verdict.MEETS
    if data["missing"]:
        verdict = Verdict.UNKNOWN
    if data["tight"]:
        verdict = Verdict.SHORT
    spot = site.panel_spot(panel)
    return Finding(this, panel.id, verdict, spot, data, tuple(asked.values()))
