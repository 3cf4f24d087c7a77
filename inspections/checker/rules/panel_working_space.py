"""WorkingClear space in front of panels."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from config.messages.message import Joined, Length, Listed, Message, Text, Value, message
from inspections.checker.asking.fixing import figure
from inspections.checker.asking.points import (
    EITHER_WAY,
    STILL_MISSING,
    figure_rounding,
    limit_rounding,
)
from inspections.checker.asking.service_panel import panel_not_recorded, power_panels
from inspections.checker.geometry.intervals import EPSILON
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, fault_verdict, rule
from ..house.power import Panel
from ..measures import Comparator
from ..rulebook import Limit
from ..site import HouseByCode

NAME = "panel-working-space"
WAY = Comparator.AT_LEAST


class WorkingSide(StrEnum):
    """A measure of the space."""

    WIDTH = "width"
    DEPTH = "depth"
    HEIGHT = "height"


FOUND: Mapping[WorkingSide, Message] = {
    WorkingSide.WIDTH: message(f"{NAME}.width", "clear width {clear}, minimum {least}"),
    WorkingSide.DEPTH: message(f"{NAME}.depth", "clear depth {clear}, minimum {least}"),
    WorkingSide.HEIGHT: message(f"{NAME}.height", "clear height {clear}, minimum {least}"),
}
MISSING: Mapping[WorkingSide, Message] = {
    WorkingSide.WIDTH: message(f"{NAME}.width.missing", "clear width"),
    WorkingSide.DEPTH: message(f"{NAME}.depth.missing", "clear depth"),
    WorkingSide.HEIGHT: message(f"{NAME}.height.missing", "clear height"),
}
SAYS = message(f"{NAME}.says", "In front of panel {panel}: {sides}.")
BEFORE = message(f"{NAME}.missing", "{sides} in front of panel {panel}")
REMEDY = message(f"{NAME}.remedy", "Clear the space or move the panel.")


@dataclass(frozen=True, slots=True)
class WorkingClear:
    """One measure of the space and its limit; None when it is not recorded."""

    side: WorkingSide
    clear_mm: float | None
    least_mm: float

    @property
    def tight(self) -> bool:
        """Whether it is known to be too little."""
        return self.clear_mm is not None and self.clear_mm < self.least_mm - EPSILON

    @property
    def least(self) -> Length:
        """Its limit."""
        return Length(self.least_mm, limit_rounding(WAY))

    @property
    def length(self) -> Length:
        """What is clear, where that is recorded."""
        if self.clear_mm is None:
            raise ValueError(f"the clear {self.side} is not recorded")
        return Length(self.clear_mm, figure_rounding(WAY, not self.tight))


@dataclass(frozen=True, slots=True)
class WorkingSpaceFacts:
    """The space in front of a panel, in the measures that the code limits."""

    panel: str
    sides: tuple[WorkingClear, ...]


def tell(finding: Finding) -> FindingWords:
    """What is clear in front of the panel; only what is tight, where something is."""
    facts: WorkingSpaceFacts = finding.facts
    if finding.verdict is Verdict.INFO_NEEDED:
        return _missing(facts)
    telling = []
    for clear in facts.sides:
        if clear.tight or finding.verdict is Verdict.OK:
            telling.append(clear)
    remedy: Value = ""
    if finding.verdict is Verdict.NOT_TO_CODE:
        remedy = REMEDY()
    return FindingWords(
        SAYS(panel=facts.panel, sides=Joined(tuple(map(_found, telling)), "; ")),
        Joined(tuple(clear.length for clear in telling), "; "),
        _limits(telling),
        _working(facts, EITHER_WAY),
        remedy,
    )


def _missing(facts: WorkingSpaceFacts) -> FindingWords:
    """The measures that are to be taken."""
    missing = []
    for clear in facts.sides:
        if clear.clear_mm is None:
            missing.append(clear)
    sides = Listed(tuple(MISSING[clear.side]() for clear in missing))
    what = BEFORE(sides=sides, panel=facts.panel)
    return panel_not_recorded((what,), _limits(missing), _working(facts, STILL_MISSING))


def _limits(sides: Sequence[WorkingClear]) -> Value:
    return Joined(tuple(clear.least for clear in sides), "; ")


def _working(facts: WorkingSpaceFacts, missing: Message) -> tuple[Value, ...]:
    """Every measure with its limit; one that is missing by what it changes."""
    lines = []
    for clear in facts.sides:
        if clear.clear_mm is None:
            lines.append(missing(what=MISSING[clear.side]()))
        else:
            lines.append(_found(clear))
    return tuple(lines)


def _found(clear: WorkingClear) -> Text:
    return FOUND[clear.side](clear=clear.length, least=clear.least)


def _fixes(finding: Finding, _house: House) -> Iterator[Fix]:
    """The free space in front of the panel, by each side that is tight or not measured."""
    facts = finding.facts
    for each in facts.sides:
        if each.clear_mm is None or each.tight:
            path = ("panels", facts.panel, f"clear_{each.side.value}_mm")
            yield figure(path, least=each.least_mm)


@rule(
    NAME,
    topic="panel",
    title="Working space",
    tell=tell,
    scope=Scope.WIRING,
    facts=WorkingSpaceFacts,
    workmanship=True,
    fixes=_fixes,
)
def panel_working_space(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A person can stand, kneel and draw back before a panel.

    The space is as wide as required, anywhere across the panel's front, and reaches from the
    floor to the height required. Nothing is stored in it.
    """
    limits = {}
    for side in WorkingSide:
        limit = site.rulebook.get(f"{NAME}.{side}_mm")
        if limit:
            limits[side] = limit
    if limits:
        for panel in power_panels(site):
            yield _panel(this, site, panel, limits)


def _panel(
    this: Rule, site: HouseByCode, panel: Panel, limits: Mapping[WorkingSide, Limit]
) -> Finding:
    clear = {
        WorkingSide.WIDTH: panel.clear_width_mm,
        WorkingSide.DEPTH: panel.clear_depth_mm,
        WorkingSide.HEIGHT: panel.clear_height_mm,
    }
    sides = []
    for side, limit in limits.items():
        sides.append(WorkingClear(side, clear[side], limit.value))
    tight = [each for each in sides if each.tight]
    missing = [each for each in sides if each.clear_mm is None]
    facts = WorkingSpaceFacts(panel.id, tuple(sides))
    spot = site.panel_spot(panel)
    verdict = fault_verdict(tight, missing)
    return Finding(this, panel.id, verdict, spot, facts, tuple(limits.values()))
