"""Reads of what follows for a job, for both faces."""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from django.core.exceptions import ValidationError
from django.db.models import F, Prefetch, QuerySet, prefetch_related_objects

from config.languages import said_later
from config.messages.message import Text
from inspections.checker.amendments import load_rulebook
from inspections.checker.house import House
from inspections.checker.load import load_house
from inspections.checker.rulebook import Rulebook, rulebook_ids
from inspections.conclusions.insulation import with_insulation
from inspections.conclusions.items import NOTHING_SEEN, looked, standing_of
from inspections.models import (
    CoverRelease,
    Deficiency,
    DeficiencyPhotograph,
    FactCorrection,
    HouseRevision,
    Inspection,
    InspectionEvent,
    InsulationChoice,
    Item,
    Link,
    Observation,
    Outcome,
    Pack,
    Photograph,
    SiteChange,
)
from inspections.standing.area_messages import NO_AREA
from inspections.standing.holds import Standing
from inspections.standing.sources import KnownBy, how_known
from jobs.models import Area, Job, Person, Shop
from jobs.prepared_queries import Prepared
from jobs.selectors import jobs_visible_to


@dataclass(frozen=True, slots=True)
class ChecklistLine:
    """An item, where it stands and what was seen of it."""

    item: Item
    standing: Standing
    latest: Observation | None
    """The look that decides where it stands, or the last one at facts that have changed since."""
    changed_since: bool
    """Something was seen of it, but of facts that have changed since."""
    contest: tuple[Observation, ...] = ()
    """A look against it and the pass that disputes that, the one made earlier first; or none."""
    known_at: datetime = NOTHING_SEEN
    """As of when somebody who is shown this line knows what was seen."""

    @property
    def contested(self) -> bool:
        """Whether looks at the same facts differ and none of them answers the other."""
        return bool(self.contest)

    @property
    def not_applicable(self) -> bool:
        """Whether it passes because somebody on site said that it does not apply, and why."""
        if self.standing is not Standing.OK or self.latest is None or self.changed_since:
            return False
        return self.latest.outcome == Outcome.NA

    @property
    def known_by(self) -> KnownBy | None:
        """How it is known that it is OK; None while it is not. An N/A is stated on site."""
        seen = None
        if not self.changed_since:
            seen = self.latest
        measured = seen is not None and seen.measured_mm is not None
        return how_known(
            self.standing,
            seen=seen is not None,
            measured=measured and self.item.measure is not None,
        )

    @property
    def measure_fault(self) -> Text | None:
        """What is wrong with the measure of the look that is shown; None for nothing."""
        measure, seen = self.item.measure, self.latest
        if measure is None or seen is None or self.changed_since or seen.outcome != Outcome.OK:
            return None
        return measure.fault(seen.measured_mm)


def _areas() -> "Prefetch[str, QuerySet[Area], str]":
    """The areas of jobs with their standings, in one order wherever they are shown."""
    return Prefetch("areas", Area.objects.select_related("standing").order_by("id"))


def with_areas(job: Job) -> Job:
    """The job, its areas read with their standings unless they were read before."""
    prefetch_related_objects([job], _areas())
    return job


def jobs_with_areas(person: Person) -> QuerySet[Job]:
    """The jobs that a person may see with their areas, open and latest first."""
    return (
        jobs_visible_to(person)
        .select_related("standing", "permit", "builder")
        .prefetch_related(_areas())
        .order_by(F("permit__closed_on").asc(nulls_first=True), "-id")
    )


_JOB: Prepared[Job] = Prepared(
    lambda person, job: jobs_visible_to(person).filter(id=job).select_related("standing", "permit")
)


def job_read(person: Person, job_id: UUID) -> Job:
    """One of them without its areas (`with_areas` reads those), or Job.DoesNotExist."""
    found = _JOB(person.id, job_id)
    if not found:
        raise Job.DoesNotExist
    return found[0]


def area_read(person: Person, area_id: UUID) -> Area:
    """An area of a job that the person may see, or Area.DoesNotExist."""
    return Area.objects.select_related(
        "job__shop", "job__authority", "job__standing", "standing"
    ).get(id=area_id, job__in=jobs_visible_to(person))


def areas_named(job: Job, codes: Sequence[str]) -> list[Area]:
    """The areas of a job by their codes, in that order.

    Raises ValidationError for a code that none of them has, whatever other jobs have.
    """
    known = {}
    for area in job.areas.all():
        known[area.code] = area
    for code in codes:
        if code not in known:
            raise ValidationError(said_later(NO_AREA(code=code)))
    areas: list[Area] = []
    for code in codes:
        areas.append(known[code])
    return areas


def item_read(person: Person, item_id: UUID) -> Item:
    """An item of a job that the person may see, or Item.DoesNotExist."""
    return Item.objects.select_related("job__shop", "area").get(
        id=item_id, job__in=jobs_visible_to(person)
    )


