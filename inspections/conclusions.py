"""From the facts of areas to their holds: gathers rows, asks the pure function.

Each kind of fact is asked for once for all the areas of a job that are drawn together.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db.models import (
    Case,
    Count,
    Exists,
    Max,
    OuterRef,
    Q,
    QuerySet,
    Subquery,
    Value,
    When,
)

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

BOOTS = "boots"
"""The rule whose failing items have a hold of their own, since the contractor can lift it."""

CONTESTED = "contested"
"""In place of an outcome: two people saw the same facts otherwise, neither knowing of the other."""

STANDING_COLUMNS = ("verdict", "fingerprint", "seen_outcome", "seen_fingerprint")


def items_with_latest(items: QuerySet[Item]) -> QuerySet[Item]:
    """The items, each with `seen_outcome` and `seen_fingerprint` of its latest observation.

    While two people contest what they saw, the outcome is the worse one, whoever was later.
    """
    counted = Observation.objects.filter(item=OuterRef("pk"), stale=False)
    latest = counted.order_by("-seen_at", "-recorded_at", "-id")
    against = counted.filter(fingerprint=OuterRef("fingerprint"))
    return items.annotate(
        seen_outcome=Case(
            When(Exists(unsettled(against)), then=Value(CONTESTED)),
            default=Subquery(latest.values("outcome")[:1]),
        ),
        seen_fingerprint=Subquery(latest.values("fingerprint")[:1]),
    )


def unsettled(looks: QuerySet[Observation]) -> QuerySet[Observation]:
    """Those that contest another, until somebody looked again who knew of both."""
    again = Observation.objects.filter(item=OuterRef("item"), stale=False, contests=None)
    again = again.filter(Q(known_at=None) | Q(known_at__gte=OuterRef("recorded_at")))
    again = again.filter(recorded_at__gt=OuterRef("recorded_at"))
    return looks.exclude(contests=None).exclude(Exists(again))


def standing_of(
    verdict: str, fingerprint: str, seen_outcome: str | None, seen_fingerprint: str | None
) -> Standing:
    """Where an item stands, from the columns of `items_with_latest`."""
    if seen_outcome == CONTESTED:
        seen_outcome, seen_fingerprint = Outcome.FAIL, fingerprint
    passed, absent = seen_outcome == Outcome.PASS, seen_outcome == Outcome.ABSENT
    seen = Seen(passed, seen_fingerprint or "", absent) if seen_outcome else None
    return item_standing(verdict, fingerprint, seen)


@dataclass(frozen=True, slots=True)
class ItemRow:
    """What an area's holds need to know of one of its rough-in items."""

    rule: str
    subject: str
    fingerprint: str
    standing: Standing

    @property
    def lacks_boot(self) -> bool:
        """Whether it is a box in an outside wall that pierces the vapour barrier."""
        return self.rule == BOOTS and self.standing is Standing.FAILING


def areas_holds(areas: Sequence[Area], now: datetime) -> dict[UUID, tuple[Hold, ...]]:
    """Every hold on areas of one job at that moment, from facts alone."""
    if not areas:
        return {}
    job, ids = areas[0].job, [area.id for area in areas]
    today, permit, trades = today_at(job, now), permit_facts(job), trades_missing(job)
    has_house = HouseRevision.objects.filter(job=job.id).exists()
    rows, said, unseen = _item_rows(ids), _acceptances(job, ids), _photographs_missing(job, ids)
    called, mended = _open_deficiencies(ids)
    found = {}
    for area in ids:
        answer, bare = said.get(area), [row for row in rows[area] if row.lacks_boot]
        found[area] = holds(
            AreaFacts(
                today=today,
                permit=permit,
                has_house=has_house,
                items=list(Counter(r.standing for r in rows[area] if r not in bare).items()),
                boots_missing=len(bare),
                photographs_missing=unseen.get(area, 0),
                deficiencies_called=called.get(area, 0),
                deficiencies_mended=mended.get(area, 0),
                trades_missing=trades,
                acceptance=answer and answer.facts(_digest(rows[area])),
            )
        )
    return found


