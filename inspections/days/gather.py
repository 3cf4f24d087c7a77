"""From rows to where each house of a shop stands, as planning takes it."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db.models import Exists, OuterRef, Prefetch, Q, Subquery

from config.messages.message import Listed, Value
from inspections.checker.finding import Verdict
from inspections.conclusions.items import STANDING_COLUMNS, items_with_seen, standing_of
from inspections.houses.take_off import HouseStuff, house_stuff
from inspections.models import (
    CONCEALING,
    Acceptance,
    Answer,
    CoverRelease,
    Deficiency,
    Happening,
    HouseRevision,
    Inspection,
    Item,
    MilestoneReached,
    TradeReport,
)
from inspections.standing.holds import ROUGH_IN_REASONS, HoldReason, Seen, Standing
from inspections.standing.inspection_states import ENDED
from inspections.standing.stages import Stage
from jobs.models import Area, Job, OwnTask, PromisedDate, Shop, WorkReport
from jobs.planning.horizon import Horizon, asked_table, inspection_windows, notice_table
from jobs.planning.house_tasks import AwaitedInspection, HouseNow, OwnNow, PlannedArea
from jobs.planning.inspections import InspectionRules
from jobs.planning.plan_messages import HOURS, NOTICE, WORKING_DAYS
from jobs.planning.problem import ToldAssignment
from jobs.planning.rates import Rates

NEEDS_AN_INSPECTION = {HoldReason.ACCEPTANCE, HoldReason.CHANGED, HoldReason.HOUSE}


@dataclass
class PlanningRows:
    """The rows of a shop that plans and lists follow from, each read once."""

    jobs: list[Job]
    stuff: dict[UUID, HouseStuff]
    """By job; a job without a recorded house is missing."""
    failing: dict[UUID, list[Item]] = field(default_factory=dict)
    """By area: items that fail."""
    called: dict[UUID, list[Deficiency]] = field(default_factory=dict)
    """By area: deficiencies written up and not corrected."""
    look_again: set[UUID] = field(default_factory=set)
    """Areas with a deficiency written up before the cover that the inspector has not accepted."""
    finish_open: dict[UUID, int] = field(default_factory=dict)
    """By area: items of the finish that have not passed; 0 when all have."""
    answers: dict[UUID, Acceptance] = field(default_factory=dict)
    """By area: the authority's latest word."""
    released_at: dict[UUID, datetime] = field(default_factory=dict)
    layers_done: dict[UUID, dict[str, bool]] = field(default_factory=dict)
    inspections: dict[UUID, list[Inspection]] = field(default_factory=dict)
    """By job: inspections that were asked for and have not ended."""
    milestones: dict[UUID, set[str]] = field(default_factory=dict)
    done: dict[UUID, set[str]] = field(default_factory=dict)
    own: dict[UUID, list[OwnTask]] = field(default_factory=dict)
    promised: dict[UUID, list[PromisedDate]] = field(default_factory=dict)


def planning_rows(shop: Shop, job_ids: Iterable[UUID] | None = None) -> PlanningRows:
    """What is known of the shop's open jobs (or of those named), in a fixed number of queries."""
    jobs = Job.objects.filter(shop=shop).select_related("authority", "builder", "standing")
    if job_ids is not None:
        jobs = jobs.filter(id__in=list(job_ids))
    areas = Area.objects.select_related("standing").order_by("id")
    final = MilestoneReached.objects.filter(job=OuterRef("pk"), milestone="final")
    found = list(
        jobs.exclude(Exists(final)).prefetch_related(Prefetch("areas", areas)).order_by("id")
    )
    ids = []
    for job in found:
        ids.append(job.id)
    last = HouseRevision.objects.filter(job=OuterRef("job")).order_by("-number").values("id")[:1]
    latest = HouseRevision.objects.filter(job__in=ids, id=Subquery(last))
    kept = latest.values_list("job", "house").iterator()
    by_job_id = {}
    for job_id, text in kept:
        by_job_id[job_id] = house_stuff(text)
    facts = PlanningRows(found, by_job_id)
    facts.failing = _failing(ids)
    facts.called = _grouped(
        Deficiency.objects.filter(job__in=ids, corrected_at__isnull=True), "area_id"
    )
    facts.look_again = set(
        Deficiency.objects.filter(
            job__in=ids, accepted_at__isnull=True, called_at_inspection__kind__in=CONCEALING
        ).values_list("area_id", flat=True)
    )
    facts.finish_open = _finish_open(ids)
    said = Acceptance.objects.filter(area__job__in=ids).order_by("recorded_at", "id")
    facts.answers = {each.area_id: each for each in said}
    live = CoverRelease.objects.filter(area__job__in=ids, withdrawn_at__isnull=True)
    facts.released_at = dict(live.values_list("area", "issued_at"))
    for report in TradeReport.objects.filter(job__in=ids, area__isnull=False):
        assert report.area_id is not None  # it was asked so
        facts.layers_done.setdefault(report.area_id, {})[report.trade] = report.done
    facts.inspections = _pending(ids)
    facts.milestones = defaultdict(set)
    for job_id, name in MilestoneReached.objects.filter(job__in=ids).values_list(
        "job", "milestone"
    ):
        facts.milestones[job_id].add(name)
    facts.done = _reported(ids)
    facts.own = _grouped(OwnTask.objects.filter(job__in=ids), "job_id")
    facts.promised = _grouped(PromisedDate.objects.filter(job__in=ids), "job_id")
    return facts


