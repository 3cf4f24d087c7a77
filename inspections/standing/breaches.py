"""Breaches: work that the record shows out of order. Accepted as a fact, and said. Pure."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from config.messages.message import Listed, Text, message
from inspections.standing.hold_messages import PERMIT_EXPIRED, PERMIT_NONE, PERMIT_PENDING
from inspections.standing.holds import PermitFacts
from inspections.standing.inspection_messages import milestone_name
from inspections.standing.stages import Milestone

OF_PERMIT = (Milestone.HOOKUP, Milestone.FINAL)
"""Milestones that the authority gives under a permit, and that everybody is told of."""

UNRELEASED = message("against.unreleased", "No cover release is on record for {areas}.")
FINISH_OPEN = message(
    "against.finish-open",
    "{n} finish items are not OK yet.",
    one="{n} finish item is not OK yet.",
)
FINAL_OPEN = message("against.final-open", "No accepted final inspection is on record.")
PERMIT_LATER = message("against.permit-later", "The permit was issued on {issued}, after {on}.")

UNPERMITTED = message("breaches.unpermitted", "Work began by {day}. No permit is issued.")
EARLY = message("breaches.early", "Work began by {day}, before the permit was issued on {issued}.")
EXPIRED = {
    Milestone.HOOKUP: message(
        "breaches.expired-hookup", "The hookup was on {day}, after the permit expired on {ended}."
    ),
    Milestone.FINAL: message(
        "breaches.expired-final", "The final was on {day}, after the permit expired on {ended}."
    ),
}
NEVER_RELEASED = message(
    "breaches.never-released", "{areas}: {milestone} on {day} without a cover release."
)
FINISHED_EARLY = message(
    "breaches.finished-early", "{area}: finish work on {day}, before the cover release."
)
FINAL_EARLY = message(
    "breaches.final-early",
    "The final was on {day}. {n} finish items are not OK yet.",
    one="The final was on {day}. {n} finish item is not OK yet.",
)


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
    """Items of the finish that are not OK."""
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


def against(before: BeforeFacts) -> Iterator[Text]:
    """What speaks against recording a milestone: said first, and no bar to it."""
    if before.milestone not in OF_PERMIT:
        return
    yield from _of_permit(before.permit, before.on)
    if before.unreleased:
        yield UNRELEASED(areas=Listed(tuple(before.unreleased)))
    if before.milestone is not Milestone.FINAL:
        return
    if before.finish_open:
        yield FINISH_OPEN(n=before.finish_open)
    if not before.final_accepted:
        yield FINAL_OPEN()


def _of_permit(permit: PermitFacts | None, on: date) -> Iterator[Text]:
    if permit is None:
        yield PERMIT_NONE()
    elif permit.issued_on is None:
        yield PERMIT_PENDING()
    elif not permit.issued_by(on):
        yield PERMIT_LATER(issued=permit.issued_on, on=on)
    elif permit.last_day and permit.expired_by(on):
        yield PERMIT_EXPIRED(day=permit.last_day)


def breaches(order: OrderFacts) -> list[Text]:
    """Each thing that was done before what must come first."""
    return [
        *_before_permit(order),
        *_after_permit(order),
        *_before_cover(order),
        *_before_finish(order),
    ]


def _before_permit(order: OrderFacts) -> Iterator[Text]:
    if order.roughed_in_on is None:
        return
    if order.issued_on is None:
        yield UNPERMITTED(day=order.roughed_in_on)
    elif order.roughed_in_on < order.issued_on:
        yield EARLY(day=order.roughed_in_on, issued=order.issued_on)


def _after_permit(order: OrderFacts) -> Iterator[Text]:
    ended = order.permit_ended_on
    if ended is None:
        return
    for milestone, day in order.milestones:
        if milestone in OF_PERMIT and day > ended:
            yield EXPIRED[milestone](day=day, ended=ended)


def _before_cover(order: OrderFacts) -> Iterator[Text]:
    if order.never_released and order.milestones:
        areas = Listed(tuple(order.never_released))
        first, day = order.milestones[0]
        yield NEVER_RELEASED(areas=areas, milestone=milestone_name(first), day=day)


def _before_finish(order: OrderFacts) -> Iterator[Text]:
    for name, day in order.finished_unreleased:
        yield FINISHED_EARLY(area=name, day=day)
    final = dict(order.milestones).get(Milestone.FINAL)
    if final and order.finish_open:
        yield FINAL_EARLY(day=final, n=order.finish_open)
