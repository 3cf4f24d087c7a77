"""What a tape shows on site, and the limit it is held against. All in millimetres.

A rule declares what a person measures for its items: the quantity, which way it is held, and the
limit's name in the rulebook. The value comes from the finding, so that a limit which differs from
part to part is the one of that part. A measure is never among the facts of a finding.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any, Protocol

from config.messages.message import Joined, Length, Message, Rounding, Text, Value, message

from .rulebook import Limit


class HasFigures(Protocol):
    """What a measure reads of a finding: its facts, and the limits they were held against."""

    @property
    def facts(self) -> Any:
        """Every fact and figure."""

    @property
    def limits(self) -> tuple[Limit, ...]:
        """Every limit."""


MINIMUM = message("measure.minimum", "minimum {limit}")
MAXIMUM = message("measure.maximum", "maximum {limit}")
TOO_LITTLE = message("measure.too-little", "{what}: {measured} measured, minimum {limit}.")
TOO_MUCH = message("measure.too-much", "{what}: {measured} measured, maximum {limit}.")


class Comparator(StrEnum):
    """Which way a measure is held against its limit."""

    AT_LEAST = "at least"
    AT_MOST = "at most"


@dataclass(frozen=True, slots=True)
class Measure:
    """What is measured of one item, and between which limits an OK may stand."""

    what: str
    min_mm: float | None = None
    max_mm: float | None = None

    @property
    def name(self) -> Value:
        """What is measured, as it stands within a sentence."""
        if (known := _NAMES.get(self.what)) is not None:
            return known()
        return self.what

    @property
    def limit(self) -> Joined:
        """What it is held against, in the unit of whoever reads and on the safe side."""
        said: list[Value] = []
        if self.min_mm is not None:
            said.append(MINIMUM(limit=Length(self.min_mm, Rounding.UP)))
        if self.max_mm is not None:
            said.append(MAXIMUM(limit=Length(self.max_mm, Rounding.DOWN)))
        return Joined(tuple(said), ", ")

    def contradicted_by(self, mm: float | None) -> bool:
        """Whether so many mm cannot be OK; without a figure nothing is contradicted."""
        if mm is None:
            return False
        too_little = self.min_mm is not None and mm < self.min_mm
        too_much = self.max_mm is not None and mm > self.max_mm
        return too_little or too_much

    def fault(self, mm: float | None) -> Text | None:
        """The figure against its limit: None unless the figure contradicts an OK.

        Both in the unit of whoever reads. What was measured is rounded away from the limit, so
        that the figures never look equal.
        """
        if mm is None or not self.contradicted_by(mm):
            return None
        if self.min_mm is not None and mm < self.min_mm:
            least = Length(mm, Rounding.DOWN)
            return TOO_LITTLE(
                what=self.name, measured=least, limit=Length(self.min_mm, Rounding.UP)
            )
        most = Length(mm, Rounding.UP)
        limit = Length(self.max_mm or 0.0, Rounding.DOWN)
        return TOO_MUCH(what=self.name, measured=most, limit=limit)


def plain_figure(mm: float) -> str:
    """A figure without needless zeros, to the thousandth: 150, 31.75."""
    return f"{mm:.3f}".rstrip("0").rstrip(".")


_NAMES: dict[str, Message] = {}
"""Each quantity that a rule has measured, by its English, under which items keep it."""


@dataclass(frozen=True, slots=True)
class Tape:
    """A quantity that a rule's items are measured for, and the limit it is held against."""

    what: Message | str
    comparator: Comparator
    limit: str
    """Its name in the rulebook, without the rule's."""
    value: Callable[[HasFigures], float | None]
    """The limit in mm as a finding holds it; None where it holds none."""

    def __post_init__(self) -> None:
        if isinstance(self.what, Message):
            _NAMES[self.what.text] = self.what

    @property
    def name(self) -> str:
        """What is measured, in English."""
        if isinstance(self.what, Message):
            return self.what.text
        return self.what

    def of(self, finding: HasFigures) -> Measure | None:
        """The measure of that finding; None where this limit is no part of it."""
        limit = self.value(finding)
        if limit is None or isinstance(limit, bool):
            return None
        if self.comparator is Comparator.AT_MOST:
            return Measure(self.name, max_mm=float(limit))
        if limit <= 0:  # whatever is measured is enough
            return None
        return Measure(self.name, min_mm=float(limit))


def first_measure(tapes: Sequence[Tape], finding: HasFigures) -> Measure | None:
    """The first quantity of those that the finding holds a limit of.

    Where one quantity has limits that differ by the part, the rule names the loosest first: of a
    whole room only what contradicts every part is a contradiction.
    """
    for tape in tapes:
        if (found := tape.of(finding)) is not None:
            return found
    return None


def held_in(name: str) -> Callable[[HasFigures], float | None]:
    """The limit as a fact of the finding has it."""

    def value(finding: HasFigures) -> float | None:
        limit: float | None = getattr(finding.facts, name, None)
        return limit

    return value


def point_limit(name: str) -> Callable[[HasFigures], float | None]:
    """The limit of a point of that name, on one part or of the parts of a room."""

    def value(finding: HasFigures) -> float | None:
        facts = finding.facts
        for point in (*getattr(facts, "points", ()), *getattr(facts, "held_to", ())):
            if point.name == name:
                limit: float | None = point.limit
                return limit
        return None

    return value