def items_named(job: Job, item_ids: Sequence[UUID]) -> list[Item]:
    """The items of a job by their ids, in that order.

    Raises Item.DoesNotExist for an id that none of them has, whatever other jobs have.
    """
    known = job.items.select_related("area").in_bulk(list(item_ids))
    found: list[Item] = []
    for item_id in item_ids:
        if item_id not in known:
            raise Item.DoesNotExist
        known[item_id].job = job
        found.append(known[item_id])
    return found


def observation_read(person: Person, observation_id: UUID) -> Observation:
    """What was seen of an item of a job that the person may see, or Observation.DoesNotExist."""
    return Observation.objects.select_related("item__job__shop").get(
        id=observation_id, item__job__in=jobs_visible_to(person)
    )


def site_change_read(person: Person, site_change_id: UUID) -> SiteChange:
    """A site change of a job that the person may see, or SiteChange.DoesNotExist."""
    return SiteChange.objects.select_related("job__shop", "seen_by").get(
        id=site_change_id, job__in=jobs_visible_to(person)
    )


def fact_correction_read(person: Person, correction_id: UUID) -> FactCorrection:
    """A correction of a job that the person may see, or FactCorrection.DoesNotExist."""
    return FactCorrection.objects.select_related("job__shop", "made_by").get(
        id=correction_id, job__in=jobs_visible_to(person)
    )


def site_changes_open(job: Job) -> QuerySet[SiteChange]:
    """The site changes of a job that nobody has answered, the earliest first."""
    return job.site_changes.filter(answer=None).select_related("seen_by")


def usual_rulebook(shop: Shop) -> str:
    """The rulebook of the house that the shop recorded last; the first there is before any."""
    latest = HouseRevision.objects.filter(job__shop=shop).order_by("recorded_at").last()
    if latest:
        return latest.rulebook
    return rulebook_ids()[0]


def pack_read(person: Person, pack_id: UUID) -> Pack:
    """A pack of a job that the person may see, without its file, or Pack.DoesNotExist."""
    return (
        Pack.objects.select_related("job__shop", "asked_by")
        .defer("content")
        .get(id=pack_id, job__in=jobs_visible_to(person))
    )


def inspections_of(job: Job) -> QuerySet[Inspection]:
    """The inspections of a job, each with its areas, events and answers, the earliest first."""
    events = InspectionEvent.objects.select_related("recorded_by")
    areas = Area.objects.order_by("id")  # PostgreSQL gives them as they were last written
    return job.inspections.prefetch_related(
        Prefetch("areas", areas), "answers__area", Prefetch("events", events)
    ).select_related("asked_by", "job_answer")


def inspection_read(person: Person, inspection_id: UUID) -> Inspection:
    """An inspection of a job that the person may see, or Inspection.DoesNotExist."""
    return Inspection.objects.select_related("job__shop", "job__authority").get(
        id=inspection_id, job__in=jobs_visible_to(person)
    )


def deficiency_read(person: Person, deficiency_id: UUID) -> Deficiency:
    """A deficiency of a job that the person may see, or Deficiency.DoesNotExist."""
    return Deficiency.objects.select_related("job__shop", "area").get(
        id=deficiency_id, job__in=jobs_visible_to(person)
    )


def deficiencies_of(job: Job) -> list[tuple[Deficiency, int]]:
    """What was called on a job, each with how often the shop had it called before by its rule."""
    called_here = job.deficiencies.select_related("area", "corrected_by")
    found = list(called_here.prefetch_related("photographs"))
    rules = set()
    for each in found:
        if each.rule:
            rules.add(each.rule)
    earlier = Deficiency.objects.filter(job__shop=job.shop_id, rule__in=rules)
    called = list(earlier.values_list("rule", "called_at", "id"))
    counted: list[tuple[Deficiency, int]] = []
    for each in found:
        counted.append(
            (
                each,
                sum(r == each.rule and (at, i) < (each.called_at, each.id) for r, at, i in called),
            )
        )
    return counted


def photograph_read(person: Person, photograph_id: UUID) -> Photograph:
    """A photograph of a job that the person may see, or Photograph.DoesNotExist."""
    return Photograph.objects.select_related("item__job__shop").get(
        id=photograph_id, item__job__in=jobs_visible_to(person)
    )


def deficiency_photograph_read(person: Person, photograph_id: UUID) -> DeficiencyPhotograph:
    """A photograph of a deficiency that the person may see, or DoesNotExist."""
    return DeficiencyPhotograph.objects.select_related("deficiency__job__shop").get(
        id=photograph_id, deficiency__job__in=jobs_visible_to(person)
    )


def link_read(person: Person, link_id: UUID) -> Link:
    """A link to a job that the person may see, or Link.DoesNotExist."""
    return Link.objects.select_related("job__shop").get(id=link_id, job__in=jobs_visible_to(person))


