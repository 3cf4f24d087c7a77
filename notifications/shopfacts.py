"""What reasons about a whole shop are given."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db.models import Exists, OuterRef

from inspections.days.problem import crew_stints, workers_of
from inspections.models import AuditedShop, JobStanding
from jobs.access import SITE_ROLES
from jobs.models import Crew, DayList, Membership, Person, Role, Shop
from jobs.planning import crews as pure
from notifications.models import Address, Delivery, Notice, NoticeKind, NoticeRules, State

LATELY = timedelta(days=3)


@dataclass(frozen=True, slots=True)
class ShopFacts:
    """One shop on a day of its own."""

    shop: Shop
    rules: NoticeRules
    today: date
    lists: Sequence[tuple[DayList, Sequence[Person]]]
    """The list as last sent to each crew for today and the days after, and who is to have it."""
    paused: Sequence[Address]
    given_up: Sequence[Delivery]
    """What was given up in the last days."""
    audited: AuditedShop | None = None
    """What the last audit found; None before the first."""
    of_trouble: frozenset[UUID] = frozenset()
    """Of what was given up, that which was itself about such."""
    set_aside: Sequence[JobStanding] = ()
    """Of jobs that cannot be settled, the first set aside first."""
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
        people: list[Person] = []
        for each in self.memberships:
            if each.role == Role.OFFICE:
                people.append(each.person)
        return people

    @property
    def owner(self) -> list[Person]:
        """Who is told of the shop as a whole: the owner, or the office while none is named."""
        own = []
        for each in self.memberships:
            if each.person_id == self.rules.owner_id:
                own.append(each.person)
        return own or self.office


def shop_facts(shop_id: UUID, now: datetime) -> ShopFacts:
    """Read a shop as it is now."""
    shop = Shop.objects.select_related("notice_rules").get(id=shop_id)
    today = now.astimezone(ZoneInfo(shop.time_zone)).date()
    people = Membership.objects.filter(shop=shop, person__is_active=True)
    about = Notice.objects.filter(deliveries=OuterRef("pk"), kind=NoticeKind.TROUBLE)
    dead = Delivery.objects.filter(shop=shop, state=State.DEAD, ended_at__gte=now - LATELY)
    told = dead.annotate(trouble=Exists(about)).select_related("person", "address")
    given_up = list(told.order_by("ended_at", "id"))
    paused = Address.objects.filter(shop=shop, paused_at__isnull=False, ended_at=None)
    aside = JobStanding.objects.filter(job__shop=shop, set_aside_at__isnull=False)
    of_trouble = []
    for each in given_up:
        if each.trouble:
            of_trouble.append(each.id)
    return ShopFacts(
        shop=shop,
        rules=shop.notice_rules,
        today=today,
        lists=_lists(shop, today),
        paused=list(paused.select_related("person").order_by("paused_at", "id")),
        given_up=given_up,
        of_trouble=frozenset(of_trouble),
        audited=AuditedShop.objects.filter(shop=shop).first(),
        set_aside=list(aside.select_related("job").order_by("set_aside_at", "job_id")),
        memberships=list(people.select_related("person").order_by("id")),
    )


def _lists(shop: Shop, today: date) -> list[tuple[DayList, Sequence[Person]]]:
    sent = DayList.objects.filter(shop=shop, day__gte=today).select_related("crew__lead")
    latest = {}
    for each in sent.order_by("number"):
        latest[(each.crew_id, each.day)] = each
    if not latest:
        return []
    places, workers = crew_stints(Crew.objects.filter(shop=shop)), workers_of(shop)
    still = Membership.objects.filter(shop=shop, role__in=SITE_ROLES, person__is_active=True)
    here = {}
    for each in still.select_related("person"):
        here[each.person_id] = each.person
    found: list[tuple[DayList, Sequence[Person]]] = []
    for day_list in latest.values():
        there = pure.present(day_list.crew_id.hex, day_list.day, places, workers)
        ids = []
        for worker in there:
            ids.append(UUID(worker.id))
        lead = day_list.crew.lead_id
        people = []
        for each in dict.fromkeys([lead, *sorted(ids)]):
            if each in here:
                people.append(here[each])
        found.append((day_list, people))
    return found
