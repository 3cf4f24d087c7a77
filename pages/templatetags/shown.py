"""What a page shows of verdicts, looks and quantities: messages, which `say` says to the reader."""

from collections.abc import Collection

from django import template

from config.languages import imperial_units
from config.languages.own_words import Typed
from config.messages.lengths import INCHES, METRIC
from config.messages.message import FloorSize, Length, Text
from inspections.conclusions.not_applicable import why_never_na
from inspections.models import Item, Observation
from inspections.overview.measured import tape_words
from inspections.selectors import ChecklistLine
from inspections.standing.authority_messages import ground_shown, happening_shown, result_shown
from inspections.standing.holds import Seen
from inspections.standing.shown_messages import line_shown, seen_shown, verdict_shown
from inspections.standing.sources import known_by_words

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
    """Where a line of a checklist stands; of one that is OK, how that is known."""
    if line.known_by is not None and not line.not_applicable:
        return known_by_words(line.known_by, *_seen_by(line.latest))
    seen = None
    if line.latest is not None and not line.changed_since:
        seen = line.latest.outcome
    return line_shown(line.standing, line.item.verdict, seen)


def _seen_by(seen: Observation | None) -> tuple[str, Text | Length | Typed]:
    """Who looked and what their tape showed; nobody and nothing where nobody did."""
    if seen is None:
        return "", Typed()
    return str(seen.seen_by), tape_words(seen)


@register.filter
def state_code(line: ChecklistLine) -> str:
    """By what shape a line of a checklist is drawn: its standing, N/A apart from OK."""
    if line.not_applicable:
        return Seen.NA.value
    return line.standing.value


@register.filter
def may_be_na(item: Item, photo_rules: Collection[str]) -> bool:
    """Whether a line may be answered N/A, in a shop that wants these rules photographed."""
    return why_never_na(item, photo_rules) is None


@register.filter
def happening_words(happening: str) -> Text:
    """`moved` is "Rescheduled"."""
    return happening_shown(happening)


@register.filter
def result_words(answer: str, country: str) -> Text:
    """`accepted` is "Approved" in the US."""
    return result_shown(answer, country)


@register.filter
def ground_words(basis: str) -> Text:
    """On what ground an area was accepted."""
    return ground_shown(basis)


@register.filter
def millimetres(mm: float) -> Length:
    """A length, in the unit of whoever reads it."""
    return Length(mm)


@register.filter
def measured_words(seen: Observation) -> Text | Length | Typed:
    """What a tape showed, as it was typed or in the unit of whoever reads it."""
    return tape_words(seen)


@register.simple_tag
def length_example() -> str:
    """A length as the reader types it, which a field for one shows."""
    if imperial_units():
        return INCHES
    return METRIC


@register.filter
def square_metres(m2: float) -> FloorSize:
    """A floor area, in the unit of whoever reads it."""
    return FloorSize(m2)
