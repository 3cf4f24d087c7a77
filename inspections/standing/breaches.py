"""Breaches: work that the record shows out of order. Accepted as a fact, and said. Pure."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from inspections.standing.holds import PermitFacts
from inspections.standing.stages import Milestone

OF_PERMIT = (Milestone.HOOKUP, Milestone.FINAL)
"""Milestones that the authority gives under a permit, and that everybody is told of."""


@dataclass(frozen=True, slots=True)
class OrderFacts:
    """When things were done, as far as they are on record."""

    issued_on: date | None
    roughed_in_on: date | None
    """The first day on which a house or an observation was recorded."""
    milestones: Sequence[tuple[Milestone, date]] = ()
    never_released: Sequence[str] = ()
    """Areas that have no cover release, live or withdrawn."""
    finished_unreleased: Sequence[tuple[str, date]] = ()
    """Areas in which finish work was seen before they were ever released, and when first."""
    finish_open: int = 0
    """Items of the finish that have not passed."""
    permit_ended_on: date | None = None
    """The last day on which the permit is good, where it ends before it is closed."""


@dataclass(frozen=True, slots=True)
class BeforeFacts:
    """What is on record before a milestone is."""

    milestone: Milestone
    on: date
    permit: PermitFacts | None
    unreleased: Sequence[str] = ()
    """Areas that have no live cover release."""
    finish_open: int = 0
    final_accepted: bool = True
    """Whether an inspection for the final is on record that the inspector accepted."""


def against(before: BeforeFacts) -> Iterator[str]:
    """What speaks against recording a milestone: said first, and no bar to it."""
    if before.milestone not in OF_PERMIT:
        return
    yield from _of_permit(before.permit, before.on)
    if before.unreleased:
        yield f"No cover release is on record for: {', '.join(before.unreleased)}."
    if before.milestone is not Milestone.FINAL:
        return
    if before.finish_open:
        items = "items of the finish have"
        if before.finish_open == 1:
            items = "item of the finish has"
        yield f"{before.finish_open} {items} not passed."
    if not before.final_accepted:
        yield "No final inspection that was accepted is on record."


def _of_permit(permit: PermitFacts | None, on: date) -> Iterator[str]:
    if permit is None:
        yield "No permit has been applied for."
    elif permit.issued_on is None:
        yield "The permit is not issued yet."
    elif not permit.issued_by(on):
        yield f"The permit was issued on {permit.issued_on}, after {on}."
    elif permit.expired_by(on):
        yield f"The permit expired on {permit.last_day}."


def breaches(order: OrderFacts) -> list[str]:
    """Each thing that was done before what must come first."""
    return [
        *_before_permit(order),
        *_after_permit(order),
        *_before_cover(order),
        *_before_finish(order),
    ]


def _before_permit(order: OrderFacts) -> Iterator[str]:
    if order.roughed_in_on is None:
        return
    if order.issued_on is None:
        yield f"Work is on record from {order.roughed_in_on}, and no permit is issued."
    elif order.roughed_in_on < order.issued_on:
        yield (
            f"Work is on record from {order.roughed_in_on}, before the permit was issued "
            f"on {order.issued_on}."
        )


def _after_permit(order: OrderFacts) -> Iterator[str]:
    ended = order.permit_ended_on
    if ended is None:
        return
    for milestone, day in order.milestones:
        if milestone in OF_PERMIT and day > ended:
            yield f"The {milestone} is on record from {day}, after the permit expired on {ended}."


def _before_cover(order: OrderFacts) -> Iterator[str]:
    if order.never_released and order.milestones:
        names = ", ".join(order.never_released)
        first, day = order.milestones[0]
        yield f"The {first} is on record from {day}, and never cleared for cover: {names}."


def _before_finish(order: OrderFacts) -> Iterator[str]:
    for name, day in order.finished_unreleased:
        yield f"{name}: finish work is on record from {day}, before it was cleared for cover."
    final = dict(order.milestones).get(Milestone.FINAL)
    if final and order.finish_open:
        items = "items of the finish have"
        if order.finish_open == 1:
            items = "item of the finish has"
        yield f"The final is on record from {final}, and {order.finish_open} {items} not passed."
