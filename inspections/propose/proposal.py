"""A proposal: parts to add and facts to record, what they are for, and what becomes of the house.

It never changes or removes what is there: a fact is only recorded where none was.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any, NamedTuple

from config.messages.message import Value
from config.messages.saying import said
from inspections.checker.house import House
from inspections.checker.house.boxes import Box
from inspections.checker.house.cables import Cable
from inspections.checker.house.parts import Part
from inspections.checker.house.power import Circuit
from inspections.checker.house.rooms import Room

from .proposal_messages import RECORDED


class ProposalKind(StrEnum):
    """What proposals are about, in the order in which they are made."""

    OUTDOORS = "outdoors"
    RECEPTACLES = "receptacles"
    LIGHTS = "lights"
    ALARMS = "alarms"
    CIRCUITS = "circuits"
    CABLES = "cables"
    BOXES = "boxes"


class Fact(NamedTuple):
    """A missing fact of a part: where the part is, the fact's name, its value.

    The path is names and ids by turns, such as `("boxes", "b1", "devices", 0)`.
    """

    path: tuple[str | int, ...]
    name: str
    value: Any


@dataclass(frozen=True, slots=True)
class Proposal:
    """What to add for one subject."""

    subject: str
    """What it is for, named as its finding names it."""
    boxes: tuple[Box, ...]
    says: Value
    proof: Value
    """Why nothing smaller would do."""
    kind: ProposalKind = ProposalKind.RECEPTACLES
    circuits: tuple[Circuit, ...] = ()
    cables: tuple[Cable, ...] = ()
    rooms: tuple[Room, ...] = ()
    facts: tuple[Fact, ...] = field(default=())

    @property
    def key(self) -> str:
        """Its identity while the house stays as it is."""
        return f"{self.kind}:{self.subject}"


@dataclass(frozen=True, slots=True)
class Unsolved:
    """What no proposal could be made for, and the fact or the change that is missing."""

    subject: str
    why: Value
    kind: ProposalKind = ProposalKind.RECEPTACLES


Found = Proposal | Unsolved


class NotMissing(ValueError):
    """A proposal would change a fact that was recorded; the text names it."""

    def __init__(self, fact: str) -> None:
        self.text = RECORDED(fact=fact)
        super().__init__(said(self.text))


def with_proposals(house: House, proposals: Iterable[Proposal]) -> House:
    """The house with some of its proposals, or with all.

    Raises NotMissing when a fact that one of them records is there already.
    """
    chosen = list(proposals)
    added = {}
    for name in ("rooms", "boxes", "circuits", "cables"):
        parts = list(getattr(house, name))
        for each in chosen:
            parts.extend(getattr(each, name))
        added[name] = tuple(parts)
    house = house.model_copy(update=added)
    for each in chosen:
        for fact in each.facts:
            house = _recorded(house, fact.path, fact)
    return house


def _recorded(part: Any, path: tuple[str | int, ...], fact: Fact) -> Any:
    """The part with the fact recorded somewhere below it."""
    if not path:
        if getattr(part, fact.name) not in (None, (), 0):
            raise NotMissing(".".join(map(str, (*fact.path, fact.name))))
        return part.model_copy(update={fact.name: fact.value})
    name, key, *rest = path
    parts: tuple[Part, ...] = getattr(part, str(name))
    if isinstance(key, int):
        index = key
    else:
        index = _index(parts, key)
    changed = _recorded(parts[index], tuple(rest), fact)
    return part.model_copy(update={str(name): (*parts[:index], changed, *parts[index + 1 :])})


def _index(parts: tuple[Any, ...], name: str) -> int:
    return next(index for index, part in enumerate(parts) if part.id == name)
