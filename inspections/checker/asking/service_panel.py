"""What is asked once, at the service panel."""

from collections.abc import Mapping
from typing import Any

from inspections.checker.finding import Finding, Rule, Verdict
from inspections.checker.house.power import Panel, PanelKind
from inspections.checker.rulebook import Limit
from inspections.checker.site import HouseByCode


def power_panels(site: HouseByCode) -> list[Panel]:
    """The panels that carry power, in the order of the house."""
    panels: list[Panel] = []
    for panel in site.house.panels:
        if panel.kind is not PanelKind.COMMUNICATIONS:
            panels.append(panel)
    return panels


def service_panel(site: HouseByCode) -> Panel | None:
    """The panel of the service; None in a house that has none."""
    for p in site.house.panels:
        if p.kind is PanelKind.SERVICE:
            return p
    return None


def fact_verdict(fits: bool | None) -> Verdict:
    """The verdict on a fact that was asked for; None when nobody recorded it."""
    if fits is None:
        return Verdict.UNKNOWN
    if fits:
        return Verdict.MEETS
    return Verdict.SHORT


def at_service(
    this: Rule,
    site: HouseByCode,
    panel: Panel,
    fits: bool | None,
    data: Mapping[str, Any],
    *limits: Limit,
) -> Finding:
    """A finding at the service panel."""
    return Finding(this, panel.id, fact_verdict(fits), site.panel_spot(panel), data, limits)
