"""Once a week, where every job of the shop stands."""

from collections import Counter
from collections.abc import Iterator
from datetime import timedelta

from inspections.conclusions.signs import area_sign
from inspections.models import Deficiency
from inspections.standing.age import Sign
from jobs.models import Job, Permit
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
        text = f"{facts.shop}: the week from {day:%a %d %b}"
        body = ""
        if day == facts.today:
            body = _body(facts)
        yield from due_for(facts.owner, str(day), text, at, until=until, body=body)


def _body(facts: ShopFacts) -> str:
    jobs = Job.objects.filter(shop=facts.shop).exclude(milestones__milestone="final")
    stages = Counter(jobs.values_list("standing__stage", flat=True))
    lines = []
    for stage, count in sorted(stages.items()):
        lines.append(f"{count} in {stage}")
    still = Deficiency.objects.filter(job__in=jobs, accepted_at__isnull=True)
    overdue = still.filter(corrected_at__isnull=True, due_on__lt=facts.today)
    lines.append(f"deficiencies open: {still.count()}, of them overdue: {overdue.count()}")
    ending = Permit.objects.filter(
        job__in=jobs,
        closed_on__isnull=True,
        expires_on__range=(facts.today, facts.today + PERMITS_WITHIN),
    )
    for permit in ending.select_related("job").order_by("expires_on", "id"):
        lines.append(f"{permit.job}: the permit is good until {permit.expires_on}")
    near = jobs.filter(drywall_on__range=(facts.today, facts.today + WEEK))
    for job in near.order_by("drywall_on", "id"):
        areas = job.areas.select_related("standing", "job__standing")
        held = 0
        for area in areas:
            held += area_sign(area) is not Sign.CLEAR
        lines.append(f"{job}: drywall on {job.drywall_on}, areas held: {held}")
    return "\n".join(lines)
