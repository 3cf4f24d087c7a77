"""Breaches: work that the record shows out of order. Accepted as a fact, and said. Pure."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from inspections.stages import Milestone


@dataclass(frozen=True, slots=True)
class OrderFacts:
    """When things were done, as far as they are on record."""

    issued_on: date | None
    roughed_in_on: date | None
    """The first day on which a house or an observation was recorded."""
    milestones: Sequence[tuple[Milestone, date]] = ()
    never_cleared: Sequence[str] = ()
    """Areas that have no clearance, live or withdrawn."""
    finished_uncleared: Sequence[tuple[str, date]] = ()
    """Areas in which finish work was seen before they were ever cleared, and when first."""
    finish_open: int = 0
    """Items of the finish that have not passed."""


def breaches(order: OrderFacts) -> list[str]:
    """Each thing that was done before what must come first."""
    return [*_before_permit(order), *_before_cover(order), *_before_finish(order)]


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


def _before_cover(order: OrderFacts) -> Iterator[str]:
    if order.never_cleared and order.milestones:
        names = ", ".join(order.never_cleared)
        first, day = order.milestones[0]
        yield f"The {first} is on record from {day}, and never cleared for cover: {names}."


def _before_finish(order: OrderFacts) -> Iterator[str]:
    for name, day in order.finished_uncleared:
        yield f"{name}: finish work is on record from {day}, before it was cleared for cover."
    final = dict(order.milestones).get(Milestone.FINAL)
    if final and order.finish_open:
        items = "item of the finish has" if order.finish_open == 1 else "items of the finish have"
        yield f"The final is on record from {final}, and {order.finish_open} {items} not passed."
