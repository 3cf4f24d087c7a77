"""Fixes: the facts of a house whose change can settle a finding that is not to code or lacks info.

A rule says them of its own findings, beside its limits: which fact, what it is held to, and what
it can be instead. Nothing here changes a house.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from .paths import Path


class FixKind(StrEnum):
    """How the new value of a fact is given."""

    LENGTH = "length"
    VOLUME = "volume"
    WEIGHT = "weight"
    ANGLE = "angle"
    COUNT = "count"
    CHOICE = "choice"
    """One of what the fix offers."""
    DONE = "done"
    """By one button: the fix says the value."""
    ADDED = "added"
    """A part that is not there yet, at a place that is given."""
    MOVED = "moved"
    """The place of a part."""


FIGURES = {
    "_mm": FixKind.LENGTH,
    "_ml": FixKind.VOLUME,
    "_kg": FixKind.WEIGHT,
    "_deg": FixKind.ANGLE,
}
"""The kind of a figure, by how the name of its fact ends."""


@dataclass(frozen=True, slots=True)
class Fix:
    """One fact of a house that can be changed, and what it is held to."""

    path: Path
    kind: FixKind
    least: float | None = None
    most: float | None = None
    choices: tuple[Any, ...] = ()
    """Values that this house uses already and that comply, the nearest first."""
    to: Any = None
    """The value that one button records; of what is added or moved, the part or the place that
    would do, where the rule knows one."""
    taped: bool = False
    """Whether its figure is what the finding's tape measures."""
    now: Any = None
    """The value as it is recorded; None where none is."""


def fact_of(path: Path) -> str:
    """The name that ends with the unit of the fact at a path: its last, or that of its table."""
    if kind_of(str(path[0])) is not FixKind.COUNT:
        return str(path[0])
    names = [step for step in path if isinstance(step, str)]
    return names[-1]


def kind_of(fact: str) -> FixKind:
    """How a figure is given, by the unit that the name of its fact ends with."""
    for ending, kind in FIGURES.items():
        if fact.endswith(ending):
            return kind
    return FixKind.COUNT
