"""Which look at an item answers which, and what all of them come to. Pure: looks in.

A pass answers a fail only if it is later both by when it was made and by when we got it, and its
maker could know of the fail; so no clock of a caller lifts a fail, and neither does a tick that was
made before it and came after it. It makes no difference whether two people looked or one.

N/A passes an item as an OK does, and is shown apart from it. Only an OK answers a fail: that a
check does not apply says nothing of what somebody found wrong, so an N/A beside a fail leaves the
item failing, and contested where it came later. What could not be seen is answered by either, since
whoever says why there is nothing to see has seen that. Where both stand, the later says which.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Generic, TypeVar

from inspections.checker.measures import Measure
from inspections.standing.holds import PASSES, Seen

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

    @property
    def passes(self) -> bool:
        """Whether it settles an item that eyes settle."""
        return self.outcome in PASSES

    def answers(self, other: "Look[Source]") -> bool:
        """Whether this lifts a fail, which only an OK does, or what was not there to be seen."""
        if not self.passes or (self.outcome is Seen.NA and other.outcome is Seen.FIX):
            return False
        later = self.claimed > other.claimed and self.recorded > other.recorded
        return later and self.knew_of(other)

    def disputes(self, other: "Look[Source]") -> bool:
        """Whether this pass speaks against the other without answering it."""
        if not self.passes or self.answers(other):
            return False
        later = self.claimed > other.claimed or self.recorded > other.recorded
        return later or not (self.knew_of(other) or other.knew_of(self))

    @property
    def order(self) -> tuple[datetime, datetime]:
        """By which looks are told in turn."""
        return self.claimed, self.recorded


def as_it_counts(outcome: str, measured_mm: float | None, measure: Measure | None) -> Seen:
    """What was seen; a pass whose own measure contradicts its limit is a fail.

    What a tape settles no N/A does: it says no more than that nobody measured.
    """
    if measure is None:
        return Seen(outcome)
    if outcome == Seen.OK and measure.contradicted_by(measured_mm):
        return Seen.FIX
    if outcome == Seen.NA:
        return Seen.CANT_SEE
    return Seen(outcome)


def unanswered(looks: Sequence[Look[Source]], outcome: Seen) -> list[Look[Source]]:
    """Those of an outcome that no pass answers, in the order made."""
    left = []
    for look in looks:
        if look.outcome is outcome and not any(each.answers(look) for each in looks):
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
        if look.passes:
            passes.append(look)
    # Of two of one moment the N/A, so that nothing reads as seen which may not be there.
    return sorted(passes, key=lambda look: (look.order, look.outcome is Seen.NA))


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
        if against.passes:
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
    if new.passes:
        against = deciding([*others, new])[-1]
        if against.passes:
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
        elif not own and not look.passes:
            break
    return known
