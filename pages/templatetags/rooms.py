"""Where a line of the checklist stands: on the page of its job, and within its room."""

from django import template

from config.messages.message import Joined
from config.messages.stored import from_json, is_stored_text
from inspections.checker.site import STOREY_AND_ROOM
from inspections.models import Item
from pages.jobs.room_rows import item_address

register = template.Library()


@register.filter
def line_address(item: Item) -> str:
    """The page of its job with its room opened, at the line."""
    return item_address(item)


@register.filter
def in_room(where: object) -> object:
    """A place without its storey and room, for whoever reads it under the name of the room."""
    place = where
    if is_stored_text(where):
        place = from_json(where)
    if isinstance(place, Joined) and len(place.of) > len(STOREY_AND_ROOM):
        return Joined(place.of[len(STOREY_AND_ROOM) :], place.between)
    return ""
