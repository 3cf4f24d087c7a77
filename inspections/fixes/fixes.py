"""What can be corrected of a finding, with the values that the house has now."""

from dataclasses import replace
from typing import Any

from inspections.checker.finding import Finding, Verdict
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix, FixKind
from inspections.checker.house.paths import Path, value_at

TO_FIX = (Verdict.NOT_TO_CODE, Verdict.INFO_NEEDED)


class HouseFacts:
    """A house and the same as JSON, made once for many findings."""

    def __init__(self, house: House) -> None:
        self.house = house
        self.json: dict[str, Any] = house.model_dump(mode="json")

    def now(self, path: Path) -> Any:
        """The value at a path; None where none is recorded."""
        return value_at(self.json, path)


def fixes_of(house: House | HouseFacts, finding: Finding) -> tuple[Fix, ...]:
    """The facts whose change could settle a finding; none of one that is OK or only to verify.

    Each comes with the value that the house has now. What one button would record and the house
    says already is left out.
    """
    facts = house if isinstance(house, HouseFacts) else HouseFacts(house)
    if finding.verdict not in TO_FIX or finding.rule.fixes is None:
        return ()
    found: list[Fix] = []
    for fix in finding.rule.fixes(finding, facts.house):
        now = facts.now(fix.path)
        if fix.kind is FixKind.DONE and now == fix.to:
            continue
        if fix.kind is FixKind.CHOICE:
            fix = replace(fix, choices=_others(fix, now))
            if not fix.choices:
                continue
        found.append(replace(fix, now=now))
    return tuple(found)


def _others(fix: Fix, now: Any) -> tuple[Any, ...]:
    """What is offered, without what it is already."""
    return tuple(each for each in fix.choices if each != now)


def settles(fix: Fix, value: Any) -> bool | None:
    """Whether a value meets what the fix is held to; None where only a check of the house says."""
    if fix.least is None and fix.most is None:
        return None
    if not isinstance(value, int | float) or isinstance(value, bool):
        return False
    if fix.least is not None and value < fix.least - DUST:
        return False
    return fix.most is None or value <= fix.most + DUST


DUST = 0.01
"""As rules allow for arithmetic: mm, mL, kg."""
