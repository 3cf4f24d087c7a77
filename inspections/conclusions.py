"""From the facts of an area to its holds: gathers rows, asks the pure function."""

from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import date, datetime
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db.models import OuterRef, QuerySet, Subquery

from inspections.holds import AreaFacts, Hold, PermitFacts, Seen, Standing, holds, item_standing
from inspections.models import (
    AreaStanding,
    HouseRevision,
    Item,
    MilestoneReached,
    Observation,
    Outcome,
)
from inspections.stages import AreaState, Milestone, Stage, stage
from jobs.models import Area, Job, Permit


def items_with_latest(items: QuerySet[Item]) -> QuerySet[Item]:
    """The items, each with `seen_outcome` and `seen_fingerprint` of its latest observation."""
    latest = Observation.objects.filter(item=OuterRef("pk")).order_by("-recorded_at", "-id")
    return items.annotate(
        seen_outcome=Subquery(latest.values("outcome")[:1]),
        seen_fingerprint=Subquery(latest.values("fingerprint")[:1]),
    )


def standing_of(
    verdict: str, fingerprint: str, seen_outcome: str | None, seen_fingerprint: str | None
) -> Standing:
    """Where an item stands, from the columns of `items_with_latest`."""
    seen = Seen(seen_outcome == Outcome.PASS, seen_fingerprint or "") if seen_outcome else None
    return item_standing(verdict, fingerprint, seen)


def area_holds(area: Area, now: datetime) -> tuple[Hold, ...]:
    """Every hold on the area at that moment, from facts alone."""
    permit = Permit.objects.filter(job=area.job_id).first()
    return holds(
        AreaFacts(
            today=today_at(area.job, now),
            permit=permit and PermitFacts(permit.issued_on, permit.expires_on),
            has_house=HouseRevision.objects.filter(job=area.job_id).exists(),
            items=_item_counts(Item.objects.filter(area=area, current=True)),
        )
    )


def today_at(job: Job, now: datetime) -> date:
    """The date at the job's own place."""
    return now.astimezone(ZoneInfo(job.time_zone)).date()


def job_stage(job_id: UUID, standings: Sequence[AreaStanding]) -> Stage:
    """The stage that a job's facts have carried it to, given its areas' standings."""
    permit = Permit.objects.filter(job=job_id).first()
    reached = MilestoneReached.objects.filter(job=job_id).values_list("milestone", flat=True)
    areas = [
        AreaState(any(hold["reason"] != "permit" for hold in standing.holds), standing.cleared)
        for standing in standings
    ]
    issued = bool(permit and permit.issued_on)
    return stage(issued, areas, {Milestone(milestone) for milestone in reached})


def _item_counts(items: QuerySet[Item]) -> list[tuple[Standing, int]]:
    columns = ("verdict", "fingerprint", "seen_outcome", "seen_fingerprint")
    rows: Iterable[tuple] = items_with_latest(items).order_by().values_list(*columns)
    return list(Counter(standing_of(*row) for row in rows).items())
