"""Holds: the reasons why an area may not be covered. Pure: facts in, holds out."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from config.messages.message import Message, Text
from inspections.checker.finding import Verdict
from inspections.standing import hold_messages as words
from inspections.standing.inspection_messages import trade_name
from inspections.standing.steps import Lift, Who


class Standing(StrEnum):
    """Where one item stands, from its finding and what was seen."""

    OK = "ok"
    OPEN = "open"
    FIX = "fix"
    INFO_NEEDED = "info_needed"


class Seen(StrEnum):
    """What somebody saw of an item, and what all looks at its facts come to (`answering.py`)."""

    OK = "ok"
    FIX = "fix"
    CANT_SEE = "cant_see"
    """Nobody could see it: what it is about was not there."""
    NA = "na"
    """The check does not apply here, and somebody on site said why."""


PASSES = frozenset({Seen.OK, Seen.NA})
"""Answers that settle what eyes settle; neither settles what is not to code or lacks info."""


def waits_to_be_confirmed(verdict: str, seen: str | None, workmanship: bool) -> bool:
    """Whether an item is OK on plan, made by hands, and seen by nobody on site as its facts are."""
    return workmanship and verdict == Verdict.OK and seen is None


def item_standing(verdict: str, seen: str | None, workmanship: bool) -> Standing:
    """Where an item stands, from its verdict and what the looks at its facts come to, if any.

    A tick cannot pass what the figures fail or a fact that is missing; a fail stands until
    something changes or a look answers it. What was not there to be seen is open, whatever the
    record says of it. A drawing is not a wall: what hands make is open, though the figures
    comply, until somebody on site confirms it or says why it does not apply here.
    """
    if verdict == Verdict.INFO_NEEDED:
        return Standing.INFO_NEEDED
    if verdict == Verdict.NOT_TO_CODE or seen == Seen.FIX:
        return Standing.FIX
    if seen == Seen.CANT_SEE:
        return Standing.OPEN
    if waits_to_be_confirmed(verdict, seen, workmanship):
        return Standing.OPEN
    if seen in PASSES or verdict == Verdict.OK:
        return Standing.OK
    return Standing.OPEN


class HoldReason(StrEnum):
    """What kind of thing holds an area."""

    PERMIT = "permit"
    HOUSE = "house"
    FIX = "fix"
    INFO_NEEDED = "info_needed"
    OPEN = "open"
    BOOTS = "boots"
    PHOTOGRAPH = "photograph"
    DEFICIENCY = "deficiency"
    TRADE = "trade"
    WITHDRAWN = "withdrawn"
    ACCEPTANCE = "acceptance"
    CHANGED = "changed"


ROUGH_IN_REASONS = frozenset(
    {HoldReason.HOUSE, HoldReason.FIX, HoldReason.INFO_NEEDED, HoldReason.OPEN, HoldReason.BOOTS}
)
"""Reasons that the crew's own work lifts, before the authority is asked."""


@dataclass(frozen=True, slots=True)
class PermitFacts:
    """What is known of a permit. `quiet_since` is its issue or its last inspection."""

    issued_on: date | None = None
    expires_on: date | None = None
    closed_on: date | None = None
    quiet_since: date | None = None
    idle_days: int | None = None

    def issued_by(self, day: date) -> bool:
        """Whether it is issued on that day: one that is issued later lifts nothing yet."""
        return self.issued_on is not None and self.issued_on <= day

    def expired_by(self, day: date) -> bool:
        """Whether it is no longer good on that day, and was not closed before."""
        closed = self.closed_on is not None and self.closed_on <= day
        return not closed and self.last_day is not None and self.last_day < day

    @property
    def turns(self) -> list[date]:
        """The days that begin otherwise for it than the day before: issued, closed, expired."""
        after = None
        if self.last_day:
            after = self.last_day + timedelta(days=1)
        days: list[date] = []
        for day in (self.issued_on, self.closed_on, after):
            if day is not None:
                days.append(day)
        return days

    @property
    def last_day(self) -> date | None:
        """The last day on which it is good: by its date, or by the time without an inspection."""
        idle = None
        if self.idle_days is not None and self.quiet_since is not None:
            idle = self.quiet_since + timedelta(days=self.idle_days)
        ends = []
        for day in (self.expires_on, idle):
            if day is not None:
                ends.append(day)
        return min(ends, default=None)


@dataclass(frozen=True, slots=True)
class AcceptanceFacts:
    """The authority's latest answer for an area, and whether the area is still as it was."""

    accepted: bool
    said_on: date
    unchanged: bool


@dataclass(frozen=True, slots=True)
class WithdrawalFacts:
    """A cover release that somebody withdrew by hand, and what was said of the reason since."""

    on: date
    because: str
    answered: bool = False
    inspect_again: bool = False
    """Whether the authority has to see the area again, and has not accepted it since."""


@dataclass(frozen=True, slots=True)
class AreaFacts:
    """All that an area's holds follow from. `items` counts the current ones by standing."""

    today: date
    permit: PermitFacts | None
    has_house: bool
    items: Sequence[tuple[Standing, int]]
    to_confirm: int = 0
    """Open only because nobody on site has confirmed them; `items` leaves them out."""
    boots_missing: int = 0
    """Failing items of the rule on boots; `items` leaves them out."""
    photographs_missing: int = 0
    deficiencies_called: int = 0
    """Written up and not corrected."""
    deficiencies_corrected: int = 0
    """Corrected, and not accepted by the inspector yet."""
    trades_missing: Sequence[str] = ()
    acceptance: AcceptanceFacts | None = None
    withdrawals: Sequence[WithdrawalFacts] = ()


