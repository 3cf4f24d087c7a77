"""`say`: a message in the language of the reader; `when` and `today`: days as it writes them."""

from datetime import date, datetime, time

from django import template
from django.utils.timezone import is_aware, localdate, localtime

from config.languages import say, say_when
from config.messages.message import Joined

register = template.Library()
register.filter("say", say)


@register.filter
def clock(hour: str) -> str:
    """An hour that is kept as 08:00, as the reader's language writes it."""
    return say(Joined((time.fromisoformat(hour),)))


@register.filter("when", expects_localtime=True)
def day_or_moment(moment: date | None) -> str:
    """A day or a moment to the minute, by the clock of the page; nothing for none."""
    if moment is None:
        return ""
    if isinstance(moment, datetime) and is_aware(moment):
        moment = localtime(moment)
    return say_when(moment)


@register.simple_tag(name="today")
def day_of_page() -> str:
    """The day by the clock of the page, as the reader's language writes it."""
    return say_when(localdate())
