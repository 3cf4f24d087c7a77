"""What reasons are given: the facts of one job, read once, and the clock at the house.

Reasons are functions of this value and of nothing else. They say from which moment somebody
should be told, so the same facts give the same answer whenever they are asked.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from operator import attrgetter
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db.models import Max, Min, Q

from config.messages.message import Text, WeekDay
from inspections.conclusions.areas import permit_of
from inspections.conclusions.job_facts import JobRows, Span, by
from inspections.models import (
    PASSING,
    Acceptance,
    CoverRelease,
    Deficiency,
    Inspection,
    InspectionEvent,
    InspectionKind,
    JobAnswer,
    MilestoneReached,
)
from inspections.standing.holds import PermitFacts
from inspections.standing.inspection_messages import inspection_kind
from inspections.standing.inspection_states import ENDED
from inspections.standing.stages import Milestone
from jobs.models import Area, Job, Membership, Permit, Person, Role
from jobs.prepared_queries import Prepared
from notifications.messages.inspections import ANSWERS, ANSWERS_US, NO_WINDOW, WINDOW
from notifications.models import NoticeRules

TOLD_WITHIN = timedelta(days=7)
"""What happened longer ago than this is no news: whoever joins a shop is not told its past."""


@dataclass(frozen=True, slots=True)
class InspectionFacts:
    """An inspection with all that happened to it."""

    inspection: Inspection
    events: Sequence[InspectionEvent]
    areas: Sequence[Area]
    answers: Sequence[Acceptance] = ()

    @property
    def last(self) -> InspectionEvent | None:
        """What last happened to it; None while it is asked for only."""
        if self.events:
            return self.events[-1]
        return None

    @property
    def job_answer(self) -> JobAnswer | None:
        """What the inspector said of the job as a whole, at an inspection that is not for areas."""
        return getattr(self.inspection, "job_answer", None)

    @property
    def on_its_way(self) -> bool:
        """Whether it is still to be held."""
        return self.last is None or self.last.happening not in ENDED

    @property
    def title(self) -> Text:
        """Its kind and areas, as a reader calls it."""
        names = []
        for area in self.areas:
            names.append(area.name)
        return inspection_kind(self.inspection.kind, names)


@dataclass(frozen=True, slots=True)
class JobFacts:
    """One job: what was recorded, what follows for its areas, and who has to do with it."""

    job: Job
    rules: NoticeRules
    permit: Permit | None
    permit_facts: PermitFacts | None
    areas: Sequence[Area]
    inspections: Sequence[InspectionFacts]
    cover_releases: Sequence[CoverRelease]
    deficiencies: Sequence[Deficiency]
    milestones: dict[Milestone, MilestoneReached]
    work_began: datetime | None
    """When the first house was recorded or the first item looked at."""
    area_changed: dict[UUID, datetime]
    """When something of an area was last looked at or recorded."""
    area_troubled: dict[UUID, datetime]
    """When something of an area was last found wrong, or the house was recorded anew."""
    memberships: Sequence[Membership] = field(repr=False, default=())

    @property
    def zone(self) -> ZoneInfo:
        """The clock at the house."""
        return ZoneInfo(self.job.time_zone)

    def at(self, day: date, hour: time) -> datetime:
        """That hour of that day at the house. An hour that a clock skips is the one after."""
        return datetime.combine(day, hour, self.zone).astimezone(UTC)

    def morning(self, day: date) -> datetime:
        """When that which follows from the calendar is told."""
        return self.at(day, self.rules.morning)

    def midnight(self, day: date) -> datetime:
        """The first moment of a day at the house."""
        return self.at(day, time())

    def day_of(self, moment: datetime) -> date:
        """The day at the house at that moment."""
        return moment.astimezone(self.zone).date()

    def window(self, event: InspectionEvent) -> Text:
        """The window of an inspection by the clock at the house: `Tue, Mar 3, 9:00 to 11:00`."""
        if event.starts_at is None or event.ends_at is None:
            return NO_WINDOW()
        begins, ends = event.starts_at.astimezone(self.zone), event.ends_at.astimezone(self.zone)
        return WINDOW(day=WeekDay(begins.date()), begins=begins.time(), ends=ends.time())

    @property
    def in_us(self) -> bool:
        """Whether the authority is one of the United States, and speaks as they do there."""
        return self.job.authority.country == "US"

    def answer(self, answer: str) -> Text:
        """What the authority said, as its own notices call it."""
        if self.in_us:
            return ANSWERS_US[answer]()
        return ANSWERS[answer]()

    def booked_window(self, inspection: InspectionFacts) -> InspectionEvent | None:
        """The event that booked the inspection's present window."""
        for e in reversed(inspection.events):
            if e.starts_at is not None:
                return e
        return None

    @property
    def office(self) -> list[Person]:
        """The shop's office."""
        return self._in(Role.OFFICE)

    @property
    def leads(self) -> list[Person]:
        """The job's crew lead, or all of the shop's while none is named."""
        lead = self.job.crew_lead
        if lead is not None and lead.is_active:
            return [lead]
        return self._in(Role.CREW_LEAD)

    @property
    def builder(self) -> list[Person]:
        """The people of the job's own builder."""
        people: list[Person] = []
        for each in self.memberships:
            if each.role == Role.BUILDER and each.builder_id == self.job.builder_id:
                people.append(each.person)
        return people

    @property
    def office_leads_and_builder(self) -> list[Person]:
        """Office, lead and builder."""
        return [*self.office, *self.leads, *self.builder]

    def _in(self, role: Role) -> list[Person]:
        people: list[Person] = []
        for each in self.memberships:
            if each.role == role:
                people.append(each.person)
        return people

    @property
    def done(self) -> bool:
        """Whether the final was accepted, or the permit closed."""
        closed = self.permit is not None and self.permit.closed_on is not None
        return closed or Milestone.FINAL in self.milestones

    def coming(self, *kinds: InspectionKind, area: Area | None = None) -> bool:
        """Whether such an inspection is asked for or booked, for that area when one is given."""
        for each in self.inspections:
            if (
                each.on_its_way
                and each.inspection.kind in kinds
                and (area is None or area.id in {a.id for a in each.areas})
            ):
                return True
        return False


