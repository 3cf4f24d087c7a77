"""Writes of what somebody saw."""

from collections.abc import Collection, Mapping, Sequence
from contextlib import nullcontext
from datetime import datetime, timedelta
from uuid import UUID

from django.core.exceptions import ValidationError
from django.db.models import Max
from django.utils import timezone
from django.utils.text import capfirst

from config.languages import said_later
from config.messages.kept import message_of
from config.messages.lengths import LONGEST_MM
from config.messages.message import Value
from inspections.conclusions import as_drawn_messages as as_drawn_words
from inspections.conclusions import not_applicable_messages as na_words
from inspections.conclusions.as_drawn import kept_apart, not_by_room_check
from inspections.conclusions.items import NOTHING_SEEN, counted_look
from inspections.conclusions.not_applicable import is_a_reason, why_never_na
from inspections.conclusions.undo import why_not_undone
from inspections.models import Given, Item, Observation, Outcome
from inspections.services import site_refusal_messages as words
from inspections.services.consequences import withdrawing_nothing
from inspections.services.facts import changing_facts
from inspections.services.refusals import Refused
from inspections.services.typed_measures import Measured, given_measure
from inspections.standing.answers import Look, deciding, known_to_maker
from inspections.standing.holds import Seen
from jobs.access import SITE_ROLES, require_role
from jobs.bounds_refused import seen_by_now
from jobs.models import Job, Person, Shop, moment_of_id
from jobs.prepared_queries import Prepared

_LOOKS: Prepared[Observation] = Prepared(
    lambda item, fingerprint: (
        Observation.objects.filter(item=item, fingerprint=fingerprint, stale=False)
        .select_related("seen_by")
        .order_by("recorded_at", "id")
    )
)


_ACTIONS = {Given.EACH: "item observed", Given.ROOM: "room confirmed", Given.FIXED: "item observed"}


class NothingToPass(Refused):
    """A tick on an item that a tick cannot pass; the text says what can."""


class NotAsDrawn(Refused):
    """An item that is not confirmed together with its room; the text says why."""


class FactsChanged(Refused):
    """What was looked at is not what the house says now; the text says to look again."""


def item_observe(
    actor: Person,
    *,
    item: Item,
    outcome: Outcome,
    note: str = "",
    seen_at: datetime | None = None,
    fingerprint: str = "",
    measured_mm: float | None = None,
    measured_typed: str = "",
    known_at: datetime | None = None,
    withdraws: bool = True,
    given: Given = Given.EACH,
) -> Observation:
    """Record what somebody saw of an item, as its facts stand now.

    `fingerprint` is that of the facts which they were shown; FactsChanged when those are others
    by now, since a pass belongs to what was seen. `known_at` is as of when they were shown what
    others saw, `now` when not given. `measured_mm` is what their tape showed, `measured_typed` the
    same as they typed it; either gives the other.

    `withdraws` says that a cover release may be withdrawn by it: without that WouldWithdraw is
    raised where one would be, with nothing written.

    Raises NothingToPass when the figures are short or a fact is missing: only a changed
    house lifts those, and a tick that cannot count would look as if it did. Raises
    ValidationError for a measure that is none or two, for one of an item that has nothing to
    measure by tape, and for a pass that it contradicts; for an N/A without its reason as well, as
    NothingToPass for one of what N/A cannot settle.
    """
    shown = {}
    if fingerprint:
        shown = {item.id: fingerprint}
    (seen,) = items_observe(
        actor,
        items=[item],
        outcome=outcome,
        note=note,
        seen_at=seen_at,
        shown=shown,
        measured_mm=measured_mm,
        measured_typed=measured_typed,
        known_at=known_at,
        withdraws=withdraws,
        given=given,
    )
    return seen