def _grouped(rows: Iterable[Any], by: str) -> dict[Any, list[Any]]:
    found = defaultdict(list)
    for row in rows:
        found[getattr(row, by)].append(row)
    return found


def _failing(ids: list[UUID]) -> dict[UUID, list[Item]]:
    """Items short by the figures, or seen to fail as they are now."""
    items = items_with_seen(Item.objects.filter(job__in=ids, current=True))
    suspect = items.filter(Q(verdict=Verdict.NOT_TO_CODE) | Q(seen=Seen.FIX)).order_by("position")
    failing = []
    for item in suspect:
        if standing_of(item.verdict, item.seen, item.workmanship) is Standing.FIX:
            failing.append(item)
    return _grouped(failing, "area_id")


def _finish_open(ids: list[UUID]) -> dict[UUID, int]:
    items = Item.objects.filter(job__in=ids, current=True, stage=Item.Stage.FINISH)
    found: dict[UUID, int] = defaultdict(int)
    rows = items_with_seen(items).values_list("area_id", *STANDING_COLUMNS)
    for area, *columns in rows:
        found[area] += standing_of(*columns) is not Standing.OK
    return found


def _pending(ids: list[UUID]) -> dict[UUID, list[Inspection]]:
    inspections = Inspection.objects.filter(job__in=ids).prefetch_related("areas", "events")
    found = defaultdict(list)
    for inspection in inspections:
        events = list(inspection.events.all())
        if not events or events[-1].happening not in ENDED:
            found[inspection.job_id].append(inspection)
    return found


def _reported(ids: list[UUID]) -> dict[UUID, set[str]]:
    found: dict[UUID, set[str]] = defaultdict(set)
    for job_id, task, done in WorkReport.objects.filter(job__in=ids).values_list(
        "job", "task", "done"
    ):
        if done:
            found[job_id].add(task)
        else:
            found[job_id].discard(task)
    return found


def booked_window(inspection: Inspection) -> tuple[datetime, datetime] | None:
    """The window that an inspection is booked for, in the time of the house; None without one."""
    last = list(inspection.events.all())[-1:]
    if not last or last[0].happening not in (Happening.BOOKED, Happening.MOVED):
        return None
    zone = ZoneInfo(inspection.job.time_zone)
    starts, ends = last[0].starts_at, last[0].ends_at
    assert starts is not None  # what is booked has its window
    assert ends is not None
    return starts.astimezone(zone), ends.astimezone(zone)


def house_now(
    facts: PlanningRows,
    job: Job,
    weeks: Horizon,
    now: datetime,
    *,
    rates: Rates,
    cover_days: int,
    layers: list[str],
    told: Mapping[str, ToldAssignment],
) -> HouseNow:
    """Where one house stands, in the slots of these weeks."""
    stuff = facts.stuff[job.id]
    rules = job.authority.inspection_rules(ZoneInfo(job.time_zone))
    inspections, awaited = _inspections(facts, job, weeks, rules)
    promised = {}
    for each in facts.promised.get(job.id, ()):
        promised[each.what] = each
    areas = []
    for area in job.areas.all():
        if area.code in stuff.areas:
            areas.append(_area(facts, area, stuff, weeks, cover_days, layers, area.code in awaited))
    own = []
    for each in facts.own.get(job.id, ()):
        own.append(_own(each, weeks))
    weights = {}
    for what, each in promised.items():
        weights[what] = each.weight
    return HouseNow(
        id=job.id.hex,
        name=job.name,
        areas=areas,
        circuits=stuff.circuits,
        panels=stuff.panels,
        done=frozenset(facts.done.get(job.id, ())),
        milestones=_reached(facts, job),
        inspections=inspections,
        notice=notice_table(weeks, rules, now),
        windows=inspection_windows(weeks, rules),
        notice_words=_notice_words(job),
        reinspection_fee=job.authority.reinspection_fee,
        trim_out=job.authority.country == "US",
        own=own,
        drywall_by=weeks.from_day(job.drywall_on) if job.drywall_on else None,
        finish_by=_end_of(weeks, promised["finish"].on) if "finish" in promised else None,
        final_by=_end_of(weeks, promised["final"].on) if "final" in promised else None,
        weights=weights,
        told=told,
        rates=rates,
    )


