"""A shop's changes in an order that never skips one and never tells one twice."""

from django.db import transaction
from django.db.models import Max

from inspections.models import FeedNumber, RecordEntry
from jobs.models import Shop

AT_ONCE = 2000


def changes_since(shop: Shop, since: int, most: int) -> list[FeedNumber]:
    """The next changes after a number, at most so many, each with its entry."""
    _number(shop)
    found = FeedNumber.objects.filter(shop=shop, number__gt=since).order_by("number")
    return list(found.select_related("entry__by", "entry__job")[:most])


def _number(shop: Shop) -> None:
    """Give the next numbers to what was committed and has none, one reader at a time."""
    new = RecordEntry.objects.filter(job__shop=shop, feed=None)
    if not new.exists():
        return
    with transaction.atomic():
        Shop.objects.select_for_update(no_key=True).get(id=shop.id)
        last = FeedNumber.objects.filter(shop=shop).aggregate(last=Max("number"))["last"] or 0
        numbers = []
        for number, entry in enumerate(new.order_by("at", "id")[:AT_ONCE], last + 1):
            numbers.append(FeedNumber(shop=shop, number=number, entry=entry))
        FeedNumber.objects.bulk_create(numbers)