def area_holds(area: Area, now: datetime) -> tuple[Hold, ...]:
    """Every hold on one area at that moment."""
    return areas_holds([area], now)[area.id]


def area_digest(area: Area) -> str:
    """A digest of the area's rough-in items as they stand: what an acceptance rests on."""
    return _digest(_item_rows([area.id])[area.id])


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
    hooked_up = bool({Milestone.HOOKUP, Milestone.FINAL} & set(reached))
    finished = hooked_up and not finish_items_open(job_id)
    return stage(issued, areas, hooked_up=hooked_up, finished=finished)


def finish_items_open(job_id: UUID) -> int:
    """How many items of the finish have not passed."""
    items = Item.objects.filter(job=job_id, current=True, stage=Item.Stage.FINISH)
    rows = list(items_with_latest(items).values_list(*STANDING_COLUMNS))
    return sum(standing_of(*row) is not Standing.PASSED for row in rows)


def _item_rows(areas: list[UUID]) -> dict[UUID, list[ItemRow]]:
    items = Item.objects.filter(area__in=areas, current=True, stage=Item.Stage.ROUGH_IN)
    columns = ("area_id", "rule", "subject", *STANDING_COLUMNS)
    rows: dict[UUID, list[ItemRow]] = {area: [] for area in areas}
    for area, rule, subject, verdict, fingerprint, *seen in (
        items_with_latest(items).order_by("rule", "subject").values_list(*columns)
    ):
        standing = standing_of(verdict, fingerprint, *seen)
        rows[area].append(ItemRow(rule, subject, fingerprint, standing))
    return rows


def _digest(rows: Iterable[ItemRow]) -> str:
    return digest([[row.rule, row.subject, row.fingerprint] for row in rows])


@dataclass(frozen=True, slots=True)
class _Said:
    accepted: bool
    on: date
    rests_on: str

    def facts(self, stands: str) -> AcceptanceFacts:
        return AcceptanceFacts(self.accepted, self.on, self.rests_on == stands)


def _acceptances(job: Job, areas: list[UUID]) -> dict[UUID, _Said]:
    """The authority's latest answer for each area."""
    answers = Acceptance.objects.filter(area__in=areas).order_by("recorded_at", "id")
    columns = ("area_id", "answer", "recorded_at", "rests_on")
    return {  # a later answer takes the place of an earlier one
        area: _Said(answer != Answer.NOT_ACCEPTED, today_at(job, at), rests_on)
        for area, answer, at, rests_on in answers.values_list(*columns)
    }


def _photographs_missing(job: Job, areas: list[UUID]) -> dict[UUID, int]:
    """Items of the rules that the shop chose, without a photograph of their facts as now."""
    rules = job.shop.photo_rules
    if not rules:
        return {}
    taken = Photograph.objects.filter(item=OuterRef("pk"), fingerprint=OuterRef("fingerprint"))
    concealed = Item.objects.filter(area__in=areas, current=True, stage=Item.Stage.ROUGH_IN)
    wanted = concealed.filter(rule__in=rules)
    missing = wanted.filter(~Exists(taken)).order_by().values("area_id")
    return dict(missing.annotate(count=Count("id")).values_list("area_id", "count"))


def _open_deficiencies(areas: list[UUID]) -> tuple[dict[UUID, int], dict[UUID, int]]:
    """How many are called and not mended, and mended and not accepted, by area."""
    still = Deficiency.objects.filter(area__in=areas, accepted_at__isnull=True)
    counts = list(
        still.order_by()
        .values("area_id")
        .annotate(
            called=Count("id", filter=Q(mended_at__isnull=True)),
            mended=Count("id", filter=Q(mended_at__isnull=False)),
        )
    )
    return (
        {row["area_id"]: row["called"] for row in counts},
        {row["area_id"]: row["mended"] for row in counts},
    )
