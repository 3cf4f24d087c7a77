"""How far a job is: what moves it on and whose move that is, and what was done out of order."""

from collections.abc import Iterable, Mapping
from datetime import date, timedelta
from uuid import UUID

from django.db.models import Min, Q

from config.messages.message import Text
from inspections.conclusions.areas import finish_items_open, permit_of, today_at
from inspections.conclusions.job_facts import JobRows
from inspections.models import (
    Answer,
    CoverRelease,
    Inspection,
    InspectionKind,
    Item,
    JobAnswer,
    Observation,
)
from inspections.overview.inspections import inspection_now
from inspections.overview.reinspections import reinspections
from inspections.selectors import areas_ever_released, inspections_of, site_changes_open, with_areas
from inspections.standing.breaches import BeforeFacts, OrderFacts, against, breaches
from inspections.standing.inspection_states import InspectionState
from inspections.standing.moves import AgainNow, AreaNow, JobNow, moves
from inspections.standing.stages import Milestone, Stage
from inspections.standing.steps import NextStep, read_lifts
from jobs.models import Job, Permit

FOR_STAGE = {
    InspectionKind.HOOKUP: Stage.HOOKUP,
    InspectionKind.FINISH: Stage.FINISH,
    InspectionKind.FINAL: Stage.FINAL,
}
Coming = InspectionState | None
"""Where an inspection is that is on its way."""


def job_moves(job: Job) -> list[NextStep]:
    """What moves the job on, and whose move it is."""
    inspections = list(inspections_of(job))
    coming, for_stage = _coming(inspections)
    reached = {each.milestone: each for each in job.milestones.all()}
    hookup = reached.get(Milestone.HOOKUP)
    until = None
    if hookup and Milestone.TEMPORARY_GONE not in reached:
        until = hookup.temporary_until
    permit = Permit.objects.filter(job=job).first()
    again = []
    for each in reinspections(job, inspections):
        again.append(AgainNow(each.what, [area.name for area in each.areas], each.fee))
    return moves(
        JobNow(
            Stage(job.standing.stage),
            _areas_now(job, coming),
            for_stage,
            again,
            finish_items_open(job.id),
            temporary_until=until,
            certificate_in=Milestone.FINAL in reached,
            permit_closed=bool(permit and permit.closed_on),
            site_changes=site_changes_open(job).count(),
        )
    )


def _areas_now(job: Job, coming: Mapping[UUID, Coming]) -> list[AreaNow]:
    """What holds each area, and the inspection that is coming for it."""
    ever = areas_ever_released(job)
    areas: list[AreaNow] = []
    for area in with_areas(job).areas.all():
        holds = []
        for hold in area.standing.holds:
            holds.append((hold["reason"], read_lifts(hold["lifted_by"])))
        areas.append(
            AreaNow(
                area.name,
                holds,
                area.standing.released,
                coming.get(area.id),
                withdrawn=area.id in ever and not area.standing.released,
            )
        )
    return areas


def _coming(inspections: Iterable[Inspection]) -> tuple[dict[UUID, Coming], dict[str, Coming]]:
    """Where the latest inspection is, by area and by stage; None once it has ended."""
    by_area: dict[UUID, Coming] = {}
    by_stage: dict[str, Coming] = {}
    for inspection in inspections:
        now = inspection_now(inspection)
        state = None if now.over else now.state
        for area in inspection.areas.all():
            by_area[area.id] = state
        if stage := FOR_STAGE.get(InspectionKind(inspection.kind)):
            by_stage[stage] = state
    return by_area, by_stage


def job_breaches(job: Job) -> list[Text]:
    """What the record of the job shows out of order."""
    permit = Permit.objects.filter(job=job).first()
    seen = Observation.objects.filter(item__job=job)
    firsts = [
        job.revisions.aggregate(first=Min("recorded_at"))["first"],
        seen.aggregate(first=Min("seen_at"))["first"],
    ]
    days = []
    for first in firsts:
        if first:
            days.append(today_at(job, first))
    known = job.milestones.filter(milestone__in=list(Milestone)).order_by("reached_on")
    reached = known.values_list("milestone", "reached_on")
    never = job.areas.filter(cover_releases__isnull=True).order_by("id")
    milestones = []
    for milestone, day in reached:
        milestones.append((Milestone(milestone), day))
    return breaches(
        OrderFacts(
            issued_on=permit.issued_on if permit else None,
            roughed_in_on=min(days, default=None),
            milestones=milestones,
            never_released=list(never.values_list("name", flat=True)),
            finished_unreleased=_finished_unreleased(job),
            finish_open=finish_items_open(job.id),
            permit_ended_on=_permit_ended_on(job),
        )
    )


def _permit_ended_on(job: Job) -> date | None:
    """The last day on which the permit is good, where it was not closed by then."""
    permit = permit_of(JobRows.of([job.id]), job)
    ends = None
    if permit:
        ends = permit.last_day
    if permit is None or ends is None or not permit.expired_by(ends + timedelta(days=1)):
        return None
    return ends


def milestone_against(job: Job, milestone: Milestone, on: date) -> list[Text]:
    """What the record says against recording a milestone."""
    live = CoverRelease.objects.filter(area__job=job, withdrawn_at__isnull=True)
    unreleased = job.areas.exclude(id__in=live.values("area")).order_by("id")
    said = JobAnswer.objects.filter(inspection__job=job, inspection__kind=InspectionKind.FINAL)
    return list(
        against(
            BeforeFacts(
                milestone,
                on,
                permit_of(JobRows.of([job.id]), job),
                unreleased=list(unreleased.values_list("name", flat=True)),
                finish_open=finish_items_open(job.id),
                final_accepted=said.exclude(answer=Answer.NOT_ACCEPTED).exists(),
            )
        )
    )


def _finished_unreleased(job: Job) -> list[tuple[str, date]]:
    """Areas in which an item of the finish was seen before any cover release, and when first."""
    seen = Min("items__observations__seen_at", filter=Q(items__stage=Item.Stage.FINISH))
    areas = job.areas.annotate(seen=seen).filter(seen__isnull=False).order_by("id")
    issued = CoverRelease.objects.filter(area__job=job).order_by()
    released = dict(
        issued.values("area_id").annotate(first=Min("issued_at")).values_list("area_id", "first")
    )
    early: list[tuple[str, date]] = []
    for area in areas:
        if area.id not in released or area.seen < released[area.id]:
            early.append((area.name, today_at(job, area.seen)))
    return early
