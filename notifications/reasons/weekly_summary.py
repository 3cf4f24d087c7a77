"""Once a week, at what stage every job of the shop is."""

from collections import Counter
from collections.abc import Iterator
from datetime import timedelta

from config.messages.message import Value, WeekDay
from inspections.conclusions.signs import area_sign
from inspections.models import Deficiency
from inspections.standing.age import Sign
from jobs.models import Job, Permit
from notifications.messages.shops import DEFICIENCIES, DRYWALL, PERMIT_ENDS, STAGES, WEEK_OF
from notifications.models import NoticeKind
from notifications.reason import Due, due_for, shop_reason
from notifications.shopfacts import ShopFacts

WEEK = timedelta(days=7)
PERMITS_WITHIN = timedelta(days=30)


@shop_reason("weekly summary", NoticeKind.SUMMARY)
def weekly_summary(facts: ShopFacts) -> Iterator[Due]:
    """To the owner, on the shop's weekday in the morning; the next one lies ahead."""
    last = facts.today - timedelta(days=(facts.today.weekday() - facts.rules.summary_on) % 7)
    for day in (last, last + WEEK):
        at = facts.at(day, facts.rules.morning)
        until = facts.at(day + timedelta(days=1), facts.rules.morning)
        text = WEEK_OF(shop=str(facts.shop), day=WeekDay(day))
        body: list[Value] = []
        if day == facts.today:
            body = _body(facts)
        yield from due_for(facts.owner, str(day), text, at, until=until, body=body)


def _body(facts: ShopFacts) -> list[Value]:
    jobs = Job.objects.filter(shop=facts.shop).exclude(milestones__milestone="final")
    stages = Counter(jobs.values_list("standing__stage", flat=True))
    lines: list[Value] = []
    for stage, count in sorted(stages.items()):
        lines.append(STAGES[stage](n=count))
    still = Deficiency.objects.filter(job__in=jobs, accepted_at__isnull=True)
    overdue = still.filter(corrected_at__isnull=True, due_on__lt=facts.today)
    lines.append(DEFICIENCIES(n=still.count(), overdue=overdue.count()))
    ending = Permit.objects.filter(
        job__in=jobs,
        closed_on__isnull=True,
        expires_on__range=(facts.today, facts.today + PERMITS_WITHIN),
    )
    for permit in ending.select_related("job").order_by("expires_on", "id"):
        assert permit.expires_on is not None  # it is within days
        lines.append(PERMIT_ENDS(job=str(permit.job), day=permit.expires_on))
    near = jobs.filter(drywall_on__range=(facts.today, facts.today + WEEK))
    for job in near.order_by("drywall_on", "id"):
        assert job.drywall_on is not None  # it is within days
        areas = job.areas.select_related("standing", "job__standing")
        held = 0
        for area in areas:
            held += area_sign(area) is not Sign.CLEAR
        lines.append(DRYWALL(job=str(job), day=WeekDay(job.drywall_on), n=held))
    return lines
