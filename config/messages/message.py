"""Messages and the values they carry: what the program says, as data.

A message is registered once under its id, with its English. The id is kept and compared; the
English may change on any day. Catalogues of gettext have the id as context and the English as the
phrase, so that a changed phrase is translated anew and falls back to English until then.

A quantity keeps its exact value and unit; the reader's unit and the digits come with the reader. A
bare `str` is verbatim in every language: an id, a size, or what a person typed. Whatever can be
translated is a `Text`. Pure.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time
from enum import StrEnum
from types import MappingProxyType
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
class CableRun:
    """A length of cable in m, which nobody cuts to the inch."""

    m: float


@dataclass(frozen=True, slots=True)
class Volume:
    """A volume in mL."""

    ml: float
    rounding: Rounding = Rounding.NEAREST


@dataclass(frozen=True, slots=True)
class Mass:
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
class WeekDay:
    """A day that is near: told with its weekday and without its year."""

    day: date


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
    CableRun,
    Volume,
    Mass,
    FloorSize,
    Amperes,
    VoltAmperes,
    Ohms,
    Percent,
    Ratio,
    Listed,
    Joined,
    Text,
    WeekDay,
    date,
    datetime,
    time,
]
"""Whatever fills a hole of a message."""

MESSAGES = (
    Text,
    Listed,
    Joined,
    Length,
    CableRun,
    Volume,
    Mass,
    FloorSize,
    Amperes,
    VoltAmperes,
    Ohms,
    Percent,
    Ratio,
    WeekDay,
)
"""What is said by whoever reads; a bare string or number says itself."""


HOLE = re.compile(r"\{(\w+)\}")
ID = re.compile(r"[a-z0-9]+([-.][a-z0-9]+)*")


@dataclass(frozen=True, slots=True)
class Message:
    """A sentence or a part of one, with holes by name.

    With `one`, the number that fills `count` chooses between `one` and `text`. A message that is
    `pointing` says where to find something: whoever reads inches finds it by the whole inch.
    """

    id: str
    text: str
    one: str = ""
    count: str = ""
    holes: frozenset[str] = frozenset()
    pointing: bool = False

    def __hash__(self) -> int:
        return hash(self.id)  # no two messages have the same

    def __call__(self, **given: Value) -> Text:
        """This message with what fills its holes. Raises TypeError for a hole too many or few."""
        if given.keys() != self.holes:
            raise TypeError(f"{self.id} takes {sorted(self.holes)}, not {sorted(given)}")
        return Text(self.id, given)


_MESSAGES: dict[str, Message] = {}


def message(
    id: str, text: str, *, one: str = "", count: str = "n", pointing: bool = False
) -> Message:
    """Register a message. Raises ValueError for an id that is taken or is none.

    A part of a sentence is a message too; its id says so by what it is about, never by its words.
    """
    if not ID.fullmatch(id):
        raise ValueError(f"{id!r} is no id of a message: small letters, digits, dots and dashes")
    if id in _MESSAGES:
        raise ValueError(f"two messages are called {id}")
    holes = set(HOLE.findall(text)) | set(HOLE.findall(one))
    if one:
        holes.add(count)
    made = Message(id, text, one, count if one else "", frozenset(holes), pointing)
    _MESSAGES[id] = made
    return made


def messages() -> Mapping[str, Message]:
    """Every registered message by id."""
    return MappingProxyType(_MESSAGES)
