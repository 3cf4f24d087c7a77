"""Reads of what follows for a job, for both faces."""

from collections import Counter
from dataclasses import dataclass
from uuid import UUID

from django.db.models import Prefetch, QuerySet

from inspections.checker import Verdict
from inspections.conclusions import items_with_latest, standing_of
from inspections.holds import Standing
from inspections.models import Clearance, HouseRevision, Item, Observation
from jobs.models import Area, Job, Person
from jobs.selectors import jobs_visible_to


@dataclass(frozen=True, slots=True)
class ChecklistLine:
    """An item, where it stands and what was last seen of it."""

    item: Item
    standing: Standing
    latest: Observation | None
    changed_since: bool
    """Something was seen of it, but of facts that have changed since."""


def jobs_with_areas(person: Person) -> QuerySet[Job]:
    """The jobs that a person may see, each with its areas and how they stand."""
    areas = Area.objects.select_related("standing").order_by("id")
    return (
        jobs_visible_to(person)
        .select_related("standing", "permit")
        .prefetch_related(Prefetch("areas", areas))
        .order_by("id")
    )


def job_read(person: Person, job_id: UUID) -> Job:
    """One of them, or Job.DoesNotExist."""
    return jobs_with_areas(person).get(id=job_id)


def area_read(person: Person, area_id: UUID) -> Area:
    """An area of a job that the person may see, or Area.DoesNotExist."""
    return Area.objects.select_related("job__shop", "standing").get(
        id=area_id, job__in=jobs_visible_to(person)
    )


def item_read(person: Person, item_id: UUID) -> Item:
    """An item of a job that the person may see, or Item.DoesNotExist."""
    return Item.objects.select_related("job__shop", "area").get(
        id=item_id, job__in=jobs_visible_to(person)
    )


def live_clearances(job: Job) -> dict[UUID, Clearance]:
    """The live clearance of each cleared area, by area."""
    live = Clearance.objects.filter(area__job=job, withdrawn_at__isnull=True)
    return {clearance.area_id: clearance for clearance in live.select_related("issued_by")}


def latest_revision(job: Job) -> HouseRevision | None:
    """What was last recorded of the house."""
    return job.revisions.order_by("-number").first()


def checklist(job: Job, area: Area | None = None) -> list[ChecklistLine]:
    """The current items of a job or of one area, as a person walks."""
    items = job.items.filter(current=True).select_related("area")
    if area is not None:
        items = items.filter(area=area)
    found = list(items_with_latest(items))
    seen = _latest(found)
    return [_line(item, seen.get(item.id)) for item in found]


def _latest(items: list[Item]) -> dict[UUID, Observation]:
    observations = Observation.objects.filter(item__in=items).select_related("seen_by")
    return {observation.item_id: observation for observation in observations}


def _line(item: Item, latest: Observation | None) -> ChecklistLine:
    standing = standing_of(item.verdict, item.fingerprint, item.seen_outcome, item.seen_fingerprint)
    changed = latest is not None and latest.fingerprint != item.fingerprint
    return ChecklistLine(item, standing, latest, changed)


def verdict_counts(job: Job) -> dict[str, int]:
    """How many current items have each verdict."""
    counts = Counter(job.items.filter(current=True).values_list("verdict", flat=True))
    return {verdict.value: counts[verdict.value] for verdict in Verdict}
