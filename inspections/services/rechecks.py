"""When rules get better: answers carried over, and what newer rules would say, job by job.

A house is checked by the rules of the day on which somebody records it. A newer program rechecks
nothing in silence: where its rules say the same in facts of another shape, the answers are carried
over; where they say something else, the items stay as they are until the office takes it.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.db import transaction
from django.utils import timezone

from inspections.checker.check import check
from inspections.checker.facts import facts_json
from inspections.checker.finding import Finding, Verdict, rules_digest
from inspections.models import CarriedAnswers, Item, JobStanding
from inspections.selectors import house_of, latest_revision
from inspections.services.facts import changing_facts, lock_areas, lock_job
from inspections.services.houses import (
    drawn_digest,
    insulation_words,
    item_of,
    items_follow,
    write_items,
)
from jobs.access import require_role
from jobs.models import Job, Person, Role

Key = tuple[str, str]


@dataclass(frozen=True, slots=True)
class NewerSays:
    """An item on which today's rules say something else than is kept."""

    key: Key
    was: str
    """Its verdict as it is kept; empty where there is no such item."""
    now: str
    """Its verdict by today's rules; empty where they have no such item."""
    finding: Finding | None


def recheck_plan(job: Job) -> list[NewerSays]:
    """What today's rules would say of the house as it was last recorded, where it is otherwise."""
    revision = latest_revision(job)
    if revision is None:
        return []
    kept = _current(job)
    found = {(each.rule.id, each.subject): each for each in check(*house_of(revision))}
    says = []
    for key in sorted({*kept, *found}):
        item, finding = kept.get(key), found.get(key)
        if item is None or finding is None or not means_the_same(item, finding):
            was = item.verdict if item else ""
            now = finding.verdict.value if finding else ""
            says.append(NewerSays(key, was, now, finding))
    return says


def house_recheck(actor: Person, *, job: Job) -> Sequence[NewerSays]:
    """Draw the job's items by today's rules; what they say otherwise, as it was before.

    What a newer rule finds in an area that is released withdraws nothing: the item is marked as
    found later, holds nothing, and goes to the office.
    """
    require_role(actor, job.shop, Role.OFFICE)
    revision = latest_revision(job)
    if revision is None:
        return []
    with transaction.atomic():
        lock_job(job.id)
        with changing_facts(actor, "house rechecked by newer rules", job.id) as change:
            says = recheck_plan(job)
            house, book = house_of(revision)
            findings = check(house, book)
            _carry(job, findings)
            later = _found_later(job, says)
            areas = {area.code: area for area in change.areas}
            items_follow(job, areas, findings, found_later=later)
            change.detail = {
                "revision": revision.number,
                "otherwise": len(says),
                "items": drawn_digest(findings, job),
                "insulation": insulation_words(house),
            }
        JobStanding.objects.filter(job=job).update(rules=rules_digest())
    return says


def _found_later(job: Job, says: Iterable[NewerSays]) -> frozenset[Key]:
    """Those that would hold an area by newer rules alone, in areas that are released.

    What was found so before stays so: a second recheck finds nothing new in it.
    """
    released = job.areas.filter(standing__released=True)
    codes = set(released.values_list("code", flat=True))
    marked = job.items.filter(area__in=released, current=True, found_later=True)
    later = set(marked.values_list("rule", "subject"))
    for each in says:
        finding = each.finding
        if finding is None or _passes_unseen(finding):
            later.discard(each.key)
        elif finding.spot.area in codes:
            later.add(each.key)
    return frozenset(later)


def _passes_unseen(finding: Finding) -> bool:
    """Whether nobody has to look at it: hands do not make it, and its figures comply."""
    return finding.verdict is Verdict.OK and not finding.rule.workmanship


def jobs_by_older_rules() -> list[UUID]:
    """Jobs with a house whose answers were not looked at since the rules changed."""
    older = JobStanding.objects.exclude(rules=rules_digest()).filter(job__revisions__isnull=False)
    return list(older.distinct().order_by("job").values_list("job", flat=True))


@transaction.atomic
def answers_carry(job_id: UUID) -> int:
    """Carry a job's answers over to today's rules where they say the same; how many items.

    Changes no verdict and no fact: what today's rules say otherwise stays as it is.
    """
    job = lock_job(job_id)
    lock_areas(job_id)
    revision = latest_revision(job)
    carried = 0
    if revision is not None:
        carried = _carry(job, check(*house_of(revision)))
    JobStanding.objects.filter(job=job).update(rules=rules_digest())
    return carried


def _carry(job: Job, findings: Sequence[Finding]) -> int:
    """Note what is carried, and let those items be worded by today's rules."""
    kept = _current(job)
    known = set(CarriedAnswers.objects.filter(item__job=job).values_list("item", "newer"))
    now = timezone.now()
    rows, items = [], []
    for finding in findings:
        item = kept.get((finding.rule.id, finding.subject))
        if item is None or not means_the_same(item, finding):
            continue
        if item.fingerprint != finding.fingerprint and (item.id, finding.fingerprint) not in known:
            rows.append(
                CarriedAnswers(
                    item=item,
                    fingerprint=item.fingerprint,
                    newer=finding.fingerprint,
                    rule_version=finding.rule.version,
                    recorded_at=now,
                )
            )
        fresh = item_of(job, item.area, finding, item.fingerprint, item)
        fresh.position, fresh.found_later = item.position, item.found_later
        items.append(fresh)
    CarriedAnswers.objects.bulk_create(rows, batch_size=200)
    write_items(items, kept)
    return len(rows)


def _current(job: Job) -> dict[Key, Item]:
    """The current items of a job by rule and subject."""
    found = {}
    for item in job.items.filter(current=True).select_related("area"):
        found[(item.rule, item.subject)] = item
    return found


def means_the_same(item: Item, finding: Finding) -> bool:
    """Whether a finding says of an item what is kept of it, whatever its facts are made of.

    The house is the same, so the facts are when the rule is of the same version. Of another
    version its verdict, place, section, limits and measure have to be the same; the rule itself
    may say more in its `carries`.
    """
    kept = item.finding
    measure = finding.measure
    held = (measure.min_mm, measure.max_mm) if measure else (None, None)
    same = (
        item.verdict == finding.verdict.value
        and item.area.code == finding.spot.area
        and item.stage == finding.rule.stage
        and (item.measure_min_mm, item.measure_max_mm) == held
    )
    if not same:
        return False
    if kept.get("version", 1) == finding.rule.version:
        return kept.get("facts") == facts_json(finding.facts) and _same_limits(kept, finding)
    carries = finding.rule.carries or _same_section
    return carries(kept, finding)


def _same_limits(kept: Mapping[str, Any], finding: Finding) -> bool:
    """Whether the limits are what they were, in value and section."""
    was = {each["name"]: each["value"] for each in kept.get("limits", ())}
    for limit in finding.limits:
        value = facts_json(limit.value)
        if not isinstance(value, dict) and was.get(limit.name, value) != value:
            return False
    return _same_section(kept, finding)


def _same_section(kept: Mapping[str, Any], finding: Finding) -> bool:
    """Whether it rests on the same sections of the same edition."""
    same: bool = (kept["section"], kept["edition"]) == (finding.section, finding.edition)
    return same
