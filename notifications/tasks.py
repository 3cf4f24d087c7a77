"""Celery tasks, as thin as paper."""

from celery import shared_task

from notifications.services import shop_follow, shops_due


@shared_task(name="notifications.follow_shops")
def follow_shops() -> int:
    """The sweep over shops: give what follows from a shop as a whole and is due."""
    due = shops_due()
    for shop_id in due:
        shop_follow(shop_id)
    return len(due)
