"""Writes of plans and of the lists that crews are sent."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, Any
from uuid import UUID

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from config.languages import said_later
from config.messages.message import Value, WeekDay
from config.messages.stored import to_json
from inspections.days import day_messages as words
from inspections.days.changes import is_same_list, list_differences
from inspections.days.lists import NextDay, draw_lists
from inspections.days.problem import ShopProblem, shop_now, shop_problem
from inspections.days.what_if import Supposed
from inspections.services.background import BROKE, TRIES, ends_in_words
from jobs.access import require_role
from jobs.bounds_refused import refuse_outside
from jobs.models import Area, Crew, DayList, Person, Plan, PlannedWork, Role, Shop
from jobs.moments import ANY_DAY
from jobs.planning.effort import Effort
from jobs.planning.faults import ProblemFaults
from jobs.planning.plan_messages import NOT_IN_WEEKS, full_name
from jobs.planning.problem import PlannedInspection, Problem, days_late
from jobs.planning.problem import Schedule as Found
from jobs.planning.working_days import NeverOpen
from jobs.signals import plan_asked

if TYPE_CHECKING:
    from jobs.planning.why import Why

TAKEN_UP = timedelta(minutes=10)
"""A plan that a worker took up so long ago is taken up by another: the first one died."""
EXPLAINED = 12
"""How many late promises of a plan are explained."""
EFFORT = Effort(work=4.0, seconds=60.0)


def plan_ask(
    actor: Person,
    *,
    shop: Shop,
    first_day: date | None = None,
    supposing: Sequence[Supposed] = (),
) -> Plan:
    """Ask for a plan from a day on, tomorrow unless another is given. A worker makes it.

    `supposing` asks what would follow: somebody away, or one more person in a crew.
    """
    require_role(actor, shop, Role.OFFICE)
    now = timezone.now()
    today = shop_now(shop, now).date()
    refuse_outside(now, shop.time_zone, first_day=(ANY_DAY, first_day))
    for each in supposing:
        days = {"from_day": (ANY_DAY, each.from_day), "to_day": (ANY_DAY, each.to_day)}
        refuse_outside(now, shop.time_zone, **days)
    first = first_day or today + timedelta(days=1)
    if first < today:
        raise ValidationError({"first_day": said_later(words.PAST(day=WeekDay(first)))})
    with transaction.atomic():
        supposed = []
        for each in supposing:
            supposed.append(each.kept())
        plan = Plan.objects.create(
            shop=shop,
            asked_by=actor,
            asked_at=now,
            first_day=first,
            supposing=supposed,
        )
        transaction.on_commit(lambda: plan_asked.send(sender=Plan, plan_id=plan.id))
    return plan


def plan_make(plan_id: UUID, effort: Effort = EFFORT) -> Plan:
    """Work out a plan that was asked for. Safe to repeat; one that is made is left as it is.

    What breaks in the working out, or ends the worker again and again, fails the plan in words.
    """
    now = timezone.now()
    with transaction.atomic():
        plan = Plan.objects.select_for_update(no_key=True).select_related("shop").get(id=plan_id)
        busy = plan.begun_at is not None and now - plan.begun_at < TAKEN_UP
        if plan.state != Plan.State.ASKED or busy:
            return plan
        if plan.tries >= TRIES:
            return _failed(plan)
        plan.begun_at, plan.tries = now, plan.tries + 1
        plan.save(update_fields=["begun_at", "tries"])
    with ends_in_words(f"plan {plan.id}", lambda: _failed(plan)):
        _work_out(plan, now, effort)
    return plan


def _failed(plan: Plan) -> Plan:
    return _keep(plan, state=Plan.State.FAILED, faults=[to_json(BROKE())])


def _work_out(plan: Plan, now: datetime, effort: Effort) -> Plan:
    from jobs.planning.planner import best_plan  # only a worker loads the solver
    from jobs.planning.why import explain_lateness

    try:
        supposed = []
        for each in plan.supposing:
            supposed.append(Supposed.read(each))
        shop = shop_problem(plan.shop, plan.first_day, now, supposed)
        found = best_plan(shop.problem, effort)
        why = explain_lateness(most_late(shop.problem, found), found, shop.say)
    except ProblemFaults as refused:
        faults = [to_json(fault) for fault in refused.faults]
        return _keep(plan, state=Plan.State.REFUSED, faults=faults)
    except NeverOpen as never:
        return _keep(plan, state=Plan.State.REFUSED, faults=[to_json(never.text)])
    with transaction.atomic():
        PlannedWork.objects.filter(plan=plan).delete()
        PlannedWork.objects.bulk_create(_rows(plan, shop, found), batch_size=500)
        days = []
        for day in shop.weeks.days:
            days.append(day.isoformat())
        levels = []
        for level in found.levels:
            levels.append({"name": level.name, "value": level.value, "bound": level.bound})
        return _keep(
            plan,
            state=Plan.State.MADE,
            days=days,
            levels=levels,
            late=_late(shop, found, why),
            left=_left(shop, found),
            cut_short=found.cut_short,
        )


def _keep(plan: Plan, **fields: Any) -> Plan:
    for name, value in fields.items():
        setattr(plan, name, value)
    plan.made_at = timezone.now()
    plan.save()
    return plan


def plans_due(now: datetime | None = None) -> list[UUID]:
    """Plans that were asked for and that no worker is on: a message was lost or a worker died."""
    now = now or timezone.now()
    asked = Plan.objects.filter(
        state=Plan.State.ASKED, asked_at__lt=now - timedelta(minutes=1)
    ).order_by("id")
    ids: list[UUID] = []
    for plan in asked:
        if plan.begun_at is None or now - plan.begun_at >= TAKEN_UP:
            ids.append(plan.id)
    return ids


def _rows(plan: Plan, shop: ShopProblem, found: Found) -> Iterable[PlannedWork]:
    crews = {}
    for crew in Crew.objects.filter(shop=plan.shop):
        crews[crew.id.hex] = crew
    areas: dict[tuple[UUID, str], Area] = {}
    for job in shop.facts.jobs:
        for area in job.areas.all():
            areas[(job.id, area.code)] = area
    weeks = shop.weeks
    for each in shop.problem.activities:
        spot = found.placed.get(each.id)
        if spot is None or spot.end == spot.start:
            continue
        job, key = shop.split(each.id)
        kind, _, rest = key.partition("/")
        yield PlannedWork(
            plan=plan,
            job_id=job,
            area=areas.get((job, rest)),
            crew=crews.get(spot.crew),
            task=key,
            kind=kind,
            name=to_json(each.name),
            minutes=0 if isinstance(each, PlannedInspection) else each.minutes,
            starts_on=weeks.days[spot.start // weeks.parts],
            start_part=spot.start % weeks.parts,
            ends_on=weeks.days[(spot.end - 1) // weeks.parts],
            end_part=(spot.end - 1) % weeks.parts,
        )


def most_late(problem: Problem, found: Found) -> Problem:
    """The problem with those promises alone whose lateness is to be explained: the heaviest."""
    late = []
    for p in problem.promises:
        if days_late(problem, p, found.placed):
            late.append(p)
    late.sort(key=lambda p: (-p.weight * days_late(problem, p, found.placed), p.id))
    return replace(problem, promises=tuple(late[:EXPLAINED]))


def _late(shop: ShopProblem, found: Found, why: Iterable["Why"]) -> list[dict[str, Any]]:
    reasons = {}
    for each in why:
        reasons[each.promise.id] = each
    late = []
    for promise in shop.problem.promises:
        if not (days := days_late(shop.problem, promise, found.placed)):
            continue
        job, what = shop.split(promise.id)
        name = to_json(full_name(promise))
        kept = {"job": str(job), "what": what, "name": name, "days": days}
        if reason := reasons.get(promise.id):
            kept["why"] = to_json(reason.told)
            kept["chain"] = [to_json(step) for step in reason.chain]
            kept["changes"] = [{"words": to_json(c.says), "days": c.days} for c in reason.changes]
        late.append(kept)
    return sorted(late, key=lambda each: -each["days"])


def _left(shop: ShopProblem, found: Found) -> list[Any]:
    left: list[Value] = [*shop.unplanned]
    for each in shop.problem.activities:
        if each.id not in found.placed:
            left.append(NOT_IN_WEEKS(what=full_name(each)))
    return [to_json(line) for line in left]


@transaction.atomic
def plan_tell(actor: Person, *, plan: Plan) -> Plan:
    """Tell people the plan: from now on it is what their lists are drawn from."""
    require_role(actor, plan.shop, Role.OFFICE)
    fresh = Plan.objects.select_for_update(no_key=True).get(id=plan.id)
    if fresh.supposing:
        raise ValidationError(said_later(words.WHAT_IF()))
    if fresh.state != Plan.State.MADE:
        raise ValidationError(said_later(words.NOT_MADE()))
    newer = Plan.objects.filter(
        shop=fresh.shop_id, told_at__isnull=False, asked_at__gt=fresh.asked_at
    )
    if newer.exists():
        raise ValidationError(said_later(words.LATER_SENT()))
    fresh.told_at, fresh.told_by = timezone.now(), actor
    fresh.save(update_fields=["told_at", "told_by"])
    return fresh


@transaction.atomic
def day_lists_send(
    actor: Person | None, *, shop: Shop, day: date, crews: Sequence[Crew] | None = None
) -> list[DayList]:
    """Freeze the lists of a day as they are sent; what changed since is a further number.

    `actor` is None when the clock sends them. Gives the lists that are new; a list that is as
    it was sent already is not sent again.
    """
    if actor is not None:
        require_role(actor, shop, Role.OFFICE, Role.CREW_LEAD)
        refuse_outside(timezone.now(), shop.time_zone, day=(ANY_DAY, day))
    list(Crew.objects.filter(shop=shop).select_for_update(no_key=True).order_by("id"))
    last: dict[UUID, DayList] = {}
    kept_lists = DayList.objects.filter(shop=shop, day=day).select_related("crew__lead")
    for kept in kept_lists.order_by("number"):
        if crews is None or kept.crew in crews:
            last[kept.crew_id] = kept
    sent = []
    for drawn in _with_emptied(draw_lists(shop, day, crews), last, day):
        content = drawn.content()
        before = last.get(drawn.crew.id)
        if before is not None and is_same_list(before.content, content):
            continue
        sent.append(
            DayList.objects.create(
                shop=shop,
                crew=drawn.crew,
                day=day,
                number=before.number + 1 if before else 1,
                content=content,
                changes=_changes(before, content),
                sent_at=timezone.now(),
                sent_by=actor,
            )
        )
    return sent


def _changes(before: DayList | None, content: dict[str, Any]) -> list[Any]:
    if before is None:
        return []
    return [to_json(line) for line in list_differences(before.content, content)]


def _with_emptied(drawn: list[NextDay], last: dict[UUID, DayList], day: date) -> Iterable[NextDay]:
    """The lists, and an empty one for a crew that was sent one and has no work any more."""
    yield from drawn
    there = set()
    for each in drawn:
        there.add(each.crew.id)
    for crew_id, kept in last.items():
        if crew_id not in there and kept.content["houses"]:
            yield NextDay(kept.crew, day, [])