_INSPECTIONS: Prepared[Inspection] = Prepared(
    lambda jobs: Inspection.objects.filter(job__in=jobs).select_related("job_answer")
)
_EVENTS: Prepared[InspectionEvent] = Prepared(
    lambda inspections: InspectionEvent.objects.filter(inspection__in=inspections)
)
_PLACES: Prepared[tuple[UUID, UUID]] = Prepared(
    lambda inspections: (
        Inspection.areas.through.objects.filter(inspection__in=inspections)
        .order_by("area_id", "inspection_id")
        .values_list("inspection", "area")
    )
)
_RECORDED = "items__observations__recorded_at"
_NOT_PASSED = ~Q(items__observations__outcome__in=PASSING)
_SEEN: Prepared[tuple[UUID, datetime | None, datetime | None, datetime | None]] = Prepared(
    lambda areas: (
        Area.objects.filter(id__in=areas)
        .order_by()
        .values_list("id")
        .annotate(Min(_RECORDED), Max(_RECORDED), faulted=Max(_RECORDED, filter=_NOT_PASSED))
    )
)
_PEOPLE: Prepared[Membership] = Prepared(
    lambda shops: (
        Membership.objects.filter(shop__in=shops, person__is_active=True)
        .select_related("person")
        .order_by("id")
    )
)
_RULES: Prepared[NoticeRules] = Prepared(lambda shops: NoticeRules.objects.filter(shop__in=shops))


