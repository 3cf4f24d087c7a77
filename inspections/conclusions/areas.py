"""From the facts of areas to their holds: asks the pure functions of what `ground` has read."""

from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import UTC, date, datetime, time
from functools import cache
from uuid import UUID
from zoneinfo import ZoneInfo

from django.utils import timezone

from inspections.checker.facts import digest
from inspections.conclusions.items import ItemRow
from inspections.conclusions.job_facts import JobRows, finish_open
from inspections.models import Acceptance, Answer, AreaStanding, CoverRelease
from inspections.standing.holds import (
    ROUGH_IN_REASONS,
    AcceptanceFacts,
    AreaFacts,
    Hold,
    PermitFacts,
    WithdrawalFacts,
    holds,
)
from inspections.standing.stages import AreaState, Stage, stage
from jobs.models import Area, Job


def areas_holds(
    areas: Sequence[Area], now: datetime, ground: JobRows | None = None
) -> dict[UUID, tuple[Hold, ...]]:
    """Every hold on areas at that moment, from facts alone; on `ground` where it is read."""
    ground = ground or JobRows.under(areas)
    of_job = cache(lambda job_id: _of_job(ground, ground.jobs[job_id], now))
    by_id: dict[UUID, tuple[Hold, ...]] = {}
    for area in areas:
        by_id[area.id] = holds(_area_facts(ground, area, *of_job(area.job_id)))
    return by_id


def _of_job(
    ground: JobRows, job: Job, now: datetime
) -> tuple[date, PermitFacts | None, tuple[str, ...]]:
    return today_at(job, now), permit_of(ground, job), trades_missing(ground, job)


def _area_facts(
    ground: JobRows, area: Area, today: date, permit: PermitFacts | None, trades: Sequence[str]
) -> AreaFacts:
    rows, said = ground.items[area.id], ground.acceptances.get(area.id)
    bare = sum(row.lacks_boot for row in rows)
    still = []
    for d in ground.deficiencies.get(area.id, ()):
        if d.accepted_at is None:
            still.append(d)
    called = 0
    for each in still:
        called += each.corrected_at is None
    standings = []
    for row in rows:
        if not (row.lacks_boot or row.to_confirm):
            standings.append(row.standing)
    return AreaFacts(
        today=today,
        permit=permit,
        has_house=area.job_id in ground.revisions,
        items=list(Counter(standings).items()),
        to_confirm=sum(row.to_confirm for row in rows),
        boots_missing=bare,
        photographs_missing=ground.photographs_missing.get(area.id, 0),
        deficiencies_called=called,
        deficiencies_corrected=len(still) - called,
        trades_missing=trades,
        acceptance=_said(said[-1], ground.jobs[area.job_id], rows) if said else None,
        withdrawals=_withdrawals(ground, area, said[-1] if said else None),
    )


def _withdrawals(ground: JobRows, area: Area, said: Acceptance | None) -> list[WithdrawalFacts]:
    """The cover releases of an area that somebody withdrew by hand, the earliest first."""
    withdrawals: list[WithdrawalFacts] = []
    for each in ground.cover_releases.get(area.id, ()):
        if each.withdrawn_by_id is not None:
            withdrawals.append(_withdrawal(each, ground.jobs[area.job_id], said))
    return withdrawals


def _withdrawal(withdrawn: CoverRelease, job: Job, said: Acceptance | None) -> WithdrawalFacts:
    answer, at = withdrawn.answer, withdrawn.withdrawn_at
    assert at is not None  # somebody withdrew it
    seen_since = said is not None and said.recorded_at > at
    return WithdrawalFacts(
        today_at(job, at),
        withdrawn.withdrawn_because,
        answered=answer is not None,
        inspect_again=answer is not None and answer.inspect_again and not seen_since,
    )


def _said(latest: Acceptance, job: Job, rows: Iterable[ItemRow]) -> AcceptanceFacts:
    """The authority's latest answer, and whether the items are still as they were at it."""
    return AcceptanceFacts(
        latest.answer != Answer.NOT_ACCEPTED,
        today_at(job, latest.recorded_at),
        latest.rests_on == _digest(rows),
    )


def area_holds(area: Area, now: datetime) -> tuple[Hold, ...]:
    """Every hold on one area at that moment."""
    return areas_holds([area], now)[area.id]


def area_digest(area: Area) -> str:
    """A digest of the area's rough-in items as they stand: what an acceptance rests on."""
    return _digest(JobRows.under([area]).items[area.id])


def _digest(rows: Iterable[ItemRow]) -> str:
    facts = []
    for row in rows:
        facts.append([row.rule, row.subject, row.fingerprint])
    return digest(facts)


def today_at(job: Job, now: datetime) -> date:
    """The date at the job's own place."""
    return now.astimezone(ZoneInfo(job.time_zone)).date()


def permit_of(ground: JobRows, job: Job) -> PermitFacts | None:
    """What is known of the job's permit, with the last day on which an inspection was held."""
    permit = ground.permits.get(job.id)
    if permit is None:
        return None
    idle_days, quiet_since = job.authority.idle_days, permit.issued_on
    held = ground.held.get(job.id)
    if held and quiet_since:
        quiet_since = max(quiet_since, today_at(job, held))
    return PermitFacts(
        permit.issued_on, permit.expires_on, permit.closed_on, quiet_since, idle_days
    )


def permit_turns(ground: JobRows, job: Job, now: datetime) -> datetime | None:
    """The next moment at which the clock alone changes what a job's permit is good for."""
    permit = permit_of(ground, job)
    if permit is None:
        return None
    zone = ZoneInfo(job.time_zone)
    moments = []
    for day in permit.turns:
        moment = datetime.combine(day, time(), zone).astimezone(UTC)
        if moment > now:
            moments.append(moment)
    return min(moments, default=None)


def trades_missing(ground: JobRows, job: Job) -> tuple[str, ...]:
    """The trades that the shop asks for and whose rough-in is not reported done."""
    done = ground.trades_done.get(job.id, {})
    trades = []
    for trade in job.shop.trades:
        if not done.get(trade):
            trades.append(trade)
    return tuple(trades)


def job_stage(
    job_id: UUID,
    standings: Sequence[AreaStanding],
    ground: JobRows | None = None,
    now: datetime | None = None,
) -> Stage:
    """The stage that a job's facts have carried it to, given its areas' standings."""
    ground, now = ground or JobRows.of([job_id]), now or timezone.now()
    job = ground.jobs[job_id]
    permit = permit_of(ground, job)
    areas = []
    for standing in standings:
        areas.append(
            AreaState(
                any(hold["reason"] in ROUGH_IN_REASONS for hold in standing.holds),
                standing.released,
            )
        )
    issued = permit is not None and permit.issued_by(today_at(job, now))
    hooked_up = job_id in ground.hooked_up
    finished = hooked_up and not ground.finish_open.get(job_id)
    return stage(issued, areas, hooked_up=hooked_up, finished=finished)


def finish_items_open(job_id: UUID) -> int:
    """How many items of the finish have not passed."""
    return finish_open([job_id]).get(job_id, 0)
