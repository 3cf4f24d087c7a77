"""What reasons are given: the facts of one job, read once, and the clock at the house.

Reasons are functions of this value and of nothing else. They say from which moment somebody
should be told, so the same facts give the same answer whenever they are asked.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db.models import Max, Min

from inspections.conclusions import permit_facts
from inspections.holds import PermitFacts
from inspections.models import (
    Acceptance,
    Clearance,
    Deficiency,
    Happening,
    Inspection,
    InspectionEvent,
    JobAnswer,
    Kind,
    MilestoneReached,
    TradeReport,
)
from inspections.stages import Milestone
from jobs.models import Area, Job, Membership, Permit, Person, Role
from notifications.models import NoticeRules

TOLD_WITHIN = timedelta(days=7)
"""What happened longer ago than this is no news: whoever joins a shop is not told its past."""

AFTER_VISIT = (Happening.HELD, Happening.CANCELLED, Happening.NOBODY_CAME)
"""A visit is no longer on its way after one of these."""


@dataclass(frozen=True, slots=True)
class VisitFacts:
    """A visit with all that happened to it."""

    visit: Inspection
    events: Sequence[InspectionEvent]
    areas: Sequence[Area]
    answers: Sequence[Acceptance] = ()

    @property
    def last(self) -> InspectionEvent | None:
        """What last happened to it; None while it is asked for only."""
        return self.events[-1] if self.events else None

    @property
    def job_answer(self) -> JobAnswer | None:
        """What the inspector said of the job as a whole, at a visit that is not for areas."""
        return getattr(self.visit, "job_answer", None)

    @property
    def on_its_way(self) -> bool:
        """Whether it is still to be held."""
        return self.last is None or self.last.happening not in AFTER_VISIT

    @property
    def title(self) -> str:
        """Its kind and areas, as a reader calls it."""
        names = ", ".join(area.name for area in self.areas)
        return f"{self.visit.get_kind_display()} visit" + (f" ({names})" if names else "")


@dataclass(frozen=True, slots=True)
class JobFacts:
    """One job: what was recorded, what follows for its areas, and who has to do with it."""

    job: Job
    rules: NoticeRules
    permit: Permit | None
    permit_facts: PermitFacts | None
    areas: Sequence[Area]
    visits: Sequence[VisitFacts]
    clearances: Sequence[Clearance]
    deficiencies: Sequence[Deficiency]
    trade_reports: Sequence[TradeReport]
    milestones: dict[Milestone, MilestoneReached]
    work_began: datetime | None
    """When the first house was recorded or the first item looked at."""
    area_changed: dict[UUID, datetime]
    """When something of an area was last looked at or recorded."""
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

    def clock(self, moment: datetime) -> str:
        """A moment as the reader's wall tells it: `Tue 03 Mar 09:00`."""
        return f"{moment.astimezone(self.zone):%a %d %b %H:%M}"

    def window(self, event: InspectionEvent) -> str:
        """The window of a visit: `Tue 03 Mar 09:00 to 11:00`."""
        if event.starts_at is None or event.ends_at is None:
            return "no window"
        return f"{self.clock(event.starts_at)} to {event.ends_at.astimezone(self.zone):%H:%M}"

    def booked_window(self, visit: VisitFacts) -> InspectionEvent | None:
        """The event that booked the visit's present window."""
        return next((e for e in reversed(visit.events) if e.starts_at is not None), None)

    @property
    def office(self) -> list[Person]:
        """The shop's office."""
        return self._in(Role.OFFICE)

    @property
    def leads(self) -> list[Person]:
        """The job's crew lead, or all of the shop's while none is named."""
        lead = self.job.crew_lead
        return [lead] if lead is not None and lead.is_active else self._in(Role.CREW_LEAD)

    @property
    def contractor(self) -> list[Person]:
        """The people of the job's own general contractor."""
        return [
            each.person
            for each in self.memberships
            if each.role == Role.CONTRACTOR and each.contractor_id == self.job.contractor_id
        ]

    @property
    def everyone(self) -> list[Person]:
        """Office, lead and contractor."""
        return [*self.office, *self.leads, *self.contractor]

    def _in(self, role: Role) -> list[Person]:
        return [each.person for each in self.memberships if each.role == role]

    @property
    def done(self) -> bool:
        """Whether the final was accepted, or the permit closed."""
        closed = self.permit is not None and self.permit.closed_on is not None
        return closed or Milestone.FINAL in self.milestones

    def coming(self, *kinds: Kind, area: Area | None = None) -> bool:
        """Whether such a visit is asked for or booked, for that area when one is given."""
        return any(
            each.on_its_way
            and each.visit.kind in kinds
            and (area is None or area.id in {a.id for a in each.areas})
            for each in self.visits
        )


def job_facts(job_id: UUID) -> JobFacts:
    """Read a job. Area standings are read as the settling that asks has just drawn them."""
    job = Job.objects.select_related("shop", "authority", "crew_lead", "contractor").get(id=job_id)
    reached = {
        Milestone(each.milestone): each
        for each in job.milestones.filter(milestone__in=list(Milestone))
    }
    memberships = Membership.objects.filter(shop=job.shop_id, person__is_active=True)
    firsts = [
        job.revisions.aggregate(first=Min("recorded_at"))["first"],
        job.items.aggregate(first=Min("observations__recorded_at"))["first"],
    ]
    return JobFacts(
        job=job,
        rules=NoticeRules.objects.select_related("shop").get(shop=job.shop_id),
        permit=Permit.objects.filter(job=job).first(),
        permit_facts=permit_facts(job),
        areas=list(job.areas.select_related("standing").order_by("id")),
        visits=_visits(job),
        clearances=list(Clearance.objects.filter(area__job=job).select_related("area")),
        deficiencies=list(job.deficiencies.select_related("area")),
        trade_reports=list(job.trade_reports.all()),
        milestones=reached,
        work_began=min((first for first in firsts if first), default=None),
        area_changed=_area_changed(job),
        memberships=list(memberships.select_related("person").order_by("id")),
    )


def _visits(job: Job) -> list[VisitFacts]:
    found = job.inspections.select_related("job_answer")
    found = found.prefetch_related("events", "areas", "answers__area")
    return [
        VisitFacts(
            visit,
            list(visit.events.all()),
            sorted(visit.areas.all(), key=lambda area: area.id),
            sorted(visit.answers.all(), key=lambda answer: answer.area_id),
        )
        for visit in found
    ]


def _area_changed(job: Job) -> dict[UUID, datetime]:
    recorded = job.revisions.aggregate(last=Max("recorded_at"))["last"]
    seen = job.areas.annotate(last=Max("items__observations__recorded_at"))
    return {
        area_id: max(moment for moment in (last, recorded) if moment)
        for area_id, last in seen.values_list("id", "last")
        if last or recorded
    }
