"""What a line of the checklist wants of whoever reads it: four states, the worst first."""

from collections.abc import Iterable
from enum import StrEnum

from inspections.checker.finding import Verdict
from inspections.selectors import ChecklistLine
from inspections.standing.holds import Standing


class LineState(StrEnum):
    """The four states by which lines are counted and filtered, in order of severity."""

    NOT_TO_CODE = "not_to_code"
    """By its figures, or by what somebody on site saw."""
    INFO_NEEDED = "info_needed"
    VERIFY = "verify"
    OK = "ok"
    """On site, or on plan while nobody on site has answered it."""


BY_STANDING = {
    Standing.OK: LineState.OK,
    Standing.FIX: LineState.NOT_TO_CODE,
    Standing.INFO_NEEDED: LineState.INFO_NEEDED,
}


def line_state(line: ChecklistLine) -> LineState:
    """The state of a line; what people disagree about is to be verified."""
    if line.standing is Standing.OPEN:
        unanswered = line.latest is None or line.changed_since
        if line.item.verdict == Verdict.OK and unanswered and not line.contested:
            return LineState.OK
        return LineState.VERIFY
    return BY_STANDING[line.standing]


def state_counts(lines: Iterable[ChecklistLine]) -> dict[LineState, int]:
    """How many lines are in each state; every state is there."""
    counts = dict.fromkeys(LineState, 0)
    for line in lines:
        counts[line_state(line)] += 1
    return counts
