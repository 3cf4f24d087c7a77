"""What a page shows of verdicts, looks and quantities: messages, which `say` says to the reader."""

from django import template

from config.messages.values import FloorArea, Length, Text
from inspections.selectors import ChecklistLine
from inspections.standing.shown_messages import line_shown, seen_shown, verdict_shown

register = template.Library()


@register.filter
def verdict_words(verdict: str) -> Text:
    """`short` is "Not to code"."""
    return verdict_shown(verdict)


@register.filter
def seen_words(outcome: str) -> Text:
    """`absent` is "Can't see"."""
    return seen_shown(outcome)


@register.filter
def state_words(line: ChecklistLine) -> Text:
    """Where a line of a checklist stands."""
    seen = None
    if line.latest is not None and not line.changed_since:
        seen = line.latest.outcome
    return line_shown(line.standing, line.item.verdict, seen)


@register.filter
def millimetres(mm: float) -> Length:
    """A length, in the unit of whoever reads it."""
    return Length(mm)


@register.filter
def square_metres(m2: float) -> FloorArea:
    """A floor area, in the unit of whoever reads it."""
    return FloorArea(m2)