def live_cover_releases(job: Job) -> dict[UUID, CoverRelease]:
    """The live cover release of each released area, by area."""
    live = CoverRelease.objects.filter(area__job=job, withdrawn_at__isnull=True)
    found = live.select_related("issued_by", "acceptance")
    by_area_id: dict[UUID, CoverRelease] = {}
    for cover_release in found:
        by_area_id[cover_release.area_id] = cover_release
    return by_area_id


def cover_release_read(person: Person, cover_release_id: UUID) -> CoverRelease:
    """A cover release of a job that the person may see, or CoverRelease.DoesNotExist."""
    return CoverRelease.objects.select_related("area__job__shop", "withdrawal_answer").get(
        id=cover_release_id, area__job__in=jobs_visible_to(person)
    )


def withdrawals_unanswered(job: Job) -> dict[UUID, list[CoverRelease]]:
    """The withdrawals by hand that nobody has answered, by area, the earliest first."""
    by_hand = CoverRelease.objects.filter(area__job=job, withdrawn_by__isnull=False)
    waiting = by_hand.filter(withdrawal_answer=None).select_related("withdrawn_by")
    found: dict[UUID, list[CoverRelease]] = {}
    for cover_release in waiting.order_by("withdrawn_at", "id"):
        found.setdefault(cover_release.area_id, []).append(cover_release)
    return found


def withdrawals_answered(job: Job) -> dict[UUID, CoverRelease]:
    """By area, the release that it had last, where somebody withdrew it and that is answered."""
    every = CoverRelease.objects.filter(area__job=job).order_by("issued_at", "id")
    related = every.select_related("withdrawn_by", "withdrawal_answer__recorded_by")
    last = {}
    for each in related:
        last[each.area_id] = each
    by_area: dict[UUID, CoverRelease] = {}
    for area, each in last.items():
        if each.withdrawn_by_id and each.answer:
            by_area[area] = each
    return by_area


def areas_ever_released(job: Job) -> set[UUID]:
    """The areas of a job that have a cover release, live or withdrawn."""
    return set(CoverRelease.objects.filter(area__job=job).values_list("area", flat=True))


def latest_revision(job: Job) -> HouseRevision | None:
    """What was last recorded of the house."""
    return job.revisions.order_by("-number").first()


def room_names(revision: HouseRevision | None) -> dict[str, str]:
    """The name of each room by its id, as the house of a revision has it."""
    names: dict[str, str] = {}
    if revision is not None:
        for room in json.loads(revision.house)["rooms"]:
            names[room["id"]] = room["name"]
    return names


def house_of(revision: HouseRevision) -> tuple[House, Rulebook]:
    """The house of a revision, with the insulation that was chosen since, and its rulebook."""
    return house_with(revision, revision.job.insulation_choices.last())


def house_with(revision: HouseRevision, choice: InsulationChoice | None) -> tuple[House, Rulebook]:
    """The house of a revision with that insulation, and its rulebook."""
    house = load_house(revision.house.encode())
    rulebook = load_rulebook(revision.rulebook, revision.amendments)
    return with_insulation(house, choice), rulebook


def insulated(house: House, job: Job) -> House:
    """The house with the insulation last chosen for the job, if anybody chose one."""
    return with_insulation(house, job.insulation_choices.last())


def checklist(
    job: Job, area: Area | None = None, stage: Item.Stage | None = None
) -> list[ChecklistLine]:
    """The current items of a job or of one area, of one stage or of both, as a person walks."""
    items = job.items.filter(current=True).select_related("area")
    if stage is not None:
        items = items.filter(stage=stage)
    items = items.prefetch_related("photographs")
    if area is not None:
        items = items.filter(area=area)
    return _lines(list(items))


def line_of(item: Item) -> ChecklistLine:
    """One item as its line of the checklist; one that a later house dropped as well."""
    found = Item.objects.filter(id=item.id).select_related("area").prefetch_related("photographs")
    (line,) = _lines(list(found))
    return line


def _lines(items: list[Item]) -> list[ChecklistLine]:
    seen: dict[UUID, list[Observation]] = {}
    observations = Observation.objects.filter(item__in=items, stale=False)
    for each in observations.select_related("seen_by"):
        seen.setdefault(each.item_id, []).append(each)
    lines: list[ChecklistLine] = []
    for item in items:
        lines.append(_line(item, seen.get(item.id, [])))
    return lines


def _line(item: Item, observations: list[Observation]) -> ChecklistLine:
    found = looked(item, observations)
    latest = found.latest
    return ChecklistLine(
        item=item,
        standing=standing_of(item.verdict, found.seen, item.workmanship),
        latest=latest,
        changed_since=latest is not None and latest.fingerprint != item.fingerprint,
        contest=found.contest,
        known_at=found.known_at,
    )
