"""What a database says to people: of each job and of each shop, in the words of the manifests.

Read with the models and selectors of the code as it is; told by names of our own, and by words that
`renamed.py` gives, so that what was kept of an earlier version can be compared with it.
"""

import hashlib
from collections import Counter
from datetime import date, datetime
from typing import Any

from django.core.files.storage import default_storage
from django.utils import timezone

from inspections.conclusions.areas import areas_holds
from inspections.conclusions.signs import area_sign
from inspections.models import CoverRelease, DeficiencyPhotograph, Observation, Photograph
from inspections.record.chain import record_faults
from inspections.selectors import ChecklistLine, checklist
from jobs.models import Job
from tests.sure import sure
from tests.upgrades.renamed import word

Told = dict[str, Any]


def of_jobs() -> dict[str, Told]:
    """Every job by shop and name."""
    found = {}
    jobs = Job.objects.select_related("shop", "standing", "permit", "authority")
    for job in jobs.order_by("shop_id", "id"):
        found[f"{job.shop.name}: {job.name}"] = _job(job)
    return found


def _job(job: Job) -> Told:
    return {
        "stage": word("stage", job.standing.stage),
        "permit": _permit(job),
        "areas": _areas(job),
        "items": _items(job),
        "items that are no more": job.items.filter(current=False).count(),
        "looks": _looks(job),
        "releases": _releases(job),
        "inspections": _inspections(job),
        "written up": _written_up(job),
        "found elsewhere": _found_elsewhere(job),
        "houses": _houses(job),
        "milestones": _milestones(job),
        "trades": _trades(job),
        "pictures": _pictures(job),
        "record": _record(job),
    }


def _when(moment: datetime | date | None) -> str:
    """A moment or a day as text; empty for none."""
    if moment is None:
        return ""
    return moment.isoformat()


def _digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()[:16]


def _permit(job: Job) -> list[str]:
    permit = getattr(job, "permit", None)
    if permit is None:
        return []
    days = (permit.applied_on, permit.issued_on, permit.expires_on, permit.closed_on)
    return [permit.number, *map(_when, days)]


def _areas(job: Job) -> Told:
    """The sign of each area, and what holds it, drawn from the facts and as it is kept."""
    areas = list(
        job.areas.select_related("standing", "job__standing", "job__permit").order_by("code")
    )
    drawn = areas_holds(areas, timezone.now())
    found = {}
    for area in areas:
        kept: Counter[str] = Counter()
        for hold in area.standing.holds:
            kept[word("hold", hold["reason"])] += 1
        now: Counter[str] = Counter()
        for hold in drawn[area.id]:
            now[word("hold", hold.reason)] += 1
        sign = word("sign", area_sign(area))
        found[area.code] = {"name": area.name, "sign": sign, "held by": now, "as kept": kept}
    return found


def _items(job: Job) -> dict[str, str]:
    """Where each item stands."""
    found = {}
    for line in checklist(job):
        found[_name(line.item)] = _standing(line)
    return found


def _standing(line: ChecklistLine) -> str:
    standing = word("standing", line.standing)
    if line.contested:
        return f"{standing}, contested"
    if line.changed_since:
        return f"{standing}, changed since"
    return standing


def _name(item: Any) -> str:
    return f"{item.rule} {item.subject}"


def _looks(job: Job) -> list[list[Any]]:
    """What anybody saw, in the order in which it came in."""
    looks = Observation.objects.filter(item__job=job).select_related("item", "seen_by")
    found = []
    for look in looks.order_by("recorded_at", "id"):
        said = [_name(look.item), word("outcome", look.outcome), look.seen_by.username]
        when = [_when(look.seen_at), _when(look.recorded_at)]
        found.append([*said, *when, look.note, look.measured_mm, look.stale])
    return found


def _releases(job: Job) -> list[list[str]]:
    """Under which reference an area could be covered, and how that ended."""
    releases = CoverRelease.objects.filter(area__job=job).select_related("area", "withdrawn_by")
    found = []
    for each in releases.order_by("issued_at", "id"):
        answer = each.answer
        found.append(
            [
                each.area.code,
                each.reference,
                _when(each.issued_at),
                _when(each.withdrawn_at),
                str(each.withdrawn_by or ""),
                each.withdrawn_because,
                str(answer or ""),
            ]
        )
    return found


def _inspections(job: Job) -> list[Told]:
    """Each inspection with what happened to it and what the authority said."""
    found = []
    for inspection in job.inspections.order_by("asked_at", "id"):
        happenings = []
        for event in inspection.events.all():
            happened = word("happening", event.happening)
            happenings.append([happened, _when(event.starts_at), event.reference])
        answers = []
        for answer in inspection.answers.select_related("area"):
            answers.append([answer.area.code, word("answer", answer.answer), answer.reference])
        whole = getattr(inspection, "job_answer", None)
        if whole is not None:
            answers.append(["", word("answer", whole.answer), whole.reference])
        areas = sorted(inspection.areas.values_list("code", flat=True))
        kind = word("inspection", inspection.kind)
        found.append({"kind": kind, "areas": areas, "events": happenings, "answers": answers})
    return found


def _written_up(job: Job) -> list[list[str]]:
    """What the inspector wrote up, and how far it is."""
    found = []
    for each in job.deficiencies.select_related("area").order_by("id"):
        said = [each.area.code, each.what, each.where, each.rule, each.section]
        found.append([*said, _when(each.corrected_at), _when(each.accepted_at)])
    return found


def _found_elsewhere(job: Job) -> list[list[Any]]:
    found = []
    for each in job.site_changes.select_related("answer").order_by("id"):
        answer = getattr(each, "answer", None)
        decided = None
        if answer is not None:
            decided = [answer.revision, answer.why]
        found.append([each.box, each.wall, each.at_mm, each.height_mm, each.note, decided])
    return found


def _houses(job: Job) -> list[list[Any]]:
    found = []
    for each in job.revisions.order_by("number"):
        found.append([each.number, each.rulebook, each.why, _digest(each.house.encode())])
    return found


def _milestones(job: Job) -> list[list[Any]]:
    found = []
    for each in job.milestones.order_by("recorded_at", "id"):
        name = word("milestone", each.milestone)
        days = [_when(each.reached_on), _when(each.temporary_until)]
        found.append([name, each.reference, *days, each.circuits])
    return found


def _trades(job: Job) -> list[list[Any]]:
    found = []
    for each in job.trade_reports.select_related("area").order_by("recorded_at", "id"):
        area = ""
        if each.area is not None:
            area = each.area.code
        found.append([each.trade, area, each.done])
    return found


def _pictures(job: Job) -> list[list[str]]:
    """What each photograph is of, and what its file holds."""
    found = []
    for picture in Photograph.objects.filter(item__job=job).select_related("item"):
        found.append([_name(picture.item), _content(sure(picture.file.name))])
    for picture in DeficiencyPhotograph.objects.filter(deficiency__job=job):
        found.append([picture.deficiency.what, _content(sure(picture.file.name))])
    return sorted(found)


def _content(name: str) -> str:
    with default_storage.open(name) as file:
        return _digest(file.read())


def _record(job: Job) -> Told:
    """How long the record is, the digest that its last entry ends with, and what is wrong."""
    last = job.record.order_by("number").last()
    chain = ""
    if last is not None:
        chain = last.chain
    faults = []
    for fault in record_faults(job.id):
        faults.append(str(fault))
    return {"entries": job.record.count(), "chain": chain, "faults": faults}
