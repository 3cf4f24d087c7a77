"""Writes of house revisions, and the items that follow from them."""

from collections.abc import Sequence

from django.db import transaction
from django.utils import timezone

from inspections.checker.amendments import load_rulebook
from inspections.checker.check import check
from inspections.checker.facts import digest
from inspections.checker.finding import Finding, rules_digest
from inspections.checker.house import House
from inspections.checker.keeping.stored_finding import stored_finding
from inspections.checker.load import load_house
from inspections.checker.measures import Measure
from inspections.checker.rulebook import LimitFault, RulebookFault
from inspections.checker.rulebook_messages import NOT_CHOSEN
from inspections.checker.workbook import house_json
from inspections.houses.amendments import shop_overlay
from inspections.models import CarriedAnswers, HouseRevision, Item, JobStanding
from inspections.selectors import insulated
from inspections.services import refusal_messages as words
from inspections.services.facts import changing_facts, lock_job
from inspections.services.refusals import Refused
from jobs.access import require_role
from jobs.models import Area, Job, Person, Role


class AnotherRevision(Refused):
    """Somebody recorded the house meanwhile; the text says what to do."""


def house_record(
    actor: Person,
    *,
    job: Job,
    house: bytes,
    rulebook: str = "",
    amendments: str | None = None,
    why: str = "",
    base: int | None = None,
) -> HouseRevision:
    """Record what was roughed in as the job's next revision and draw its items from it.

    The house comes as JSON, as a workbook or as CSV in a zip, and is kept as JSON. `amendments`
    are those of the shop that stand when not given. `base` is the number of the revision that was
    changed, 0 for none. Raises checker.HouseFaults or
    checker.RulebookFault, with nothing written, when the house or its rulebook cannot be read,
    and AnotherRevision when the latest one is not the base.
    """
    require_role(actor, job.shop, Role.OFFICE, Role.CREW_LEAD)
    return revision_record(
        actor,
        job=job,
        house=house,
        rulebook=rulebook,
        amendments=amendments,
        why=why,
        base=base,
    )


def revision_record(
    actor: Person,
    *,
    job: Job,
    house: bytes,
    rulebook: str = "",
    amendments: str | None = None,
    why: str = "",
    base: int | None = None,
) -> HouseRevision:
    """The same for whoever may do what leads to it; the caller has looked at the role."""
    house = house_json(house)
    value = load_house(house)
    chosen = rulebook or value.rulebook
    if not chosen:
        raise RulebookFault(LimitFault("rulebook", NOT_CHOSEN()))
    if amendments is None:
        amendments = shop_overlay(job.shop, chosen)
    book = load_rulebook(chosen, amendments)
    checked = insulated(value, job)
    findings = check(checked, book)
    with transaction.atomic():
        lock_job(job.id)
        if (now := insulated(value, job)) != checked:  # somebody chose insulation meanwhile
            checked, findings = now, check(now, book)
        number = _next_number(job, base)
        _areas_follow(job, value)
        with changing_facts(actor, "house recorded", job.id) as change:
            revision = HouseRevision.objects.create(
                job=job,
                number=number,
                house=house.decode(),
                rulebook=book.id,
                amendments=amendments,
                recorded_by=actor,
                recorded_at=timezone.now(),
                why=why,
                rules=rules_digest(),
                limits=book.digest,
            )
            items_follow(job, {area.code: area for area in change.areas}, findings)
            change.detail = _recorded_detail(revision, checked, findings)
        JobStanding.objects.filter(job=job).update(rules=rules_digest())
    return revision


def _next_number(job: Job, base: int | None) -> int:
    """The number of the job's next revision. Raises AnotherRevision when the latest one is not
    the base.
    """
    latest = job.revisions.count()
    if base is not None and base != latest:
        raise AnotherRevision(words.ANOTHER_REVISION(number=str(latest)))
    return latest + 1


def _recorded_detail(
    revision: HouseRevision, checked: House, findings: Sequence[Finding]
) -> dict[str, object]:
    """What the record keeps of a revision."""
    return {
        "items": drawn_digest(findings, revision.job),
        "insulation": insulation_words(checked),
        "revision": revision.number,
        "rulebook": revision.rulebook,
        "house": digest(revision.house),
        "why": revision.why,
    }


def _areas_follow(job: Job, house: House) -> None:
    for area in house.areas:
        Area.objects.update_or_create(job=job, code=area.id, defaults={"name": area.name})


