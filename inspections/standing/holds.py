"""Holds: the reasons why an area may not be covered. Pure: facts in, holds out."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from inspections.checker.finding import Verdict


class Standing(StrEnum):
    """Where one item stands, from its finding and what was seen."""

    PASSED = "passed"
    OPEN = "open"
    FAILING = "failing"
    UNKNOWN = "unknown"


class Seen(StrEnum):
    """What somebody saw of an item, and what all looks at its facts come to (`answering.py`)."""

    PASS = "pass"  # noqa: S105 - what somebody saw
    FAIL = "fail"
    ABSENT = "absent"
    """Nobody could see it: what it is about was not there."""


def item_standing(verdict: str, seen: str | None) -> Standing:
    """Where an item stands, from its verdict and what the looks at its facts come to, if any.

    A tick cannot pass what the figures fail or a fact that is missing; a fail stands until
    something changes or a look answers it. What was not there to be seen is open, whatever the
    record says of it.
    """
    if verdict == Verdict.UNKNOWN:
        return Standing.UNKNOWN
    if verdict == Verdict.SHORT or seen == Seen.FAIL:
        return Standing.FAILING
    if seen == Seen.ABSENT:
        return Standing.OPEN
    if seen == Seen.PASS or verdict == Verdict.MEETS:
        return Standing.PASSED
    return Standing.OPEN


class HoldReason(StrEnum):
    """What kind of thing holds an area."""

    PERMIT = "permit"
    HOUSE = "house"
    FAILING = "failing"
    UNKNOWN = "unknown"
    OPEN = "open"
    BOOTS = "boots"
    PHOTOGRAPH = "photograph"
    DEFICIENCY = "deficiency"
    TRADE = "trade"
    WITHDRAWN = "withdrawn"
    ACCEPTANCE = "acceptance"
    CHANGED = "changed"


ROUGH_IN_REASONS = frozenset(
    {HoldReason.HOUSE, HoldReason.FAILING, HoldReason.UNKNOWN, HoldReason.OPEN, HoldReason.BOOTS}
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
    boots_missing: int = 0
    """Failing items of the rule on boots; `items` leaves them out."""
    photographs_missing: int = 0
    deficiencies_called: int = 0
    """Called and not corrected."""
    deficiencies_corrected: int = 0
    """Corrected, and not accepted by the inspector yet."""
    trades_missing: Sequence[str] = ()
    acceptance: AcceptanceFacts | None = None
    withdrawals: Sequence[WithdrawalFacts] = ()


@dataclass(frozen=True, slots=True)
class Hold:
    """One reason why an area may not be covered, who can lift it and how."""

    reason: HoldReason
    says: str
    lifted_by: str


def holds(area: AreaFacts) -> tuple[Hold, ...]:
    """Every hold on an area, the earliest stage first."""
    return (
        *_permit_holds(area),
        *_house_holds(area),
        *_item_holds(area),
        *_boots_holds(area),
        *_photograph_holds(area),
        *_deficiency_holds(area),
        *_trade_holds(area),
        *_withdrawal_holds(area),
        *_acceptance_holds(area),
    )


def _permit_holds(area: AreaFacts) -> Iterator[Hold]:
    permit = area.permit
    if permit is None:
        yield Hold(HoldReason.PERMIT, "No permit has been applied for.", "office: apply for it")
    elif permit.issued_on is None:
        yield Hold(
            HoldReason.PERMIT, "The permit is not issued yet.", "office: record the permit number"
        )
    elif not permit.issued_by(area.today):
        yield Hold(
            HoldReason.PERMIT,
            f"The permit is not good before {permit.issued_on.isoformat()}, its day of issue.",
            "office: record the day on which it was issued",
        )
    elif permit.last_day and permit.expired_by(area.today):
        yield Hold(
            HoldReason.PERMIT,
            f"The permit expired on {permit.last_day.isoformat()}.",
            "office: ask the authority for an extension",
        )


def _house_holds(area: AreaFacts) -> Iterator[Hold]:
    if not area.has_house:
        yield Hold(
            HoldReason.HOUSE,
            "Nothing is recorded of what was roughed in.",
            "crew lead: record the house",
        )
    elif not (area.items or area.boots_missing):
        yield Hold(
            HoldReason.HOUSE,
            "The recorded house has nothing in this area to check.",
            "crew lead: record what was roughed in here",
        )


_ITEM_WORDS = {
    Standing.FAILING: ("failing", "crew lead: mend it, then record the house or look again"),
    Standing.UNKNOWN: ("short of a fact", "crew lead: measure what is missing and record it"),
    Standing.OPEN: ("waiting for eyes or a tape", "crew: look and tick"),
}


def _item_holds(area: AreaFacts) -> Iterator[Hold]:
    counts = dict(area.items)
    for standing, (words, lifted_by) in _ITEM_WORDS.items():
        if count := counts.get(standing, 0):
            noun = "items are"
            if count == 1:
                noun = "item is"
            yield Hold(HoldReason(standing.value), f"{count} rough-in {noun} {words}.", lifted_by)


def _boots_holds(area: AreaFacts) -> Iterator[Hold]:
    if count := area.boots_missing:
        boxes = "boxes in outside walls lack"
        if count == 1:
            boxes = "box in an outside wall lacks"
        yield Hold(
            HoldReason.BOOTS,
            f"{count} {boxes} a boot, and the insulation chosen is no vapour barrier.",
            "crew: boot them, or builder: choose insulation that is itself the barrier",
        )


def _photograph_holds(area: AreaFacts) -> Iterator[Hold]:
    if count := area.photographs_missing:
        words = "items to be concealed have"
        if count == 1:
            words = "item to be concealed has"
        yield Hold(
            HoldReason.PHOTOGRAPH, f"{count} {words} no photograph.", "crew: photograph them"
        )


def _deficiency_holds(area: AreaFacts) -> Iterator[Hold]:
    if count := area.deficiencies_called:
        noun = "deficiencies are"
        if count == 1:
            noun = "deficiency is"
        yield Hold(
            HoldReason.DEFICIENCY,
            f"{count} {noun} called and not mended.",
            "crew lead: mend and record",
        )
    if count := area.deficiencies_corrected:
        noun = "deficiencies wait"
        if count == 1:
            noun = "deficiency waits"
        yield Hold(
            HoldReason.DEFICIENCY,
            f"{count} mended {noun} for the inspector's acceptance.",
            "office: ask for the visit and record the answer",
        )


def _trade_holds(area: AreaFacts) -> Iterator[Hold]:
    for trade in area.trades_missing:
        yield Hold(
            HoldReason.TRADE,
            f"The rough-in of {trade} is not reported done.",
            "office or builder: report it done",
        )


def _withdrawal_holds(area: AreaFacts) -> Iterator[Hold]:
    for each in area.withdrawals:
        if not each.answered:
            yield Hold(
                HoldReason.WITHDRAWN,
                f"The cover release was withdrawn on {each.on.isoformat()}, and the reason is not "
                f"answered: “{each.because}”.",
                "office or crew lead: record what was done about it",
            )


def _acceptance_holds(area: AreaFacts) -> Iterator[Hold]:
    said = area.acceptance
    if said is None:
        yield Hold(
            HoldReason.ACCEPTANCE,
            "The authority has not accepted this area.",
            "office: ask for the visit and record the answer",
        )
    elif not said.accepted:
        yield Hold(
            HoldReason.ACCEPTANCE,
            f"The inspector did not accept this area on {said.said_on.isoformat()}.",
            "office: ask for a new visit once it is mended",
        )
    elif not said.unchanged:
        yield Hold(
            HoldReason.CHANGED,
            "This area was changed after it was accepted; what was changed must be open to see.",
            "office: ask for a new visit for this area alone",
        )
    elif again := [each for each in area.withdrawals if each.inspect_again]:
        yield Hold(
            HoldReason.CHANGED,
            f"The cover release was withdrawn on {again[-1].on.isoformat()}, and what was changed "
            "must be inspected again.",
            "office: ask for a new visit for this area alone",
        )
