"""The office plans the coming weeks: make, look, compare, send."""

from collections import defaultdict
from datetime import date, timedelta
from typing import Any
from uuid import UUID

from django import forms
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from config.languages import said_later
from inspections.days.problem import shop_now, work_rules
from inspections.days.selectors import (
    monday,
    plan_changes,
    plan_loads,
    plan_read,
    plan_work,
    plans_of,
)
from inspections.days.services import plan_ask, plan_tell
from inspections.days.what_if import Supposed
from jobs.forms import DayFormField
from jobs.models import Crew, Membership, Person, Plan, PlannedWork, Role, Shop
from jobs.moments import ANY_DAY, day_on_record
from jobs.planning.plan_messages import LEVELS
from jobs.requests import SignedIn
from pages.office.labels import SUPPOSE_SINCE, SUPPOSE_WHO
from pages.office.plan_chart import plan_chart
from pages.refusals import valid
from pages.responses import attempt, found_or_404, office_shop


class AskPlanForm(forms.Form):
    """A plan to ask for: from which day, and what is supposed, if anything."""

    first_day = DayFormField(ANY_DAY, required=False)
    what = forms.ChoiceField(choices=[("", ""), ("away", "away"), ("more", "more")], required=False)
    who = forms.CharField(required=False)
    from_day = DayFormField(ANY_DAY, required=False)
    to_day = DayFormField(ANY_DAY, required=False)


@login_required
@require_GET
def plans(request: SignedIn) -> HttpResponse:
    """The shop's latest plan; before there is one, how to ask for it."""
    shop = office_shop(request)
    latest = plans_of(shop).first()
    if latest is None:
        return render(request, "office/plan.html", _asking(shop) | {"shop": shop})
    return redirect("plan", plan_id=latest.id)


@login_required
@require_GET
def plan(request: SignedIn, plan_id: UUID) -> HttpResponse:
    """One plan: the weeks as a chart, what is late and why, what moves, how full crews are."""
    found = found_or_404(plan_read, request.user, plan_id)
    context = _asking(found.shop) | {"plan": found, "shop": found.shop}
    if found.state == Plan.State.MADE:
        work = plan_work(found)
        supposing = []
        for each in found.supposing:
            supposing.append(Supposed.read(each).told)
        context |= {
            "chart": plan_chart(found, work, work_rules(found.shop).parts),
            "changes": plan_changes(found),
            "loads": _load_table(found, work),
            "supposing": supposing,
            "levels": _levels(found),
        }
    if found.state == Plan.State.FAILED:
        context["again"] = _once_more(found)
    with timezone.override(found.shop.time_zone):
        return render(request, "office/plan.html", context)


def _levels(plan: Plan) -> list[dict[str, Any]]:
    """What the plan is measured by, with each measure named; an unknown one by its own name."""
    levels = []
    for level in plan.levels:
        named = LEVELS.get(level["name"])
        levels.append(level | {"name": named() if named else level["name"]})
    return levels


def _once_more(plan: Plan) -> list[tuple[str, str]]:
    """What a plan was asked for with, by the names of the form; a day that is past is left open."""
    today = shop_now(plan.shop, timezone.now()).date()
    fields = [("first_day", plan.first_day.isoformat() if plan.first_day >= today else "")]
    for supposed in plan.supposing:
        for name in ("what", "who", "from_day", "to_day"):
            fields.append((name, supposed[name]))
    return fields


def _asking(shop: Shop) -> dict[str, object]:
    people = Membership.objects.filter(shop=shop).exclude(role=Role.BUILDER)
    found = []
    for each in people.select_related("person").order_by("id"):
        found.append(each.person)
    return {
        "plans": plans_of(shop)[:8],
        "people": found,
        "crews": Crew.objects.filter(shop=shop),
    }


def _load_table(plan: Plan, work: list[PlannedWork]) -> dict[str, object]:
    loads = plan_loads(plan, work)
    found = set()
    for load in loads:
        found.add(load.week)
    weeks = sorted(found)
    rows: dict[str, dict[date, object]] = defaultdict(dict)
    for load in loads:
        rows[load.crew][load.week] = load
    table = []
    for crew, by_week in rows.items():
        gets = []
        for week in weeks:
            gets.append(by_week.get(week))
        table.append((crew, gets))
    return {"weeks": weeks, "rows": table}


@login_required
@require_GET
def month(request: SignedIn, plan_id: UUID) -> HttpResponse:
    """A plan as a calendar of weeks."""
    found = found_or_404(plan_read, request.user, plan_id)
    by_day: dict[date, list[PlannedWork]] = defaultdict(list)
    days = [day_on_record(day) for day in found.days]
    for row in plan_work(found):
        for day in days if row.crew_id else ():
            if row.starts_on <= day <= row.ends_on:
                by_day[day].append(row)
    weeks: list[list[tuple[date, bool, list[PlannedWork]]]] = []
    if days:
        first = monday(days[0])
        count = (days[-1] - first).days // 7 + 1
        for week in range(count):
            pairs = []
            for n in range(7):
                if (day := first + timedelta(days=7 * week + n)) or True:
                    pairs.append((day, day in days, by_day.get(day, []) if day in days else []))
            weeks.append(pairs)
    return render(
        request, "office/plan_month.html", {"plan": found, "shop": found.shop, "weeks": weeks}
    )


@login_required
@require_POST
def ask_plan(request: SignedIn) -> HttpResponse:
    """Ask for a plan; a worker makes it."""
    shop = office_shop(request)
    form = AskPlanForm(request.POST)
    given = valid(request, form)
    if given is None:
        return redirect("plans")

    def ask_for(actor: Person, first_day: date | None) -> None:
        plan_ask(actor, shop=shop, supposing=_supposed(shop, given), first_day=first_day)

    attempt(request, ask_for, first_day=given["first_day"])
    return redirect("plans")


def _supposed(shop: Shop, given: dict[str, Any]) -> list[Supposed]:
    if not given["what"]:
        return []
    first = given["from_day"] or given["first_day"]
    last = given["to_day"] or first
    if first is None:
        raise forms.ValidationError({"from_day": said_later(SUPPOSE_SINCE())})
    crews = {}
    for crew in Crew.objects.filter(shop=shop):
        crews[str(crew.id)] = crew
    people = {}
    for m in shop.memberships.select_related("person"):
        people[str(m.person_id)] = m.person
    chosen = (people if given["what"] == "away" else crews).get(given["who"])
    if chosen is None:
        raise forms.ValidationError({"who": said_later(SUPPOSE_WHO())})
    return [Supposed(given["what"], chosen.id, str(chosen), first, last)]


@login_required
@require_POST
def tell(request: SignedIn, plan_id: UUID) -> HttpResponse:
    """Tell people a plan."""
    found = found_or_404(plan_read, request.user, plan_id)
    attempt(request, plan_tell, plan=found)
    return redirect("plan", plan_id=found.id)
