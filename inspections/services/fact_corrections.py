"""Writes of facts that somebody corrects where he stands: a revision of the house, done once."""

import json
from collections.abc import Callable, Sequence
from contextlib import nullcontext
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any
from uuid import UUID

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from config.languages import said_later, say
from config.messages.message import Joined, Text, Value
from inspections.checker.house.fixes import FixKind, fact_of, kind_of
from inspections.checker.house.paths import NoSuchPath, Path, put_at, value_at
from inspections.checker.load import HouseFaults, load_house
from inspections.fixes.fact_words import fact_name, may_be_corrected, value_words
from inspections.fixes.fixes import HouseFacts
from inspections.models import FactCorrection, HouseRevision
from inspections.selectors import latest_revision
from inspections.services import fact_refusal_messages as words
from inspections.services.consequences import WouldWithdraw, withdrawing_nothing
from inspections.services.facts import changing_facts, lock_areas, lock_job
from inspections.services.given_ids import kept_as, save_as_given
from inspections.services.houses import revision_record
from inspections.services.refusals import Refused
from inspections.services.seen_by_fixing import confirm_fixed, fixed_by
from inspections.services.site_changes import found_at
from inspections.services.typed_measures import given_measure
from jobs.access import SITE_ROLES, corrects_houses, require_role
from jobs.models import Job, Person

WHY_LENGTH = 200


class FactMoved(Refused):
    """What was to be corrected is not what the house says now; the text shows both values."""


class NotCorrected(Refused):
    """A fact that is not corrected on site, or of no part of the house; the text says why."""


@dataclass(frozen=True, slots=True)
class CorrectedFact:
    """One fact: what it was as its maker was shown it, and what it is."""

    path: Path
    was: Any
    now: Any
    typed: str = ""
    """The same as somebody typed it: 6 1/4"; empty where it was chosen."""


def fact_correct(
    actor: Person,
    *,
    job: Job,
    correction_id: UUID,
    base: int,
    changes: Sequence[CorrectedFact],
    note: str = "",
    made_at: datetime | None = None,
    withdraws: bool = True,
) -> FactCorrection:
    """Make the latest house say what is so on site, as one revision, once however often it comes.

    `base` is the revision that the maker was shown. What becomes OK by the figures and is made by
    hands counts as seen by whoever corrected it. `withdraws` says that a cover release may be
    withdrawn by it: without that WouldWithdraw is raised where one would be, nothing written.

    Raises FactMoved when an old value no longer stands, NotCorrected for what is not corrected on
    site, and ValidationError for a value that the house cannot have.
    """
    require_role(actor, job.shop, *SITE_ROLES)
    if not changes:
        raise NotCorrected(words.EMPTY())
    with transaction.atomic():
        lock_job(job.id)
        if (had := _had(actor, job, correction_id, changes)) is not None:
            return had
        made = FactCorrection(
            id=correction_id,
            job=job,
            base=base,
            note=note,
            made_by=actor,
            made_at=found_at(made_at, job, timezone.now()),
        )
        return record_correction(actor, made, changes, withdraws=withdraws, on_site=True)


def fact_correction_undo(
    actor: Person, *, correction: FactCorrection, correction_id: UUID
) -> FactCorrection:
    """Put back what a correction changed, as a revision; both stay on record.

    Raises ValidationError for one that was undone, or is an undo; FactMoved where a value was
    changed since; NotCorrected where an area has a cover release that would be withdrawn.
    """
    job = correction.job
    require_role(actor, job.shop, *SITE_ROLES)
    changes = []
    for each in reversed(correction.changes):
        changes.append(CorrectedFact(tuple(each["path"]), each["now"], each["was"]))
    with transaction.atomic():
        lock_job(job.id)
        if (had := _had(actor, job, correction_id, changes)) is not None:
            return had
        if correction.undoes_id is not None:
            raise ValidationError(said_later(words.UNDO_TWICE()))
        if FactCorrection.objects.filter(undoes=correction).exists():
            raise ValidationError(said_later(words.UNDONE()))
        made = FactCorrection(
            id=correction_id,
            job=job,
            base=correction.revision,
            undoes=correction,
            made_by=actor,
            made_at=timezone.now(),
        )
        try:
            return record_correction(actor, made, changes, withdraws=False)
        except WouldWithdraw as released:
            raise NotCorrected(words.RELEASED()) from released