def items_observe(
    actor: Person,
    *,
    items: Sequence[Item],
    outcome: Outcome,
    note: str = "",
    seen_at: datetime | None = None,
    shown: Mapping[UUID, str] | None = None,
    measured_mm: float | None = None,
    measured_typed: str = "",
    known_at: datetime | None = None,
    withdraws: bool = True,
    given: Given = Given.EACH,
) -> list[Observation]:
    """Record the same of several items of one job, as after a walk through a room: all or none.

    `shown` are the fingerprints of the facts that were looked at, where they are known. Raises
    NothingToPass, FactsChanged, ValidationError and WouldWithdraw as `item_observe` does, and
    NotAsDrawn as `items_confirm` does for what is given by the room.
    """
    if not items:
        return []
    job = items[0].job
    require_role(actor, job.shop, *SITE_ROLES)
    refuse_no_measure(measured_mm)
    tape = given_measure(measured_typed, measured_mm)
    if seen_at is not None:
        seen_at = seen_by_now(seen_at, timezone.now(), job.time_zone, moment_of_id(job.id))
    areas = _area_ids(items)
    action = _ACTIONS[given]
    with changing_facts(actor, action, job.id, area_ids=areas) as change:
        fresh = list(Item.objects.filter(job=job, id__in=[item.id for item in items]))
        _refuse_any(fresh, shown or {}, outcome, tape)
        if outcome == Outcome.NA:
            _refuse_na_of_any(fresh, note, given, job.shop)
        if given == Given.ROOM:
            _refuse_kept_apart(fresh, len({item.id for item in items}), job.shop)
        change.detail = _observed_detail(fresh, outcome, note, tape, given)
        last = _last_looks(fresh)
        with nullcontext() if withdraws else withdrawing_nothing(change.areas, change.now):
            made = []
            for item in fresh:
                look = Observation(
                    item=item,
                    outcome=outcome,
                    note=note,
                    given=given,
                    measured_mm=tape.mm,
                    measured_typed=tape.typed,
                    fingerprint=item.fingerprint,
                    seen_by=actor,
                    seen_at=seen_at or change.now,
                    recorded_at=look_moment(change.now, last.get(item.id)),
                )
                if known_at is not None:
                    look.known_at = known_of(look, looks_at(item), known_at)
                look.save()
                made.append(look)
        return made


def _area_ids(items: Sequence[Item]) -> list[UUID]:
    """The areas that the items are in, each once."""
    area_ids = set()
    for item in items:
        area_ids.add(item.area_id)
    return list(area_ids)


def _refuse_any(
    items: Sequence[Item], shown: Mapping[UUID, str], outcome: Outcome, tape: Measured
) -> None:
    """Raise what refuses the look at any of the items."""
    for item in items:
        _refuse_changed_facts(item, shown)
        refuse_empty_pass(item, outcome)
        refuse_unasked_measure(item, tape)
        refuse_contradiction(item, outcome, tape)


def _refuse_na_of_any(items: Sequence[Item], note: str, given: Given, shop: Shop) -> None:
    """Raise what refuses an N/A of any of the items, a fault on record among it."""
    if len(items) > 1:
        raise NotAsDrawn(na_words.ROOM())
    for item in items:
        refuse_unsaid_na(note, given)
        refuse_na(item, shop.photo_rules)
        decided = deciding(looks_at(item))
        if decided and decided[-1].outcome is Seen.FIX:
            person = str(decided[-1].source.seen_by)
            raise NothingToPass(na_words.AFTER_FIX(person=person))


def items_confirm(
    actor: Person,
    *,
    job: Job,
    items: Sequence[Item],
    note: str = "",
    seen_at: datetime | None = None,
    shown: Mapping[UUID, str] | None = None,
    known_at: datetime | None = None,
    withdraws: bool = True,
) -> list[Observation]:
    """Record that items of a room are as drawn: one OK look for each, all or none.

    Raises NotAsDrawn, with nothing written, for one that is not of the job's checklist, not OK on
    plan, not made by hands, answered already, or without the photo that the shop requires.
    Otherwise as `items_observe`.
    """
    require_role(actor, job.shop, *SITE_ROLES)
    for item in items:
        if item.job_id != job.id:
            raise NotAsDrawn(as_drawn_words.GONE())
    return items_observe(
        actor,
        items=items,
        outcome=Outcome.OK,
        note=note,
        seen_at=seen_at,
        shown=shown,
        known_at=known_at,
        withdraws=withdraws,
        given=Given.ROOM,
    )


def _refuse_kept_apart(fresh: Sequence[Item], count: int, shop: Shop) -> None:
    """Raise NotAsDrawn when one of so many items is none that is confirmed with its room."""
    if len(fresh) < count:
        raise NotAsDrawn(as_drawn_words.GONE())
    for reason in kept_apart(fresh, shop.photo_rules).values():
        raise NotAsDrawn(reason)


def _observed_detail(
    items: Sequence[Item], outcome: Outcome, note: str, tape: Measured, given: Given
) -> dict[str, object]:
    """What the record keeps of looks at items."""
    named = ", ".join(sorted(str(item) for item in items))
    detail: dict[str, object] = {"item": named, "outcome": outcome, "note": note}
    if tape.mm is not None:
        detail["measured_mm"] = tape.mm
    if tape.typed:
        detail["measured_typed"] = tape.typed
    if given != Given.EACH:
        detail |= {"given": given, "count": len(items)}
    return detail


def _last_looks(items: Sequence[Item]) -> dict[UUID, datetime]:
    """When each item was last looked at, of those that somebody looked at."""
    looks = Observation.objects.filter(item__in=items).order_by().values_list("item")
    return dict(looks.annotate(Max("recorded_at")))


def refuse_by_room(item: Item, given: Given) -> None:
    """Raise NotAsDrawn for an OK by the room of what eyes do not settle, or nobody has to see."""
    if given == Given.ROOM and (reason := not_by_room_check(item)):
        raise NotAsDrawn(reason)


