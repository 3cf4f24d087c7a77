"""What is OK on plan and may be confirmed on site together with its room, in one look.

A house has hundreds of such items. Whatever needs more than eyes that compare it with the plan is
answered by itself.
"""

from collections.abc import Collection, Sequence
from uuid import UUID

from django.db.models import F

from config.messages.kept import message_of
from config.messages.message import Message, Text
from inspections.checker.finding import Verdict
from inspections.conclusions import as_drawn_messages as words
from inspections.conclusions.items import items_with_seen
from inspections.models import Item, Photograph
from inspections.standing.walk_cards import settled_by_eye


def kept_apart(items: Sequence[Item], photo_rules: Collection[str]) -> dict[UUID, Text]:
    """Why each of the items cannot be confirmed with its room; those that can are left out.

    `photo_rules` are the rules whose items the shop wants photographed. A height or a depth that is
    drawn within its limit can be confirmed: a tape is put only to what the plan leaves open.
    """
    ids = [item.id for item in items]
    looked_at = items_with_seen(Item.objects.filter(id__in=ids)).exclude(seen=None)
    looked = set(looked_at.values_list("id", flat=True))
    taken = Photograph.objects.filter(item__in=ids, fingerprint=F("item__fingerprint"))
    photographed = set(taken.values_list("item", flat=True))
    apart: dict[UUID, Text] = {}
    for item in items:
        photo_missing = item.rule in photo_rules and item.id not in photographed
        reason = unlike_drawn(item)
        if reason is None and item.id in looked:
            reason = _named(words.ANSWERED, item)
        elif reason is None and photo_missing:
            reason = _named(words.PHOTO, item)
        if reason is not None:
            apart[item.id] = reason
    return apart


def unlike_drawn(item: Item) -> Text | None:
    """Why an item is none that hands make as drawn; None for one that is."""
    if not item.current or item.verdict != Verdict.OK:
        return _named(words.NOT_ON_PLAN, item)
    if not item.workmanship:
        return _named(words.DESIGN, item)
    return None


def not_by_room_check(item: Item) -> Text | None:
    """Why the OK of a whole card is none of the item; None for what is as drawn, or eyes settle."""
    if item.current and item.verdict == Verdict.VERIFY:
        if settled_by_eye(item.rule, item.finding.get("topic", "")):
            return None
        return _named(words.BY_ITSELF, item)
    return unlike_drawn(item)


def _named(reason: Message, item: Item) -> Text:
    return reason(title=message_of(item.finding["title"]))
