"""`pairs`: what a record holds, name by name; `named`: such a name in words.

`detail.items` in a template is not Python's: where `detail` holds something called "items", as the
entry of a walk does, it is that.
"""

from typing import Any

from django import template

from config.languages import say
from config.languages.sources import words
from config.messages.stored import is_stored_text

register = template.Library()


@register.filter("recorded")
def recorded_value(value: Any) -> Any:
    """A value of a record: messages as they are said, anything else as it was written."""
    if is_stored_text(value):
        return say(value)
    if isinstance(value, list) and any(map(is_stored_text, value)):
        return " ".join(map(say, value))
    return value


@register.filter
def pairs(held: dict[str, Any]) -> list[tuple[str, Any]]:
    """Each name with its value."""
    return list(dict.items(held))


@register.filter("named")
def name_in_words(name: str) -> str:
    """The name of what a record holds, as it is said: `issued_on` is "issued on"."""
    return say(words(name))
