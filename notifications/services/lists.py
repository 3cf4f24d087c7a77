"""Sending the crews' next-day lists at the shop's hour, and what changes after it."""

from collections.abc import Collection
from datetime import date, datetime, time, timedelta
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db.models import QuerySet

from inspections.days.problem import told_plan
from inspections.days.services import day_lists_send
from jobs.models import DayList, PlannedWork, Shop
from jobs.prepared_queries import Prepared
from notifications.models import NoticeRules

DAY = timedelta(days=1)
FAR = 10  # days; a plan without work for longer has no next day worth a list


def lists_follow(rules: NoticeRules, now: datetime) -> datetime | None:
    """Freeze the lists that are to be sent by now; when to look again, or None without a plan.

    From the shop's hour on, the lists of the next day on which somebody works. A list that was
    sent is compared with the plan and the facts until the morning of its day: what the crew
    ticks off that day is no amendment.
    """
    shop = rules.shop
    if told_plan(shop) is None:
        return None
    zone = ZoneInfo(shop.time_zone)
    today = now.astimezone(zone).date()

    def at(day: date, hour: time) -> datetime:
        return datetime.combine(day, hour, zone)

    for day in _sent_days(shop, today):
        if now < at(day, rules.morning):
            day_lists_send(None, shop=shop, day=day)
    if now < at(today, rules.list_at):
        return at(today, rules.list_at)
    following = _next_day(shop, today)
    if following is not None and not DayList.objects.filter(shop=shop, day=following).exists():
        day_lists_send(None, shop=shop, day=following)
    return at(today + DAY, rules.list_at)


def has_lists_ahead(shop_id: UUID, today: date) -> QuerySet[DayList]:
    """The lists that were sent for today or later: what changes may amend them."""
    return DayList.objects.filter(shop=shop_id, day__gte=today)


_AHEAD: Prepared[UUID] = Prepared(
    lambda shops, today: (
        DayList.objects.filter(shop__in=shops, day__gte=today)
        .order_by("shop_id")
        .values_list("shop_id", flat=True)
        .distinct()
    )
)


def shops_with_lists_ahead(shop_ids: Collection[UUID], today: date) -> list[UUID]:
    """The shops of which lists were sent for today or later."""
    return _AHEAD(shop_ids, today)


def _sent_days(shop: Shop, today: date) -> list[date]:
    days = has_lists_ahead(shop.id, today).order_by("day").values_list("day", flat=True)
    return list(days.distinct())


def _next_day(shop: Shop, today: date) -> date | None:
    """The first day after today on which the plan that was told has work for a crew."""
    work = PlannedWork.objects.filter(
        plan=told_plan(shop),
        crew__isnull=False,
        ends_on__gt=today,
        starts_on__lte=today + FAR * DAY,
    )
    starts = []
    for start in work.values_list("starts_on", flat=True):
        starts.append(max(start, today + DAY))
    return min(starts, default=None)
