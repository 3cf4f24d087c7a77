"""Writes of a walk: ticks made on a phone, perhaps hours ago and without signal.

A phone sends what it has until it is told that it arrived, in any order and more than once. Each
tick has an id of its own that the phone gave it, and counts for the facts that the phone knew.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from enum import StrEnum
from uuid import UUID
from zoneinfo import ZoneInfo

from django.core.exceptions import ValidationError
from django.utils import timezone

from config.languages import say
from config.messages.lengths import is_bare
from config.messages.message import Text
from inspections.checker.measures import plain_figure
from inspections.conclusions.items import counted_look
from inspections.models import Given, Item, Observation, Outcome
from inspections.services import site_refusal_messages as words
from inspections.services.facts import changing_facts
from inspections.services.given_ids import kept_as, save_as_given
from inspections.services.observations import (
    NotAsDrawn,
    NothingToPass,
    known_of,
    look_moment,
    looks_at,
    refuse_by_room,
    refuse_contradiction,
    refuse_empty_pass,
    refuse_na,
    refuse_no_measure,
    refuse_unasked_measure,
    refuse_unsaid_na,
)
from inspections.services.typed_measures import given_measure
from inspections.standing.answers import opposed_by
from inspections.standing.shown_messages import seen_shown
from jobs.access import SITE_ROLES, require_role
from jobs.bounds_refused import refuse_outside
from jobs.models import Job, Person, moment_of_id
from jobs.moments import PHONE_CLOCK, at_place, first_look
from jobs.prepared_queries import Prepared

CLOCK_OFF = timedelta(minutes=2)
"""A phone whose clock differs by more than this is set right by the difference."""
NOTE_LENGTH = 500


_ITEMS: Prepared[Item] = Prepared(lambda job, items: Item.objects.filter(job=job, id__in=items))
_HAD: Prepared[Observation] = Prepared(
    lambda job, ids: Observation.objects.filter(item__job=job, id__in=ids).select_related(
        "contests__seen_by"
    )
)


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
    measured_typed: str = ""
    """What the tape showed as somebody typed it; a phone that was loaded before sends none."""
    given: Given = Given.EACH
    """`room` where one tap gave an OK to all lines of a card in a room."""

    @property
    def counted_given(self) -> Given:
        """How it was given: by its room, or each by itself; a figure is always of the one item."""
        measured = self.measured_mm is not None or self.measured_typed
        if self.outcome == Outcome.OK and self.given == Given.ROOM and not measured:
            return Given.ROOM
        return Given.EACH


class TickState(StrEnum):
    """What became of a tick."""

    KEPT = "kept"
    STALE = "stale"
    CONTESTED = "contested"
    REFUSED = "refused"


@dataclass(frozen=True, slots=True)
class Taken:
    """What became of one tick, with the words for whoever made it."""

    id: UUID
    state: TickState
    says: str = ""


class _NothingNew(Exception):
    """Everything of this message had arrived before."""


def walk_record(
    actor: Person,
    *,
    job: Job,
    ticks: Sequence[Walked],
    phone_now: datetime,
    of_the_walk: bool = False,
) -> list[Taken]:
    """Keep what a phone tells, each tick once; what became of each, in the same order.

    `phone_now` is the phone's clock as it sends. A tick of facts that have changed is kept and
    does not count. Where the same facts were seen otherwise, and neither look answers the other,
    both are kept and the item is contested until somebody looks again. One that contradicts its
    own measure is refused, and keeps no other from coming in; so is a figure of an item that has
    nothing to measure by tape, and an N/A without its reason or of what N/A cannot settle.

    `of_the_walk`: the ticks are of our own page on a phone. What such a page queued before it was
    told what is measured must not be lost, so a figure that nobody asked for goes into the note.
    """
    require_role(actor, job.shop, *SITE_ROLES)
    now = timezone.now()
    _refuse_clocks(job, ticks, phone_now, now)
    if abs(now - phone_now) > CLOCK_OFF:
        off = now - phone_now
    else:
        off = timedelta()
    items = set()
    for tick in ticks:
        items.add(tick.item)
    locked = list({item.area_id for item in _ITEMS(job.id, items)})
    try:
        with changing_facts(actor, "walk recorded", job.id, area_ids=locked) as change:
            keeping = _Keeping(actor, job, ticks, change.now, off)
            keeping.of_the_walk = of_the_walk
            # In the order made, so that a fix answers the fail that its maker found before it.
            took = {tick: keeping.take(tick) for tick in sorted(ticks, key=lambda t: t.made_at)}
            change.detail = {"items": keeping.written}
            if not keeping.written:
                raise _NothingNew
    except _NothingNew:
        pass
    taken: list[Taken] = []
    for tick in ticks:
        taken.append(took[tick])
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

    of_the_walk = False

    def __init__(
        self, actor: Person, job: Job, ticks: Sequence[Walked], now: datetime, off: timedelta
    ) -> None:
        self.actor, self.now, self.off = actor, now, off
        self.zone = ZoneInfo(job.time_zone)
        self.photo_rules = job.shop.photo_rules
        self.opened = first_look(now, moment_of_id(job.id))
        item_ids = set()
        self.own: dict[UUID, UUID] = {}
        for tick in ticks:
            item_ids.add(tick.item)
            self.own[tick.id] = kept_as(job.id, tick.id)
        self.items = {each.id: each for each in _ITEMS(job.id, item_ids)}
        self.had = {each.id: each for each in _HAD(job.id, {*self.own, *self.own.values()})}
        self.written: list[str] = []

    def take(self, tick: Walked) -> Taken:
        """Keep one tick, unless it came before or cannot be kept."""
        item = self.items.get(tick.item)
        had = self.had.get(tick.id) or self.had.get(self.own[tick.id])
        if item is None:
            return Taken(tick.id, TickState.REFUSED, say(words.NO_SUCH_ITEM()))
        if had is not None:
            return self._again(had, tick)
        stale = not item.current or item.fingerprint != tick.fingerprint
        if refusal := self._refusal(item, tick, stale):
            return Taken(tick.id, TickState.REFUSED, refusal)
        tick = with_measure(tick)
        unasked = tick.measured_mm is not None and item.measure is None
        if unasked:
            tick = in_the_note(tick)
        made = self.had[tick.id] = self._keep(item, tick, stale)
        how = " (room check)" if tick.counted_given == Given.ROOM else ""
        self.written.append(f"{item}: {tick.outcome}{how}")
        taken = tick_outcome(made, tick.id, self.zone)
        if unasked and taken.state is TickState.KEPT:
            return replace(taken, says=say(words.IN_THE_NOTE()))
        return taken

    def _refusal(self, item: Item, tick: Walked, stale: bool) -> str:
        """Why a tick cannot be kept; empty where it can."""
        try:
            self._refuse(item, tick, stale)
        except (NothingToPass, NotAsDrawn) as refusal:
            return say(refusal.text)
        except ValidationError as refusal:
            return " ".join(refusal.messages)
        return ""

    def _refuse(self, item: Item, tick: Walked, stale: bool) -> None:
        """Raise NothingToPass, NotAsDrawn or ValidationError for a tick that cannot be kept."""
        refuse_no_measure(tick.measured_mm)
        tape = given_measure(tick.measured_typed, tick.measured_mm)
        if not self.of_the_walk:
            refuse_unasked_measure(item, tape)
        if tick.outcome == Outcome.NA:
            refuse_unsaid_na(tick.note, tick.given)
        if not stale and tick.outcome == Outcome.NA:
            refuse_na(item, self.photo_rules)
        if not stale:
            refuse_empty_pass(item, tick.outcome)
            refuse_contradiction(item, tick.outcome, tape)
            refuse_by_room(item, tick.counted_given)

    def _again(self, had: Observation, tick: Walked) -> Taken:
        same = (had.item_id, had.outcome, had.seen_by_id) == (
            tick.item,
            tick.outcome,
            self.actor.id,
        )
        if same:
            return tick_outcome(had, tick.id, self.zone)
        return Taken(tick.id, TickState.REFUSED, say(words.ID_TAKEN()))

    def _keep(self, item: Item, tick: Walked, stale: bool) -> Observation:
        others = looks_at(item)
        made = Observation(
            id=tick.id,
            item=item,
            outcome=tick.outcome,
            note=tick.note,
            given=tick.counted_given,
            measured_mm=tick.measured_mm,
            measured_typed=tick.measured_typed,
            fingerprint=tick.fingerprint,
            seen_by=self.actor,
            seen_at=min(max(tick.made_at + self.off, tick.known_at, self.opened), self.now),
            recorded_at=look_moment(self.now, others[-1].recorded if others else None),
            phone_at=tick.made_at,
            known_at=min(tick.known_at, self.now),
            stale=stale,
        )
        if not stale:
            made.known_at = known_of(made, others, tick.known_at)
            against = opposed_by(counted_look(item, made), others)
            if against:
                made.contests = against.source
            else:
                made.contests = None
        of_job = Observation.objects.filter(item__job=item.job_id)
        save_as_given(made, item.job_id, of_job)
        return made


def with_measure(tick: Walked) -> Walked:
    """The same tick with its measure both in mm and as typed, as far as it was typed."""
    tape = given_measure(tick.measured_typed, tick.measured_mm)
    return replace(tick, measured_mm=tape.mm, measured_typed=tape.typed)


def in_the_note(tick: Walked) -> Walked:
    """The same tick with its figure as words of its note, which is shortened where it is full."""
    figure = f"{plain_figure(tick.measured_mm or 0.0)} mm measured"
    if tick.measured_typed and not is_bare(tick.measured_typed):
        figure = f"{tick.measured_typed} measured"
    tick = replace(tick, measured_mm=None, measured_typed="")
    if not tick.note:
        return replace(tick, note=figure)
    room = NOTE_LENGTH - len(f"; {figure}")
    if len(tick.note) <= room:
        note = tick.note
    else:
        note = f"{tick.note[: room - 1]}…"
    return replace(tick, note=f"{note}; {figure}")


def tick_outcome(observation: Observation, tick_id: UUID, zone: ZoneInfo) -> Taken:
    """What became of a tick that was kept, under the id that its maker knows, by the clock at the
    house."""
    if observation.stale:
        return Taken(tick_id, TickState.STALE, say(words.STALE()))
    if other := observation.contests:
        return Taken(tick_id, TickState.CONTESTED, say(_contested(observation, other, zone)))
    return Taken(tick_id, TickState.KEPT)


def _contested(observation: Observation, other: Observation, zone: ZoneInfo) -> Text:
    """Who saw otherwise, what and when, by the clock at the house."""
    hour = at_place(min(other.seen_at, other.recorded_at), zone).time()
    if other.outcome == observation.outcome:  # a pass of before its measure was looked at
        measured = other.measured_mm or 0.0
        return words.CONTESTED_MEASURE(person=str(other.seen_by), measured=measured, hour=hour)
    seen = seen_shown(other.outcome)
    return words.CONTESTED(person=str(other.seen_by), seen=seen, hour=hour)
