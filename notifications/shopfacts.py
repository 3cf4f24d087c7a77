"""What reasons about a whole shop are given, and the crews' lists as others provide them."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db.models import Q

from jobs.models import Membership, Person, Role, Shop
from notifications.models import Notice, NoticeRules


@dataclass(frozen=True, slots=True)
class CrewList:
    """What one crew does on a day, as the plan has it."""

    crew: UUID
    name: str
    people: Sequence[Person]
    lines: Sequence[str]
    """One a task, in the order of the day."""


Plan = Callable[[Shop, date], Sequence[CrewList]]
"""The lists of a shop's crews for a day; empty while there is no plan."""


def _no_plan(_shop: Shop, _day: date) -> Sequence[CrewList]:
    return ()


_plan: list[Plan] = [_no_plan]


def provide_plan(plan: Plan) -> None:
    """Tell notices where the crews' lists are read. Called once, by the app that plans."""
    _plan[0] = plan


@dataclass(frozen=True, slots=True)
class ShopFacts:
    """One shop on a day of its own."""

    shop: Shop
    rules: NoticeRules
    today: date
    lists: dict[date, Sequence[CrewList]]
    """Today's and tomorrow's lists."""
    given: Sequence[Notice]
    """What was given about the shop itself in the last days, the earliest first."""
    memberships: Sequence[Membership] = field(repr=False, default=())

    @property
    def zone(self) -> ZoneInfo:
        """The clock of the shop."""
        return ZoneInfo(self.shop.time_zone)

    def at(self, day: date, hour: time) -> datetime:
        """That hour of that day at the shop."""
        return datetime.combine(day, hour, self.zone).astimezone(UTC)

    @property
    def office(self) -> list[Person]:
        """The shop's office."""
        return [each.person for each in self.memberships if each.role == Role.OFFICE]

    @property
    def owner(self) -> list[Person]:
        """Who is told of the shop as a whole: the owner, or the office while none is named."""
        own = [each.person for each in self.memberships if each.person_id == self.rules.owner_id]
        return own or self.office


def shop_facts(shop_id: UUID, now: datetime) -> ShopFacts:
    """Read a shop as it is now."""
    shop = Shop.objects.select_related("notice_rules").get(id=shop_id)
    today = now.astimezone(ZoneInfo(shop.time_zone)).date()
    people = Membership.objects.filter(shop=shop, person__is_active=True)
    lately = Q(shop=shop, job__isnull=True, given_at__gte=now - timedelta(days=4))
    return ShopFacts(
        shop=shop,
        rules=shop.notice_rules,
        today=today,
        lists={day: _plan[0](shop, day) for day in (today, today + timedelta(days=1))},
        given=list(Notice.objects.filter(lately).order_by("given_at", "id")),
        memberships=list(people.select_related("person").order_by("id")),
    )
