"""`say`: a sentence that the program made in English, in the language of the reader."""

from datetime import time

from django import template

from config.languages import say
from config.messages.values import Joined

register = template.Library()
register.filter("say", say)


@register.filter
def clock(hour: str) -> str:
    """An hour that is kept as 08:00, as the reader's language writes it."""
    return say(Joined((time.fromisoformat(hour),)))
