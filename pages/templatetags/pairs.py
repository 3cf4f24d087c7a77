"""`pairs`: what a record holds, name by name.

`detail.items` in a template is not Python's: where `detail` holds something called "items", as the
entry of a walk does, it is that.
"""

from typing import Any

from django import template

register = template.Library()


@register.filter
def pairs(held: dict[str, Any]) -> list[tuple[str, Any]]:
    """Each name with its value."""
    return list(dict.items(held))
