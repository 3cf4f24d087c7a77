"""Where on the plan a finding is shown: at a place, along walls, or in its room as a whole."""

from dataclasses import dataclass
from enum import StrEnum

from .geometry import Point


class MarkKind(StrEnum):
    """How a finding is shown on the plan."""

    PLACE = "place"
    """A ring at each of its points."""
    STRETCH = "stretch"
    """A heavy line along stretches of wall or counter."""
    ROOM = "room"
    """In this room: nothing that is recorded says where, so nothing is ringed by guess."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A finding on the plan; points and ends of stretches in mm of the sheet."""

    key: str
    """Of the finding, and of its item."""
    room: str
    kind: MarkKind
    points: tuple[Point, ...] = ()
    stretches: tuple[tuple[Point, Point], ...] = ()
