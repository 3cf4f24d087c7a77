"""Reads of plans and of the lists for a day, for pages, the API and notices."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from operator import itemgetter
from typing import Any
from uuid import UUID

from django.db.models import Q, QuerySet

from config.messages.kept import message_of
from config.messages.message import Value
from inspections.days.changes import EMPTY, is_same_list, list_differences
from inspections.days.lists import draw_lists
from inspections.days.problem import plan_crews, shop_horizon, work_rules
from jobs.models import Crew, DayList, Membership, Person, Plan, PlannedWork, Role, Shop
from jobs.planning.horizon import Horizon
from jobs.planning.plan_messages import (
    ANOTHER_TRADE,
    AT_HOUSE,
    CREW_WHEN,
    MOVED,
    NOT_PLANNED,
    part_of_day,
)


def shop_of(person: Person, *roles: Role) -> Shop:
    """The first shop in which the person has one of the roles, or Shop.DoesNotExist."""
    mine = Membership.objects.filter(person=person, role__in=roles).order_by("id")
    membership = mine.select_related("shop").first()
    if membership is None:
        raise Shop.DoesNotExist
    return membership.shop


def plans_of(shop: Shop) -> QuerySet[Plan]:
    """The shop's plans, the latest first."""
    return Plan.objects.filter(shop=shop).select_related("asked_by", "told_by")


@dataclass(frozen=True, slots=True)
class CrewLoad:
    """What a crew has to do in a week, against what it can."""

    crew: str
    week: date
    """Its Monday."""
    minutes: int
    """Person-minutes planned, driving included."""
    capacity: int

    @property
    def percent(self) -> int:
        """The share of its time that is taken."""
        if self.capacity:
            return round(100 * self.minutes / self.capacity)
        return 0


def plan_work(plan: Plan) -> list[PlannedWork]:
    """Everything that the plan places, the earliest first."""
    return list(plan.work.select_related("job__authority", "crew", "area"))


def plan_loads(plan: Plan, work: Sequence[PlannedWork]) -> list[CrewLoad]:
    """How full each crew is, week by week."""
    rules = work_rules(plan.shop)
    weeks = shop_horizon(rules, plan.first_day)
    hands = {}
    for crew in plan_crews(plan.shop, rules, weeks, []):
        hands[crew.id] = crew
    taken: dict[tuple[str, date], int] = {}
    room: dict[tuple[str, date], int] = {}
    for crew in hands.values():
        for slot, count in enumerate(crew.hands):
            key = (crew.id, monday(weeks.days[slot // weeks.parts]))
            room[key] = room.get(key, 0) + count * weeks.part_minutes
    for row in work:
        if row.crew_id is None or row.crew_id.hex not in hands:
            continue
        for slot in _slots(weeks, row):
            key = (row.crew_id.hex, monday(weeks.days[slot // weeks.parts]))
            count = hands[row.crew_id.hex].hands[slot]
            taken[key] = taken.get(key, 0) + count * weeks.part_minutes
    loads: list[CrewLoad] = []
    for (crew, week), capacity in room.items():
        loads.append(CrewLoad(hands[crew].name, week, taken.get((crew, week), 0), capacity))
    return loads


def monday(day: date) -> date:
    """The Monday of that day's week."""
    return day - timedelta(days=day.weekday())


def _slots(weeks: Horizon, row: PlannedWork) -> range:
    if row.starts_on not in weeks.days or row.ends_on not in weeks.days:
        return range(0)
    first = weeks.days.index(row.starts_on) * weeks.parts + row.start_part
    return range(first, weeks.days.index(row.ends_on) * weeks.parts + row.end_part + 1)


def plan_changes(plan: Plan) -> list[Value]:
    """What is different from the plan that people were sent before it."""
    told = Plan.objects.filter(shop=plan.shop, told_at__isnull=False, asked_at__lt=plan.asked_at)
    before = told.exclude(id=plan.id).order_by("-told_at").first()
    if before is None:
        return []
    was = {(row.job_id, row.task): row for row in plan_work(before)}
    now = {(row.job_id, row.task): row for row in plan_work(plan)}
    changed = []
    for key in dict.fromkeys([*was, *now]):
        old, new = was.get(key), now.get(key)
        if _is_changed(old, new, plan.first_day):
            first_day = min(row.starts_on for row in (old, new) if row)
            changed.append((first_day, str(key), old, new))
    weeks = shop_horizon(work_rules(plan.shop), plan.first_day)
    changes: list[Value] = []
    for _, _, old, new in sorted(changed, key=itemgetter(0, 1)):
        row = new or old
        assert row is not None  # each key is of one of them
        what = AT_HOUSE(house=row.job.name, what=message_of(row.name))
        changes.append(MOVED(what=what, before=_spot(old, weeks), after=_spot(new, weeks)))
    return changes


def _is_changed(old: PlannedWork | None, new: PlannedWork | None, first_day: date) -> bool:
    """Whether a crew's work is elsewhere now; what was over before the plan began is not gone."""
    row = old or new
    assert row is not None  # each key is of one of them
    if not row.crew_id or _place(old) == _place(new):
        return False
    return new is not None or row.ends_on >= first_day


def _place(row: PlannedWork | None) -> tuple[Any, ...] | None:
    if row is None:
        return None
    return row.crew_id, row.starts_on, row.start_part


def _spot(row: PlannedWork | None, weeks: Horizon) -> Value:
    if row is None:
        return NOT_PLANNED()
    crew: Value = ANOTHER_TRADE()
    if row.crew:
        crew = row.crew.name
    part = min(row.start_part, weeks.parts - 1)
    when = part_of_day(row.starts_on, part, weeks.parts, weeks.part_starts(part))
    return CREW_WHEN(crew=crew, when=when)


def plan_read(person: Person, plan_id: UUID) -> Plan:
    """A plan of a shop whose office the person keeps, or Plan.DoesNotExist."""
    offices = Membership.objects.filter(person=person, role=Role.OFFICE).values("shop")
    return Plan.objects.select_related("shop").get(id=plan_id, shop__in=offices)


def crews_seen_by(person: Person) -> QuerySet[Crew]:
    """The crews whose lists a person may see: those they lead or are in; the office sees all."""
    offices = Membership.objects.filter(person=person, role=Role.OFFICE).values("shop")
    mine = Membership.objects.filter(person=person).exclude(role=Role.BUILDER).values("shop")
    seen = Q(shop__in=offices) | Q(shop__in=mine) & (Q(lead=person) | Q(places__person=person))
    return Crew.objects.filter(seen).select_related("shop", "lead").distinct()


def crew_read(person: Person, crew_id: UUID) -> Crew:
    """One of them, or Crew.DoesNotExist."""
    return crews_seen_by(person).get(id=crew_id)


@dataclass(frozen=True, slots=True)
class DayOf:
    """A crew's day: the list as it is now, and as it was last sent."""

    content: dict[str, Any] | None
    """None when no work is planned for the crew that day."""
    sent: DayList | None
    unsent: list[Value]
    """What changed since it was sent."""


def day_of(crew: Crew, day: date) -> DayOf:
    """A crew's list for a day."""
    drawn = draw_lists(crew.shop, day, [crew])
    content = None
    if drawn:
        content = drawn[0].content()
    sent = DayList.objects.filter(crew=crew, day=day).order_by("-number").first()
    unsent: list[Value] = []
    if sent and not is_same_list(sent.content, content or EMPTY):
        unsent = list_differences(sent.content, content or EMPTY)
    return DayOf(content, sent, unsent)
