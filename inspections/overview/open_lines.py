"""What is not as it should be in a house, with one number on plan, list and paper alike."""

from collections.abc import Sequence
from dataclasses import dataclass

from inspections.checker.finding import Verdict
from inspections.selectors import ChecklistLine
from inspections.standing.holds import Standing

BY_FIGURES = (Verdict.NOT_TO_CODE, Verdict.INFO_NEEDED)


@dataclass(frozen=True, slots=True)
class OpenLine:
    """A line that is to be fixed or lacks info, and its number."""

    number: int
    line: ChecklistLine


def open_lines(lines: Sequence[ChecklistLine]) -> list[OpenLine]:
    """Those of a checklist in walking order that are not to code or need info, numbered from 1.

    First what the figures say, which no answer changes; then what somebody on site says is to be
    fixed. So a number stays what it was until another revision of the house is recorded.
    """
    by_figures: list[ChecklistLine] = []
    by_eye: list[ChecklistLine] = []
    for line in lines:
        if line.item.verdict in BY_FIGURES:
            by_figures.append(line)
        elif line.standing is Standing.FIX:
            by_eye.append(line)
    numbered: list[OpenLine] = []
    for number, line in enumerate([*by_figures, *by_eye], start=1):
        numbered.append(OpenLine(number, line))
    return numbered