def _had(
    actor: Person, job: Job, correction_id: UUID, changes: Sequence[CorrectedFact]
) -> FactCorrection | None:
    """The same correction, if it came before. Raises ValidationError for another under its id."""
    had = had_by_id(actor, job, correction_id)
    paths = [list(each.path) for each in changes]
    if had is not None and paths != [each["path"] for each in had.changes]:
        raise ValidationError(said_later(words.ID_TAKEN()))
    return had


def corrected_once(
    actor: Person,
    *,
    job: Job,
    correction_id: UUID,
    changing: Callable[[HouseRevision], tuple[Sequence[CorrectedFact], Text]],
    made_at: datetime | None,
    withdraws: bool,
) -> FactCorrection:
    """Record what `changing` makes of the latest house, with its reason, once by its id.

    For what is given in words of its own, not fact by fact. `withdraws` and what it raises are
    those of `fact_correct`.
    """
    require_role(actor, job.shop, *SITE_ROLES)
    with transaction.atomic():
        lock_job(job.id)
        if (had := had_by_id(actor, job, correction_id)) is not None:
            return had
        revision = latest_revision(job)
        if revision is None:
            raise NotCorrected(words.NO_HOUSE())
        made = FactCorrection(
            id=correction_id,
            job=job,
            base=revision.number,
            made_by=actor,
            made_at=found_at(made_at, job, timezone.now()),
        )
        changes, why = changing(revision)
        return record_correction(actor, made, changes, withdraws=withdraws, why=why)


def had_by_id(actor: Person, job: Job, correction_id: UUID) -> FactCorrection | None:
    """The correction of this id, if it came before. Raises ValidationError for somebody else's."""
    ids = (correction_id, kept_as(job.id, correction_id))
    had = FactCorrection.objects.filter(job=job, id__in=ids).first()
    if had is not None and had.made_by_id != actor.id:
        raise ValidationError(said_later(words.ID_TAKEN()))
    return had


def record_correction(
    actor: Person,
    made: FactCorrection,
    given: Sequence[CorrectedFact],
    *,
    withdraws: bool,
    on_site: bool = False,
    why: Text | None = None,
) -> FactCorrection:
    """Record the revision, what was seen by it, and the correction; the job is locked.

    `on_site`: the facts came as somebody gave them, so only those that are corrected on site are
    taken. `why` is the reason of the revision where the facts themselves do not say it.
    """
    job = made.job
    if not corrects_houses(actor, job.shop):
        raise NotCorrected(words.OFFICE_FIRST())
    revision = latest_revision(job)
    if revision is None:
        raise NotCorrected(words.NO_HOUSE())
    made.base = min(made.base, revision.number)
    now = timezone.now()
    changes, text = _applied(revision, given, on_site=on_site)
    fixed = fixed_by(job, revision, changes_paths(changes))
    areas = lock_areas(job.id)
    with nullcontext() if withdraws else withdrawing_nothing(areas, now):
        made.revision = _recorded(actor, job, revision, text, _why(made, changes, why)).number
        for each in changes:
            confirm_fixed(actor, job, fixed, each.path, each.now, each.typed, made.made_at)
    made.recorded_at = now
    made.changes = [_kept(each) for each in changes]
    with changing_facts(actor, "fact corrected", job.id, area_ids=[]) as change:
        made.full_clean(validate_unique=False)
        save_as_given(made, job.id, FactCorrection.objects.filter(job=job))
        change.detail = {"changes": made.changes, "revision": made.revision}
        if made.undoes_id is not None:
            change.detail["undoes"] = str(made.undoes_id)
    return made