def items_follow(
    job: Job,
    areas: dict[str, Area],
    findings: Sequence[Finding],
    *,
    found_later: frozenset[tuple[str, str]] = frozenset(),
    only: frozenset[tuple[str, str]] | None = None,
) -> None:
    """Make the job's items say what the findings say; one whose subject is gone is retired.

    `found_later` names those that a newer rule found where the wall is released. With `only`,
    items of other keys stay as they are.
    """
    kept = {(item.rule, item.subject): item for item in job.items.all()}
    keys = answer_keys(job)
    current = []
    for position, finding in enumerate(findings):
        key = (finding.rule.id, finding.subject)
        had = kept.get(key)
        if only is not None and key not in only:
            if had:
                current.append(had)
            continue
        answers = keys.get((*key, finding.fingerprint), finding.fingerprint)
        item = item_of(job, areas[finding.spot.area], finding, answers, had)
        item.position = position
        item.found_later = key in found_later
        current.append(item)
    write_items(current, kept)
    retire(kept, current)


def answer_keys(job: Job) -> dict[tuple[str, str, str], str]:
    """The fingerprint that answers belong to, by rule, subject and that of a newer rule."""
    keys: dict[tuple[str, str, str], str] = {}
    for each in CarriedAnswers.objects.filter(item__job=job).select_related("item"):
        keys[(each.item.rule, each.item.subject, each.newer)] = each.fingerprint
    return keys


def item_of(job: Job, area: Area, finding: Finding, answers: str, had: Item | None) -> Item:
    """The item that says what a finding says; `answers` is what its answers belong to.

    `had` is the item as it is kept, if it is.
    """
    measure = finding.measure
    return Item(
        id=had.id if had else None,
        job=job,
        area=area,
        rule=finding.rule.id,
        subject=finding.subject,
        stage=finding.rule.stage,
        current=True,
        verdict=finding.verdict,
        workmanship=_waits_for_site(finding, answers, had),
        fingerprint=answers,
        finding=stored_finding(finding) | {"fingerprint": answers},
        measure_what=measure.what if measure else "",
        measure_min_mm=measure.min_mm if measure else None,
        measure_max_mm=measure.max_mm if measure else None,
    )


def _waits_for_site(finding: Finding, answers: str, had: Item | None) -> bool:
    """Whether the item of a finding waits for somebody on site though its figures comply.

    One that is kept already goes on as it was: items from before there were such rules count as
    workmanship by none, and what was released on them must not be taken back because the program
    is newer. What is new, or says something else than before, takes what its rule says.
    """
    if had is None or not had.current:
        return finding.rule.workmanship
    if (had.fingerprint, had.verdict) != (answers, finding.verdict.value):
        return finding.rule.workmanship
    return had.workmanship and finding.rule.workmanship


COPIED = (
    "area_id",
    "stage",
    "current",
    "position",
    "verdict",
    "fingerprint",
    "finding",
    "measure_what",
    "measure_min_mm",
    "measure_max_mm",
    "found_later",
    "workmanship",
)
"""The columns of an item that are a copy of its finding."""


def drawn_digest(findings: Sequence[Finding], job: Job) -> str:
    """What the record keeps of the items that were drawn from findings.

    By it the auditor tells items that were changed since from those of a house that was checked by
    older rules.
    """
    keys = answer_keys(job)
    lines = []
    for each in findings:
        answers = keys.get((each.rule.id, each.subject, each.fingerprint), each.fingerprint)
        place = (each.rule.id, each.subject, each.spot.area, each.rule.stage)
        tape = each.measure or Measure("")
        limits = []
        for mm in (tape.min_mm, tape.max_mm):
            limits.append(mm if mm is None else float(mm))
        lines.append([*place, each.verdict.value, answers, *limits])
    return digest(sorted(lines, key=lambda line: line[:2]))


def insulation_words(house: House) -> str:
    """The insulation that items are drawn with, as the record keeps it."""
    chosen = house.insulation
    if chosen:
        return f"{chosen.kind.value} {chosen.vapour_barrier}"
    return ""


def write_items(current: list[Item], kept: dict[tuple[str, str], Item]) -> None:
    """Write the items that are new or say something else than before."""
    new: list[Item] = []
    for item in current:
        if item.id is None:
            new.append(item)
    for item in new:
        item.id = item._meta.pk.get_default()
    Item.objects.bulk_create(new, batch_size=200)
    changed = []
    for item in current:
        if (before := kept.get((item.rule, item.subject))) and any(
            getattr(item, name) != getattr(before, name) for name in COPIED
        ):
            changed.append(item)
    Item.objects.bulk_update(changed, COPIED, batch_size=200)


def retire(kept: dict[tuple[str, str], Item], current: list[Item]) -> None:
    """Let those that no finding is about any more be no part of the house."""
    current_keys = set()
    for item in current:
        current_keys.add((item.rule, item.subject))
    gone = set(kept) - current_keys
    Item.objects.filter(id__in=[kept[key].id for key in gone]).update(current=False)
