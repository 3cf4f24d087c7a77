"""Writes of a walk: ticks made on a phone, perhaps hours ago and without signal.

A phone sends what it has until it is told that it arrived, in any order and more than once. Each
tick has an id of its own that the phone gave it, and counts for the facts that the phone knew.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from uuid import UUID
from zoneinfo import ZoneInfo

from django.utils import timezone

from inspections.models import Item, Observation, Outcome
from inspections.services.facts import changing_facts
from inspections.services.observations import NothingToPass, refuse_empty_pass
from jobs.access import SITE_ROLES, require_role
from jobs.models import Job, Person, moment_of
from jobs.moments import PHONE_CLOCK, at_place, first_look, refuse_outside
from jobs.prepared import Prepared, PreparedInsert

CLOCK_OFF = timedelta(minutes=2)
"""A phone whose clock differs by more than this is set right by the difference."""


_ITEMS: Prepared[Item] = Prepared(lambda job, items: Item.objects.filter(job=job, id__in=items))
_PLACES: Prepared[UUID] = Prepared(
    lambda job, items: (
        Item.objects.filter(job=job, id__in=items).order_by().values_list("area", flat=True)
    )
)
_HAD: Prepared[Observation] = Prepared(
    lambda ids: Observation.objects.filter(id__in=ids).select_related("contests__seen_by")
)
_OTHERS: Prepared[Observation] = Prepared(
    lambda item, fingerprint, known_at: (
        Observation.objects.filter(
            item=item, fingerprint=fingerprint, stale=False, recorded_at__gt=known_at
        )
        .select_related("seen_by")
        .order_by("seen_at", "recorded_at", "id")
    )
)
_INSERT = PreparedInsert(Observation)


@dataclass(frozen=True, slots=True)
class Walked:
    """One tick as a phone tells it."""

    id: UUID
    item: UUID
    outcome: Outcome
    fingerprint: str
    """Of the facts that the phone showed."""
    made_at: datetime
    """By the clock of the phone."""
    known_at: datetime
    """As of when the phone knew the checklist, by our clock."""
    note: str = ""
    measured_mm: float | None = None


class State(StrEnum):
    """What became of a tick."""

    KEPT = "kept"
    STALE = "stale"
    CONTESTED = "contested"
    REFUSED = "refused"


@dataclass(frozen=True, slots=True)
class Taken:
    """What became of one tick, with the words for whoever made it."""

    id: UUID
    state: State
    says: str = ""


class _NothingNew(Exception):
    """Everything of this message had arrived before."""


def walk_record(
    actor: Person, *, job: Job, ticks: Sequence[Walked], phone_now: datetime
) -> list[Taken]:
    """Keep what a phone tells, each tick once; what became of each, in the same order.

    `phone_now` is the phone's clock as it sends. A tick of facts that have changed is kept and
    does not count. Where somebody else saw the same facts otherwise, and the phone could not know
    it, both are kept and the item is open until somebody looks again.
    """
    require_role(actor, job.shop, *SITE_ROLES)
    now = timezone.now()
    _refuse_clocks(job, ticks, phone_now, now)
    off = now - phone_now if abs(now - phone_now) > CLOCK_OFF else timedelta()
    locked = list(set(_PLACES(job.id, {tick.item for tick in ticks})))
    try:
        with changing_facts(actor, "walk recorded", job.id, area_ids=locked, now=now) as change:
            keeping = _Keeping(actor, job, ticks, now, off)
            taken = [keeping.take(tick) for tick in ticks]
            change.detail = {"items": keeping.written}
            if not keeping.written:
                raise _NothingNew
    except _NothingNew:
        pass
    return taken


def _refuse_clocks(job: Job, ticks: Sequence[Walked], phone_now: datetime, now: datetime) -> None:
    """Clocks may be wrong by years; beyond that the difference says nothing."""
    refuse_outside(now, job.time_zone, phone_now=(PHONE_CLOCK, phone_now))
    for tick in ticks:
        refuse_outside(
            now,
            job.time_zone,
            made_at=(PHONE_CLOCK, tick.made_at),
            known_at=(PHONE_CLOCK, tick.known_at),
        )


class _Keeping:
    """The ticks of one message, while the areas they are about are locked."""

    def __init__(
        self, actor: Person, job: Job, ticks: Sequence[Walked], now: datetime, off: timedelta
    ) -> None:
        self.actor, self.now, self.off = actor, now, off
        self.zone = ZoneInfo(job.time_zone)
        self.opened = first_look(now, moment_of(job.id))
        self.items = {each.id: each for each in _ITEMS(job.id, {tick.item for tick in ticks})}
        self.had = {each.id: each for each in _HAD({tick.id for tick in ticks})}
        self.written: list[str] = []

    def take(self, tick: Walked) -> Taken:
        """Keep one tick, unless it came before or cannot be kept."""
        item, had = self.items.get(tick.item), self.had.get(tick.id)
        if item is None:
            return Taken(tick.id, State.REFUSED, "This is no item of this job.")
        if had is not None:
            return self._again(had, tick)
        stale = not item.current or item.fingerprint != tick.fingerprint
        if not stale:
            try:
                refuse_empty_pass(item, tick.outcome)
            except NothingToPass as refusal:
                return Taken(tick.id, State.REFUSED, str(refusal))
        made = self.had[tick.id] = self._keep(item, tick, stale)
        self.written.append(f"{item}: {tick.outcome}")
        return told(made, self.zone)

    def _again(self, had: Observation, tick: Walked) -> Taken:
        same = (had.item_id, had.outcome, had.seen_by_id) == (
            tick.item,
            tick.outcome,
            self.actor.id,
        )
        if same:
            return told(had, self.zone)
        return Taken(tick.id, State.REFUSED, "Another tick has come in under this one's id.")

    def _keep(self, item: Item, tick: Walked, stale: bool) -> Observation:
        made = Observation(
            id=tick.id,
            item=item,
            outcome=tick.outcome,
            note=tick.note,
            measured_mm=tick.measured_mm,
            fingerprint=tick.fingerprint,
            seen_by=self.actor,
            seen_at=min(max(tick.made_at + self.off, tick.known_at, self.opened), self.now),
            recorded_at=self.now,
            phone_at=tick.made_at,
            known_at=min(tick.known_at, self.now),
            stale=stale,
            contests=None if stale else self._against(item, tick),
        )
        _INSERT(made)
        return made

    def _against(self, item: Item, tick: Walked) -> Observation | None:
        """Somebody else's other answer about the same facts that the phone could not know of."""
        others = [
            each
            for each in _OTHERS(item.id, item.fingerprint, tick.known_at)
            if each.seen_by_id != self.actor.id and each.outcome != tick.outcome
        ]
        return others[-1] if others else None


def told(observation: Observation, zone: ZoneInfo) -> Taken:
    """What became of a tick that was kept, by the clock at the house."""
    if observation.stale:
        says = "The house has changed since: this is kept and does not count. Look again."
        return Taken(observation.id, State.STALE, says)
    if other := observation.contests:
        says = (
            f"{other.seen_by} said “{other.get_outcome_display()}” of it at "
            f"{at_place(other.seen_at, zone):%H:%M}. Look again, and say which holds."
        )
        return Taken(observation.id, State.CONTESTED, says)
    return Taken(observation.id, State.KEPT)
