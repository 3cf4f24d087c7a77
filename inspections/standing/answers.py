"""Which look at an item answers which, and what all of them come to. Pure: looks in.

A pass answers a fail only if it is later both by when it was made and by when we got it, and its
maker could know of the fail; so no clock of a caller lifts a fail, and neither does a tick that was
made before it and came after it. It makes no difference whether two people looked or one.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Generic, TypeVar

from inspections.checker.measures import Measure
from inspections.standing.holds import Seen

Source = TypeVar("Source")


@dataclass(frozen=True, slots=True)
class Look(Generic[Source]):
    """One look at the facts as they are now, as it counts."""

    outcome: Seen
    claimed: datetime
    """When it was made, as its maker says, and never later than we got it."""
    recorded: datetime
    """When we got it."""
    known: datetime
    """As of when its maker knew what others saw, and never later than we got it."""
    source: Source = field(compare=False)
    """What it was read from."""

    def knew_of(self, other: "Look[Source]") -> bool:
        """Whether the maker could know of the other look."""
        return self.known >= other.recorded

    def answers(self, other: "Look[Source]") -> bool:
        """Whether this lifts a fail, or what was not there to be seen."""
        later = self.claimed > other.claimed and self.recorded > other.recorded
        return self.outcome is Seen.OK and later and self.knew_of(other)

    def disputes(self, other: "Look[Source]") -> bool:
        """Whether this pass speaks against the other without answering it."""
        if self.outcome is not Seen.OK or self.answers(other):
            return False
        later = self.claimed > other.claimed or self.recorded > other.recorded
        return later or not (self.knew_of(other) or other.knew_of(self))

    @property
    def order(self) -> tuple[datetime, datetime]:
        """By which looks are told in turn."""
        return self.claimed, self.recorded


def as_it_counts(outcome: str, measured_mm: float | None, measure: Measure | None) -> Seen:
    """What was seen; a pass whose own measure contradicts its limit is a fail."""
    contradicted = measure is not None and measure.contradicted_by(measured_mm)
    if outcome == Seen.OK and contradicted:
        return Seen.FIX
    return Seen(outcome)


def unanswered(looks: Sequence[Look[Source]], outcome: Seen) -> list[Look[Source]]:
    """Those of an outcome that no pass answers, in the order made."""
    passes = []
    for look in looks:
        if look.outcome is Seen.OK:
            passes.append(look)
    left = []
    for look in looks:
        if look.outcome is outcome and not any(each.answers(look) for each in passes):
            left.append(look)
    return sorted(left, key=lambda look: look.order)


def deciding(looks: Sequence[Look[Source]]) -> list[Look[Source]]:
    """The looks that the others give way to, in the order made: those that fail, those for which
    nothing was there to be seen, or those that pass; empty when nobody looked."""
    for outcome in (Seen.FIX, Seen.CANT_SEE):
        if left := unanswered(looks, outcome):
            return left
    passes = []
    for look in looks:
        if look.outcome is Seen.OK:
            passes.append(look)
    return sorted(passes, key=lambda look: look.order)


def come_to(looks: Sequence[Look[Source]]) -> Seen | None:
    """What the looks come to; None when nobody looked."""
    decided = deciding(looks)
    if decided:
        return decided[-1].outcome
    return None


def contest(looks: Sequence[Look[Source]]) -> list[Look[Source]]:
    """A look that stands against a pass and the pass that disputes it, the one made earlier first;
    empty where nothing is contested."""
    for against in reversed(deciding(looks)):
        if against.outcome is Seen.OK:
            return []
        disputing = []
        for look in looks:
            if look.disputes(against):
                disputing.append(look)
        if disputing:
            last = max(disputing, key=lambda look: look.order)
            return sorted([against, last], key=lambda look: look.order)
    return []


def opposed_by(new: Look[Source], others: Sequence[Look[Source]]) -> Look[Source] | None:
    """What keeps the newest look from settling the item: for a pass the last look that nothing
    answers, for any other the last pass that disputes it; None when it stands alone."""
    if new.outcome is Seen.OK:
        against = deciding([*others, new])[-1]
        if against.outcome is Seen.OK:
            return None
        return against
    disputing = []
    for look in others:
        if look.disputes(new):
            disputing.append(look)
    return max(disputing, key=lambda look: look.order, default=None)


def known_to_maker(
    looks: Iterable[tuple[Look[Source], bool]], claimed: datetime, known: datetime
) -> datetime:
    """As of when the maker of a new look knew the looks at its item.

    `known` is when they were last shown them; each look comes with whether it is their own. What
    they saw themselves before this they knew without being shown, up to the first fail of somebody
    else that they were not shown.
    """
    later = []
    for look, own in looks:
        if look.recorded > known:
            later.append((look, own))
    for look, own in sorted(later, key=lambda each: each[0].recorded):
        if own and look.claimed < claimed:
            known = look.recorded
        elif not own and look.outcome is not Seen.OK:
            break
    return known
