"""A job cannot be checked: nothing in it counts as released."""

from collections.abc import Iterator
from datetime import timedelta

from inspections.standing.age import age_of
from notifications.messages.shops import SET_ASIDE
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, shop_reason
from notifications.shopfacts import ShopFacts

PATIENCE = timedelta(minutes=5)
"""What is over by then was a moment's trouble."""


@shop_reason("job set aside", NoticeKind.TROUBLE)
def job_set_aside(facts: ShopFacts) -> Iterator[Due]:
    """To the office, until it could be checked again."""
    for standing in facts.set_aside:
        since = standing.set_aside_at
        assert since is not None
        age = age_of(standing, since).words(standing.job.time_zone)
        text = SET_ASIDE(job=str(standing.job), age=age or "")
        occasion = f"{standing.job_id} {since.isoformat()}"
        yield from due_for(facts.office, occasion, text, since + PATIENCE)