def changes_paths(changes: Sequence[CorrectedFact]) -> list[Path]:
    """Which facts they are about."""
    return [each.path for each in changes]


def _kept(change: CorrectedFact) -> dict[str, Any]:
    """A change as it is kept."""
    path = list(change.path)
    return {"path": path, "was": change.was, "now": change.now, "typed": change.typed}


def _applied(
    revision: HouseRevision, given: Sequence[CorrectedFact], *, on_site: bool
) -> tuple[list[CorrectedFact], bytes]:
    """The changes with exact values, as they were recorded before, and the house after them."""
    raw = json.loads(revision.house)
    facts = HouseFacts(load_house(revision.house.encode()))
    changes = []
    for each in given:
        try:
            if on_site and not may_be_corrected(each.path):
                raise NotCorrected(words.NOT_HERE())
            _refuse(raw, facts, each)
            exact = replace(each, was=value_at(raw, each.path), now=_exact(each))
            put_at(raw, each.path, exact.now)
        except NoSuchPath as gone:
            raise NotCorrected(words.NO_PART(part=str(gone) or str(each.path))) from gone
        changes.append(exact)
    return changes, json.dumps(raw).encode()


def _refuse(raw: dict[str, Any], facts: HouseFacts, change: CorrectedFact) -> None:
    """Raise what refuses one change of the house as it is now."""
    stands = facts.now(change.path)
    if not _same(stands, change.was) and not _same(value_at(raw, change.path), change.was):
        raise FactMoved(
            words.MOVED(
                what=fact_name(change.path),
                now=value_words(change.path, stands),
                was=value_words(change.path, change.was),
            )
        )
    if _same(stands, _exact(change)):
        now = value_words(change.path, stands)
        raise NotCorrected(words.NOTHING(what=fact_name(change.path), now=now))


def _same(stands: Any, shown: Any) -> bool:
    """Whether two values are one; a part may be given without what is not recorded of it."""
    if isinstance(stands, dict) and isinstance(shown, dict):
        return _recorded_only(stands) == _recorded_only(shown)
    return bool(stands == shown)


def _recorded_only(part: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in part.items() if value is not None}


def _exact(change: CorrectedFact) -> Any:
    """The new value; of a length that was typed, what was typed."""
    lengthy = kind_of(fact_of(change.path)) is FixKind.LENGTH
    if change.typed and lengthy and not isinstance(change.now, dict | list | str | bool):
        return given_measure(change.typed, change.now).mm
    return change.now


def _why(made: FactCorrection, changes: Sequence[CorrectedFact], why: Text | None) -> str:
    """The reason of the revision, in English, as reasons of revisions are kept."""
    if why is not None:
        return say(why, "en")[:WHY_LENGTH]
    whole = any(len(each.path) == 2 or not may_be_corrected(each.path) for each in changes)
    if made.undoes is not None and whole:
        undone = words.AS_BEFORE(revision=str(made.undoes.revision), person=str(made.made_by))
        return say(undone, "en")[:WHY_LENGTH]
    said: list[Value] = []
    for each in changes:
        was, now = value_words(each.path, each.was), value_words(each.path, each.now)
        said.append(words.WHY(what=fact_name(each.path), was=was, now=now))
    how = words.FIXED_BY if made.undoes_id is None else words.UNDONE_BY
    reason = how(changes=Joined(tuple(said), "; "), person=str(made.made_by))
    return say(reason, "en")[:WHY_LENGTH]


def _recorded(
    actor: Person, job: Job, revision: HouseRevision, text: bytes, why: str
) -> HouseRevision:
    """The next revision. Raises ValidationError for a house that cannot be."""
    try:
        return revision_record(
            actor,
            job=job,
            house=text,
            rulebook=revision.rulebook,
            amendments=revision.amendments,
            why=why,
        )
    except HouseFaults as faults:
        raise ValidationError([said_later(fault.text) for fault in faults.faults]) from faults