def _reached(facts: PlanningRows, job: Job) -> frozenset[str]:
    """What has been reached; the finish is once every item of it has passed."""
    if job.standing.stage == Stage.FINAL:
        finish = {"finish"}
    else:
        finish = set()
    return frozenset(facts.milestones.get(job.id, set()) | finish)


def _end_of(weeks: Horizon, day: date) -> int:
    """The slot by which something is done that is done on that day."""
    return weeks.from_day(day + timedelta(days=1))


def _notice_words(job: Job) -> Value:
    """What notice the authority requires; empty when it requires none."""
    authority = job.authority
    spans = []
    if authority.notice_days:
        spans.append(WORKING_DAYS(n=authority.notice_days))
    if authority.notice_hours:
        spans.append(HOURS(n=authority.notice_hours))
    if spans:
        return NOTICE(authority=str(authority), spans=Listed(tuple(spans)))
    return ""


def _own(each: OwnTask, weeks: Horizon) -> OwnNow:
    return OwnNow(
        f"own/{each.id.hex}",
        each.name,
        each.minutes,
        each.skill,
        max(0, weeks.from_day(each.not_before)) if each.not_before else 0,
        _end_of(weeks, each.due_on) if each.due_on else None,
    )


def _inspections(
    facts: PlanningRows, job: Job, weeks: Horizon, rules: InspectionRules
) -> tuple[list[AwaitedInspection], set[str]]:
    """The inspections still to come, and the areas whose inspection was and is not answered yet."""
    found: list[AwaitedInspection] = []
    awaited: set[str] = set()
    for inspection in facts.inspections.get(job.id, ()):
        window = booked_window(inspection)
        codes = []
        for area in inspection.areas.all():
            codes.append(area.code)
        areas = tuple(sorted(codes))
        if window and window[0].date() < weeks.first:
            awaited.update(areas)
            continue
        booked = None
        if window:
            booked = weeks.slot_from(window[0])
        table = asked_table(weeks, rules, inspection.asked_at)
        found.append(
            AwaitedInspection(
                f"inspection/{inspection.id.hex}", inspection.kind, areas, table, booked
            )
        )
    return found, awaited


def _area(
    facts: PlanningRows,
    area: Area,
    stuff: HouseStuff,
    weeks: Horizon,
    cover_days: int,
    layers: list[str],
    awaited: bool,
) -> PlannedArea:
    reasons = _held_for(area)
    called = facts.called.get(area.id, [])
    said = facts.answers.get(area.id)
    return PlannedArea(
        code=area.code,
        name=area.name,
        counts=stuff.areas[area.code].counts,
        roughed_in=not reasons & ROUGH_IN_REASONS,
        accepted=awaited or not (reasons & NEEDS_AN_INSPECTION or area.id in facts.look_again),
        refused=said is not None and said.answer == Answer.NOT_ACCEPTED,
        failing=sum(i.stage == Item.Stage.ROUGH_IN for i in facts.failing.get(area.id, ())),
        called=len(called),
        correct_by=_correct_by(called, weeks),
        cover_slots=_cover_slots(facts, area, weeks, cover_days, layers),
        finished=f"finish/{area.code}" in facts.done.get(area.job_id, ())
        or facts.finish_open.get(area.id) == 0,
    )


def _held_for(area: Area) -> set[str]:
    """The reasons that hold an area; before it has a standing, that there is no house."""
    standing = getattr(area, "standing", None)
    if not standing:
        return {HoldReason.HOUSE}
    return {hold["reason"] for hold in standing.holds}


def _correct_by(called: Sequence[Deficiency], weeks: Horizon) -> int | None:
    """The slot by which the first that has a date must be corrected."""
    due = []
    for each in called:
        if each.due_on:
            due.append(each.due_on)
    if not due:
        return None
    return _end_of(weeks, min(due))


def _cover_slots(
    facts: PlanningRows, area: Area, weeks: Horizon, cover_days: int, layers: list[str]
) -> int:
    done = facts.layers_done.get(area.id, {})
    if layers and all(done.get(layer) for layer in layers):
        return 0
    left = cover_days
    if area.id in facts.released_at:
        left -= max(0, -weeks.from_day(facts.released_at[area.id].date()) // weeks.parts)
    return max(0, left) * weeks.parts