def _refuse_changed_facts(item: Item, shown: Mapping[UUID, str]) -> None:
    """Raise FactsChanged when other facts of the item were looked at than stand now."""
    if shown.get(item.id, item.fingerprint) != item.fingerprint:
        raise FactsChanged(words.FACTS_CHANGED(title=message_of(item.finding["title"])))


UNDONE = "Undone: recorded by mistake."


def observation_undo(actor: Person, *, observation: Observation) -> Observation:
    """Say that a fault was recorded by mistake: a later look of the same person, which passes.

    Both stay on record, and a release that was withdrawn stays withdrawn until the office gives
    it again. Raises ValidationError once anything else was said of the item, or for somebody else.
    """
    job = observation.item.job
    require_role(actor, job.shop, *SITE_ROLES)
    areas = [observation.item.area_id]
    with changing_facts(actor, "observation undone", job.id, area_ids=areas) as change:
        item = Item.objects.get(id=observation.item_id)
        looks = list(item.observations.order_by("recorded_at", "id"))
        if why_not := why_not_undone(item, looks, observation.id, actor.id):
            raise ValidationError(said_later(why_not))
        change.detail = {"item": str(item), "undone": observation.id}
        now = look_moment(change.now, looks[-1].recorded_at)
        return Observation.objects.create(
            item=item,
            outcome=Outcome.OK,
            note=UNDONE,
            fingerprint=item.fingerprint,
            seen_by=actor,
            seen_at=now,
            recorded_at=now,
        )


def look_moment(now: datetime, last: datetime | None) -> datetime:
    """When a look comes: after the last one at its item, even where a clock stands still or back.

    Its area is locked, so the order is that in which they are committed.
    """
    if last is None:
        return now
    return max(now, last + timedelta.resolution)


def looks_at(item: Item) -> list[Look[Observation]]:
    """The looks at the item's facts as they are now, in the order we got them."""
    looks: list[Look[Observation]] = []
    for each in _LOOKS(item.id, item.fingerprint):
        looks.append(counted_look(item, each))
    return looks


def known_of(
    look: Observation, others: Sequence[Look[Observation]], shown_at: datetime
) -> datetime:
    """As of when the maker of a new look knows the others at its item, shown them at `shown_at`."""
    told = []
    for each in others:
        told.append((each, each.source.seen_by_id == look.seen_by_id))
    shown_at = min(max(shown_at, NOTHING_SEEN), look.recorded_at)
    return known_to_maker(told, min(look.seen_at, look.recorded_at), shown_at)


def refuse_no_measure(measured_mm: float | None) -> None:
    """Raise ValidationError for a figure that no tape shows."""
    # Said so that NaN, which is neither less nor more than anything, is refused too.
    if measured_mm is not None and not 0 <= measured_mm <= LONGEST_MM:
        raise ValidationError(said_later(words.MEASURE_RANGE(most=LONGEST_MM)))


def refuse_unasked_measure(item: Item, tape: Measured) -> None:
    """Raise ValidationError for a figure of an item that declares nothing to measure by tape.

    There is no limit in mm to hold it against, so beside a pass it would read as checked.
    """
    if tape.mm is not None and item.measure is None:
        raise ValidationError({tape.field: said_later(words.NOTHING_MEASURED())})


def refuse_contradiction(item: Item, outcome: Outcome, tape: Measured) -> None:
    """Raise ValidationError for a pass that its own measure contradicts, and say why."""
    measure = item.measure
    if outcome != Outcome.OK or measure is None:
        return
    if fault := measure.fault(tape.mm):
        says = capfirst(said_later(words.CONTRADICTED(fault=fault)))
        raise ValidationError({tape.field: says})


def refuse_empty_pass(item: Item, outcome: Outcome) -> None:
    """Raise NothingToPass for a tick on what a tick cannot pass."""
    if not item.current:
        raise NothingToPass(words.ITEM_GONE())
    if outcome == Outcome.OK and item.verdict in ("not_to_code", "info_needed"):
        remedy: Value = words.RECORD_CHANGE()
        if item.finding.get("remedy"):
            remedy = message_of(item.finding["remedy"])
        raise NothingToPass(words.NOT_OK_BY_TICK(remedy=remedy))


def refuse_unsaid_na(note: str, given: Given) -> None:
    """Raise ValidationError for an N/A without a reason, NotAsDrawn for one of a whole room."""
    if given == Given.ROOM:
        raise NotAsDrawn(na_words.ROOM())
    if not is_a_reason(note):
        raise ValidationError({"note": said_later(na_words.REASON())})


def refuse_na(item: Item, photo_rules: Collection[str]) -> None:
    """Raise NothingToPass for an N/A of what eyes alone do not settle."""
    if why_not := why_never_na(item, photo_rules):
        raise NothingToPass(why_not)
