"""What is asked once, at the service panel, and how panels are told."""

from collections.abc import Sequence
from typing import Any

from config.messages.message import Listed, Text, Value, message
from inspections.checker.asking.points import NOT_RECORDED, RECORD
from inspections.checker.finding import Finding, FindingWords, Rule, Verdict
from inspections.checker.house.nouns import noun
from inspections.checker.house.power import Panel, PanelKind
from inspections.checker.house.service import Electrode
from inspections.checker.rulebook import Limit
from inspections.checker.site import HouseByCode

ELECTRODE = message("place.electrode", "{kind} {electrode}")


def electrode_named(kind: Electrode, electrode: str) -> Text:
    """An electrode by what it is and its id: ground rod R."""
    return ELECTRODE(kind=noun(kind), electrode=electrode)


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
    """The verdict on a fact that is required; None when it is not recorded."""
    if fits is None:
        return Verdict.INFO_NEEDED
    if fits:
        return Verdict.OK
    return Verdict.NOT_TO_CODE


def at_service(
    this: Rule,
    site: HouseByCode,
    panel: Panel,
    fits: bool | None,
    facts: Any,
    *limits: Limit,
) -> Finding:
    """A finding at the service panel."""
    return Finding(this, panel.id, fact_verdict(fits), site.panel_spot(panel), facts, limits)


def working_line(
    finding: Finding, says: Text, remedy: Value, figure: Value = "", limit: Value = ""
) -> FindingWords:
    """The words of a rule with a single fact: what it says is its working too."""
    shown: Value = ""
    if finding.verdict is Verdict.NOT_TO_CODE:
        shown = remedy
    return FindingWords(says, figure, limit, (says,), shown)


def panel_not_recorded(
    missing: Sequence[Value],
    limit: Value = "",
    working: Sequence[Value] = (),
    remedy: Value | None = None,
) -> FindingWords:
    """The words of a finding that waits for facts, each a part of a sentence."""
    says = NOT_RECORDED(what=Listed(tuple(missing)))
    return FindingWords(says, "", limit, tuple(working) or (says,), remedy or RECORD())
