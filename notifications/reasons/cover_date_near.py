"""The day on which an area is to be covered is near, and something holds the area."""

from collections.abc import Iterator
from datetime import timedelta

from config.messages.message import Joined, Listed, Value, WeekDay
from inspections.standing.inspection_messages import trade_name
from notifications.facts import JobFacts
from notifications.messages.cover import DRYWALL_NEAR, NO_LAYER
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, reason

DRYWALL = "drywall"


@reason("cover date near", NoticeKind.COVER)
def cover_date_near(facts: JobFacts) -> Iterator[Due]:
    """To office, crew lead and builder, each of the shop's days before; the latest stands.

    The date is that of the drywall; insulation and vapour barrier conceal before it.
    """
    day = facts.job.drywall_on
    held = []
    for area in facts.areas:
        if not area.standing.released:
            held.append(area)
    if day is None or not held:
        return
    held_names = []
    for area in held:
        held_names.append(area.name)
    text: Value = DRYWALL_NEAR(
        job=str(facts.job), day=WeekDay(day), areas=Listed(tuple(held_names))
    )
    layers = facts.job.shop.layers
    if layers and layers[0] != DRYWALL:
        text = Joined((text, NO_LAYER(layer=trade_name(layers[0]))))
    steps = facts.rules.cover_days
    for days, following in zip(steps, [*steps[1:], -1], strict=True):
        at = facts.morning(day - timedelta(days=days))
        until = facts.morning(day - timedelta(days=following))
        yield from due_for(facts.office_leads_and_builder, f"{day} {days}", text, at, until=until)
