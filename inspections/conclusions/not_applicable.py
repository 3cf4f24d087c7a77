"""What may be answered N/A: only what somebody's eyes settle on site, never what figures settle."""

from collections.abc import Collection

from config.messages.message import Text
from inspections.checker.finding import Verdict
from inspections.conclusions import not_applicable_messages as words
from inspections.models import Item

BY_FIGURES = (Verdict.NOT_TO_CODE, Verdict.INFO_NEEDED)
FEWEST_LETTERS = 3
"""So many letters or digits make a reason: a dash or another n/a is none."""


def why_never_na(item: Item, photo_rules: Collection[str]) -> Text | None:
    """Why an item cannot be answered N/A, whatever the reason; None where it can.

    `photo_rules` are the rules whose items the shop wants photographed.
    """
    if item.verdict in BY_FIGURES:
        return words.FIGURES()
    if item.verdict == Verdict.OK and not item.workmanship:
        return words.DESIGN()
    if item.measure is not None:
        return words.MEASURED()
    if item.rule in photo_rules:
        return words.PHOTOGRAPHED()
    return None


def is_a_reason(note: str) -> bool:
    """Whether a note says why something does not apply, as far as its letters tell."""
    return sum(each.isalnum() for each in note) >= FEWEST_LETTERS
