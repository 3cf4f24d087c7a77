"""A proposal and what becomes of the house when it is accepted."""

from collections.abc import Iterable
from dataclasses import dataclass

from ..checker.house import House
from ..checker.house.boxes import Box


@dataclass(frozen=True, slots=True)
class Proposal:
    """Boxes to add for one subject. It never changes or removes what is there."""

    subject: str
    """What it is for, named as its finding names it."""
    boxes: tuple[Box, ...]
    says: str
    proof: str
    """Why nothing smaller would do."""


@dataclass(frozen=True, slots=True)
class Unsolved:
    """What no proposal could be made for, and the fact or the change that is missing."""

    subject: str
    why: str


def accepted(house: House, proposals: Iterable[Proposal]) -> House:
    """The house with the boxes of some of its proposals, or of all."""
    added = tuple(box for proposal in proposals for box in proposal.boxes)
    return house.model_copy(update={"boxes": house.boxes + added})