@dataclass(frozen=True, slots=True)
class Hold:
    """One reason why an area may not be covered, who can lift it and how."""

    reason: HoldReason
    says: Text
    lifted_by: tuple[Lift, ...]


def holds(area: AreaFacts) -> tuple[Hold, ...]:
    """Every hold on an area, the earliest stage first."""
    return (
        *_permit_holds(area),
        *_house_holds(area),
        *_item_holds(area),
        *_confirm_holds(area),
        *_boots_holds(area),
        *_photograph_holds(area),
        *_deficiency_holds(area),
        *_trade_holds(area),
        *_withdrawal_holds(area),
        *_acceptance_holds(area),
    )


def _held(reason: HoldReason, says: Text, how: Message, *who: Who) -> Hold:
    """A hold that each of these can lift in the same way."""
    return Hold(reason, says, tuple(Lift(each, how()) for each in who))


def _permit_holds(area: AreaFacts) -> Iterator[Hold]:
    permit, reason = area.permit, HoldReason.PERMIT
    if permit is None:
        yield _held(reason, words.PERMIT_NONE(), words.PERMIT_APPLY, Who.OFFICE)
    elif permit.issued_on is None:
        yield _held(reason, words.PERMIT_PENDING(), words.PERMIT_RECORD, Who.OFFICE)
    elif not permit.issued_by(area.today):
        says = words.PERMIT_AHEAD(day=permit.issued_on)
        yield _held(reason, says, words.PERMIT_DAY, Who.OFFICE)
    elif permit.last_day and permit.expired_by(area.today):
        says = words.PERMIT_EXPIRED(day=permit.last_day)
        yield _held(reason, says, words.PERMIT_EXTEND, Who.OFFICE)


def _house_holds(area: AreaFacts) -> Iterator[Hold]:
    if not area.has_house:
        yield _held(HoldReason.HOUSE, words.HOUSE_NONE(), words.HOUSE_RECORD, Who.LEAD)
    elif not (area.items or area.to_confirm or area.boots_missing):
        yield _held(HoldReason.HOUSE, words.HOUSE_EMPTY(), words.HOUSE_AREA, Who.LEAD)


_OF_ITEMS = {
    Standing.FIX: (words.FAILING, words.FAILING_LIFT, Who.LEAD),
    Standing.INFO_NEEDED: (words.UNKNOWN, words.UNKNOWN_LIFT, Who.LEAD),
    Standing.OPEN: (words.OPEN, words.OPEN_LIFT, Who.CREW),
}


def _item_holds(area: AreaFacts) -> Iterator[Hold]:
    counts = dict(area.items)
    for standing, (says, how, who) in _OF_ITEMS.items():
        if count := counts.get(standing, 0):
            yield _held(HoldReason(standing.value), says(n=count), how, who)


def _confirm_holds(area: AreaFacts) -> Iterator[Hold]:
    if count := area.to_confirm:
        says = words.CONFIRM(n=count)
        yield _held(HoldReason.OPEN, says, words.CONFIRM_LIFT, Who.LEAD)


def _boots_holds(area: AreaFacts) -> Iterator[Hold]:
    if count := area.boots_missing:
        lifts = (Lift(Who.CREW, words.BOOTS_CREW()), Lift(Who.BUILDER, words.BOOTS_BUILDER()))
        yield Hold(HoldReason.BOOTS, words.BOOTS(n=count), lifts)


def _photograph_holds(area: AreaFacts) -> Iterator[Hold]:
    if count := area.photographs_missing:
        says = words.PHOTOGRAPH(n=count)
        yield _held(HoldReason.PHOTOGRAPH, says, words.PHOTOGRAPH_LIFT, Who.CREW)


def _deficiency_holds(area: AreaFacts) -> Iterator[Hold]:
    if count := area.deficiencies_called:
        says = words.DEFICIENCY(n=count)
        yield _held(HoldReason.DEFICIENCY, says, words.DEFICIENCY_LIFT, Who.LEAD)
    if count := area.deficiencies_corrected:
        says = words.CORRECTED(n=count)
        yield _held(HoldReason.DEFICIENCY, says, words.CORRECTED_LIFT, Who.OFFICE)


def _trade_holds(area: AreaFacts) -> Iterator[Hold]:
    for trade in area.trades_missing:
        says = words.TRADE(trade=trade_name(trade))
        yield _held(HoldReason.TRADE, says, words.TRADE_LIFT, Who.OFFICE, Who.BUILDER)


def _withdrawal_holds(area: AreaFacts) -> Iterator[Hold]:
    for each in area.withdrawals:
        if not each.answered:
            says = words.WITHDRAWN(day=each.on, because=each.because)
            yield _held(HoldReason.WITHDRAWN, says, words.WITHDRAWN_LIFT, Who.OFFICE, Who.LEAD)


def _acceptance_holds(area: AreaFacts) -> Iterator[Hold]:
    said = area.acceptance
    if said is None:
        yield _held(HoldReason.ACCEPTANCE, words.ACCEPTANCE(), words.ACCEPTANCE_LIFT, Who.OFFICE)
    elif not said.accepted:
        says = words.REFUSED(day=said.said_on)
        yield _held(HoldReason.ACCEPTANCE, says, words.REFUSED_LIFT, Who.OFFICE)
    elif not said.unchanged:
        yield _held(HoldReason.CHANGED, words.CHANGED(), words.CHANGED_LIFT, Who.OFFICE)
    elif again := [each for each in area.withdrawals if each.inspect_again]:
        says = words.AGAIN(day=again[-1].on)
        yield _held(HoldReason.CHANGED, says, words.CHANGED_LIFT, Who.OFFICE)
