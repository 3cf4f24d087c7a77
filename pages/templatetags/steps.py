"""How a hold is lifted, and whose step it is, as the trade says it where the house is."""

from collections.abc import Mapping
from typing import Any

from django import template

from config.languages import say
from config.messages.message import Value
from inspections.standing.steps import NextStep, read_lifts, step_words, steps_of, who_words

register = template.Library()


@register.filter
def lifts(hold: Mapping[str, Any]) -> list[NextStep]:
    """The ways to lift a hold as it is kept."""
    return steps_of(read_lifts(hold["lifted_by"]))


@register.filter
def line(step: NextStep, country: str) -> str:
    """A step with whose it is."""
    return _begun(step_words(step, country))


@register.filter
def who(step: NextStep, country: str) -> str:
    """Whose step it is."""
    return _begun(who_words(step.who, country))


def _begun(words: Value) -> str:
    """As a line begins."""
    said = say(words)
    return said[:1].upper() + said[1:]
