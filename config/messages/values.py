"""Values that a message carries: exact quantities, lists, and what somebody typed.

A quantity keeps its exact value and unit; the reader's unit and the digits come with the reader.
A bare `str` is verbatim in every language: an id, a size, or what a person typed. Whatever can be
translated is a `Text`. Pure.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from enum import StrEnum
from typing import Union


class Rounding(StrEnum):
    """Which way a measure is rounded to what a tape shows, so that it agrees with its verdict."""

    NEAREST = "nearest"
    DOWN = "down"
    UP = "up"


@dataclass(frozen=True, slots=True)
class Length:
    """A length in mm."""

    mm: float
    rounding: Rounding = Rounding.NEAREST


@dataclass(frozen=True, slots=True)
class Volume:
    """A volume in mL."""

    ml: float
    rounding: Rounding = Rounding.NEAREST


@dataclass(frozen=True, slots=True)
class Weight:
    """A weight in kg."""

    kg: float
    rounding: Rounding = Rounding.NEAREST


@dataclass(frozen=True, slots=True)
class FloorSize:
    """An area in m²."""

    m2: float
    rounding: Rounding = Rounding.NEAREST


@dataclass(frozen=True, slots=True)
class Amperes:
    """A current in A."""

    a: float


@dataclass(frozen=True, slots=True)
class VoltAmperes:
    """An apparent power in VA."""

    va: float


@dataclass(frozen=True, slots=True)
class Ohms:
    """A resistance in Ω."""

    ohm: float
    rounding: Rounding = Rounding.NEAREST


@dataclass(frozen=True, slots=True)
class Percent:
    """A part of a hundred."""

    percent: float
    rounding: Rounding = Rounding.NEAREST


@dataclass(frozen=True, slots=True)
class Ratio:
    """How many times something, or another figure without a unit."""

    times: float
    rounding: Rounding = Rounding.NEAREST


@dataclass(frozen=True, slots=True)
class Listed:
    """Values as a list in a sentence: a, b and c; with `by` "or" the last word is that."""

    of: tuple["Value", ...]
    by: str = "and"


@dataclass(frozen=True, slots=True)
class Joined:
    """Sentences one after another, or parts with something between them."""

    of: tuple["Value", ...]
    between: str = " "


@dataclass(frozen=True, slots=True)
class Text:
    """A message by its id, with what fills its holes.

    `code_units` says it in the units that the code prints, whoever reads: "imperial" or "metric".
    """

    id: str
    given: Mapping[str, "Value"] = field(default_factory=dict)
    code_units: str = ""

    def __hash__(self) -> int:
        return hash((self.id, frozenset(self.given.items()), self.code_units))


Value = Union[  # noqa: UP007 - it holds itself, which `|` cannot say of a name in quotes
    str,
    int,
    float,
    Length,
    Volume,
    Weight,
    FloorSize,
    Amperes,
    VoltAmperes,
    Ohms,
    Percent,
    Ratio,
    Listed,
    Joined,
    Text,
    date,
    datetime,
]
"""Whatever fills a hole of a message."""

MESSAGES = (
    Text,
    Listed,
    Joined,
    Length,
    Volume,
    Weight,
    FloorSize,
    Amperes,
    VoltAmperes,
    Ohms,
    Percent,
    Ratio,
)
"""What is said by whoever reads; a bare string or number says itself."""
