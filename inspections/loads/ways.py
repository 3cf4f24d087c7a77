"""A way to calculate a load: its lines, each with its working, and their sum."""

from dataclasses import dataclass, replace
from enum import StrEnum

from config.messages.message import Listed, Message, Text, Value, VoltAmperes
from inspections.checker.rulebook import Limit

from .line_messages import LARGEST_COUNTS, LEFT_OUT, NAMED


class WayRole(StrEnum):
    """Whether the code asks for a way, or offers it beside others."""

    REQUIRED = "required"
    CHOICE = "choice"


@dataclass(frozen=True, slots=True)
class LoadLine:
    """One line: its figure in volt-amperes, how it came about, and where the rule stands."""

    key: str
    label: Value
    va: float
    working: Value
    limits: tuple[Limit, ...] = ()
    counts: bool = True
    """Whether it is a part of the sum; a connected load before its demand is not."""
    left_out: bool = False
    """The smaller of two, which the larger-of rule leaves out."""
    why: Value = ""
    """Why the larger of two was taken, or what was taken for a missing fact."""
    step: bool = False
    """A share that falls once there are so many: one load more can lower this line."""
    in_amperes: bool = False
    """Whether its figure is amperes."""

    @property
    def section(self) -> str:
        """Where its limits stand."""
        sections = []
        for limit in self.limits:
            sections.append(limit.section)
        return ", ".join(dict.fromkeys(sections))

    @property
    def edition(self) -> str:
        """The code and edition of its limits."""
        editions = []
        for limit in self.limits:
            editions.append(limit.edition)
        return ", ".join(dict.fromkeys(editions))

    @property
    def known(self) -> str:
        """How its least certain limit is known."""
        ways = set()
        for limit in self.limits:
            ways.add(limit.known)
        for way in ("memory", "practice"):
            if way in ways:
                return way
        return "read"


@dataclass(frozen=True)
class Way:
    """A whole calculation by one way that a code gives."""

    id: str
    title: Text
    section: str
    role: WayRole
    lines: tuple[LoadLine, ...]
    volts: float
    assumed: tuple[Text, ...] = ()
    per_leg_a: tuple[float, float] | None = None
    """Leg by leg, where the way works in amperes."""

    @property
    def total_va(self) -> float:
        """The sum of the lines that count."""
        return sum(line.va for line in self.lines if line.counts)

    @property
    def before_larger_va(self) -> float:
        """The sum before the larger-of rules left anything out."""
        return self.total_va + sum(line.va for line in self.lines if line.left_out)

    @property
    def amps(self) -> float:
        """The current of the more loaded leg."""
        if self.per_leg_a:
            return max(self.per_leg_a)
        return self.total_va / self.volts

    @property
    def steps(self) -> tuple[LoadLine, ...]:
        """The lines whose share fell because of a number of loads."""
        lines = []
        for line in self.lines:
            if line.step:
                lines.append(line)
        return tuple(lines)

    def figure(self, key: str) -> float:
        """The figure of a line. Raises KeyError with the keys there are."""
        for line in self.lines:
            if line.key == key:
                return line.va
        raise KeyError(f"{self.id} has no {key}; it has {', '.join(x.key for x in self.lines)}")


def larger(lines: list[LoadLine], why: Message) -> list[LoadLine]:
    """The lines with all but the largest left out, and why said on each."""
    if len(lines) < 2:
        return lines
    best = max(lines, key=lambda line: line.va)
    told = []
    for line in lines:
        told.append(NAMED(what=line.label, figure=VoltAmperes(line.va)))
    compared = Listed(tuple(told))
    marked: list[LoadLine] = []
    for line in lines:
        if line is best:
            marked.append(replace(line, why=LARGEST_COUNTS(why=why(), lines=compared)))
        else:
            said = LEFT_OUT(why=why(), lines=compared)
            marked.append(replace(line, counts=False, left_out=True, why=said))
    return marked