def jobs_facts(ground: JobRows) -> Iterator[JobFacts]:
    """Jobs on a ground whose areas have their standings, as a settling has just drawn them."""
    inspections, seen = _inspections(ground), _seen(ground)
    shops = {}
    for job in ground.jobs.values():
        shops[job.shop_id] = job.shop
    by_shop_id = {}
    for each in _RULES(shops):
        by_shop_id[each.shop_id] = each
    people, rules = by(_PEOPLE(shops), "shop_id"), by_shop_id
    for shop_id, each in rules.items():
        each.shop = shops[shop_id]
    for job in ground.jobs.values():
        areas, permit = ground.areas_of(job.id), ground.permits.get(job.id)
        first, last = ground.revisions.get(job.id, (None, None))
        looks = {}
        for area in areas:
            if area.id in seen:
                looks[area.id] = seen[area.id].span
        beguns = []
        for begun, _ in looks.values():
            beguns.append(begun)
        firsts = [first, *beguns]
        yield JobFacts(
            job=job,
            rules=rules[job.shop_id],
            permit=permit,
            permit_facts=permit_of(ground, job),
            areas=areas,
            inspections=inspections.get(job.id, ()),
            cover_releases=_in_order(areas, ground.cover_releases, "issued_at"),
            deficiencies=_in_order(areas, ground.deficiencies, "called_at"),
            milestones=_milestones(ground.milestones.get(job.id, ())),
            work_began=min((each for each in firsts if each), default=None),
            area_changed=_changed(areas, looks, last),
            area_troubled=_troubled(areas, seen, last),
            memberships=people.get(job.shop_id, ()),
        )


def _milestones(reached: Sequence[MilestoneReached]) -> dict[Milestone, MilestoneReached]:
    known = set(Milestone)
    milestones: dict[Milestone, MilestoneReached] = {}
    for each in reached:
        if each.milestone in known:
            milestones[Milestone(each.milestone)] = each
    return milestones


def _in_order(areas: Sequence[Area], rows: dict[UUID, list[Any]], name: str) -> list[Any]:
    """The rows of all the areas, the earliest first."""
    of_areas: list[Any] = []
    for area in areas:
        of_areas.extend(rows.get(area.id, ()))
    return sorted(of_areas, key=attrgetter(name, "id"))


def _inspections(ground: JobRows) -> dict[UUID, list[InspectionFacts]]:
    inspections = _INSPECTIONS(ground.jobs)
    inspection_ids = [inspection.id for inspection in inspections]
    area_of = {area.id: area for area in ground.areas}
    events = by(_EVENTS(inspection_ids), "inspection_id")
    places: dict[UUID, list[Area]] = {}
    for inspection_id, area_id in _PLACES(inspection_ids):
        places.setdefault(inspection_id, []).append(area_of[area_id])
    said = []
    for of_area in ground.acceptances.values():
        said.extend(of_area)
    answers = by(sorted(said, key=attrgetter("area_id")), "inspection_id")
    facts: dict[UUID, list[InspectionFacts]] = {}
    for inspection in inspections:
        each = (
            events.get(inspection.id, ()),
            places.get(inspection.id, ()),
            answers.get(inspection.id, ()),
        )
        facts.setdefault(inspection.job_id, []).append(InspectionFacts(inspection, *each))
    return facts


@dataclass(frozen=True, slots=True)
class _Looks:
    """When something of an area was first and last looked at, and last found wrong."""

    span: Span
    faulted: datetime | None


def _seen(ground: JobRows) -> dict[UUID, _Looks]:
    """The looks at each area; one that nobody looked at is left out."""
    found = {}
    for area, first, last, faulted in _SEEN(ground.area_ids):
        if first and last:
            found[area] = _Looks((first, last), faulted)
    return found


def _troubled(
    areas: Sequence[Area], seen: dict[UUID, _Looks], recorded: datetime | None
) -> dict[UUID, datetime]:
    found = {}
    for area in areas:
        looks = seen.get(area.id)
        moments = [recorded, looks.faulted if looks else None]
        known = []
        for moment in moments:
            if moment is not None:
                known.append(moment)
        if known:
            found[area.id] = max(known)
    return found


def _changed(
    areas: Sequence[Area], looks: dict[UUID, Span], recorded: datetime | None
) -> dict[UUID, datetime]:
    found = {}
    for area in areas:
        moments = []
        if area.id in looks:
            moments = [looks[area.id][1]]
        if recorded:
            moments.append(recorded)
        if moments:
            found[area.id] = max(moments)
    return found
