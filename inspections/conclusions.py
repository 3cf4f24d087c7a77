"""From the facts of an area to its holds: gathers rows, asks the pure function."""

from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import date, datetime
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db.models import Count, Exists, Max, OuterRef, Q, QuerySet, Subquery

from inspections.checker.finding import digest
from inspections.holds import (
    ROUGH_IN_REASONS,
    AcceptanceFacts,
    AreaFacts,
    Hold,
    PermitFacts,
    Seen,
    Standing,
    holds,
    item_standing,
)
from inspections.models import (
    Acceptance,
    Answer,
    AreaStanding,
    Deficiency,
    Happening,
    HouseRevision,
    InspectionEvent,
    Item,
    MilestoneReached,
    Observation,
    Outcome,
    Photograph,
    TradeReport,
)
from inspections.stages import AreaState, Milestone, Stage, stage
from jobs.models import Area, Job, Permit

STANDING_COLUMNS = ("verdict", "fingerprint", "seen_outcome", "seen_fingerprint")


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
    rows = _item_rows(area)
    called, mended = _open_deficiencies(area)
    return holds(
        AreaFacts(
            today=today_at(area.job, now),
            permit=permit_facts(area.job),
            has_house=HouseRevision.objects.filter(job=area.job_id).exists(),
            items=list(Counter(standing_of(*row[2:]) for row in rows).items()),
            photographs_missing=_photographs_missing(area),
            deficiencies_called=called,
            deficiencies_mended=mended,
            trades_missing=trades_missing(area.job),
            acceptance=_acceptance(area, rows),
        )
    )


def area_digest(area: Area) -> str:
    """A digest of the area's items as they stand: what an acceptance rests on."""
    return _digest(_item_rows(area))


def today_at(job: Job, now: datetime) -> date:
    """The date at the job's own place."""
    return now.astimezone(ZoneInfo(job.time_zone)).date()


def permit_facts(job: Job) -> PermitFacts | None:
    """What is known of the job's permit, with the last day on which a visit was held."""
    permit = Permit.objects.filter(job=job).first()
    if permit is None:
        return None
    idle_days, quiet_since = job.authority.idle_days, permit.issued_on
    if idle_days is not None:
        held = InspectionEvent.objects.filter(
            inspection__job=job, happening=Happening.HELD
        ).aggregate(last=Max("recorded_at"))["last"]
        if held and quiet_since:
            quiet_since = max(quiet_since, today_at(job, held))
    return PermitFacts(
        permit.issued_on, permit.expires_on, permit.closed_on, quiet_since, idle_days
    )


def trades_missing(job: Job) -> tuple[str, ...]:
    """The trades that the shop asks for and whose rough-in is not reported done."""
    asked = job.shop.trades
    if not asked:
        return ()
    reports = TradeReport.objects.filter(job=job, area=None).order_by("recorded_at", "id")
    done = dict(reports.values_list("trade", "done"))  # the last report of a trade counts
    return tuple(trade for trade in asked if not done.get(trade))


def job_stage(job_id: UUID, standings: Sequence[AreaStanding]) -> Stage:
    """The stage that a job's facts have carried it to, given its areas' standings."""
    permit = Permit.objects.filter(job=job_id).first()
    reached = MilestoneReached.objects.filter(job=job_id).values_list("milestone", flat=True)
    areas = [
        AreaState(
            any(hold["reason"] in ROUGH_IN_REASONS for hold in standing.holds), standing.cleared
        )
        for standing in standings
    ]
    issued = bool(permit and permit.issued_on)
    return stage(issued, areas, {Milestone(milestone) for milestone in reached})


def _item_rows(area: Area) -> list[tuple[str, ...]]:
    items = items_with_latest(Item.objects.filter(area=area, current=True))
    return list(items.order_by("rule", "subject").values_list("rule", "subject", *STANDING_COLUMNS))


def _digest(rows: Iterable[tuple[str, ...]]) -> str:
    return digest([[row[0], row[1], row[3]] for row in rows])


def _acceptance(area: Area, rows: Iterable[tuple[str, ...]]) -> AcceptanceFacts | None:
    said = Acceptance.objects.filter(area=area).order_by("-recorded_at", "-id").first()
    if said is None:
        return None
    return AcceptanceFacts(
        accepted=said.answer != Answer.NOT_ACCEPTED,
        said_on=today_at(area.job, said.recorded_at),
        unchanged=said.rests_on == _digest(rows),
    )


def _photographs_missing(area: Area) -> int:
    """Items of the rules that the shop chose, without a photograph of their facts as now."""
    rules = area.job.shop.photo_rules
    if not rules:
        return 0
    taken = Photograph.objects.filter(item=OuterRef("pk"), fingerprint=OuterRef("fingerprint"))
    wanted = Item.objects.filter(area=area, current=True, rule__in=rules)
    return wanted.filter(~Exists(taken)).count()


def _open_deficiencies(area: Area) -> tuple[int, int]:
    still = Deficiency.objects.filter(area=area, accepted_at__isnull=True)
    counts = still.aggregate(
        called=Count("id", filter=Q(mended_at__isnull=True)),
        mended=Count("id", filter=Q(mended_at__isnull=False)),
    )
    return counts["called"], counts["mended"]
