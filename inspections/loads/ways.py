"""A way to calculate a load: its lines, each with its working, and their sum."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from inspections.checker.rulebook import Limit


class WayRole(StrEnum):
    """Whether the code asks for a way, or offers it beside others."""

    REQUIRED = "required"
    CHOICE = "choice"


@dataclass(frozen=True, slots=True)
class LoadLine:
    """One line: its figure in volt-amperes, how it came about, and where the rule stands."""

    key: str
    label: str
    va: float
    working: str
    limits: tuple[Limit, ...] = ()
    counts: bool = True
    """Whether it is a part of the sum; a connected load before its demand is not."""
    left_out: bool = False
    """The smaller of two, which the larger-of rule leaves out."""
    why: str = ""
    """Why the larger of two was taken, or what was taken for a fact nobody recorded."""
    step: bool = False
    """A share that falls once there are so many: one load more can lower this line."""

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
    title: str
    section: str
    role: WayRole
    lines: tuple[LoadLine, ...]
    volts: float
    assumed: tuple[str, ...] = ()
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


def va(value: float) -> str:
    """Volt-amperes in words; a half is not rounded away."""
    if value % 1:
        text = f"{value:,.2f}".rstrip("0").rstrip(".")
    else:
        text = f"{value:,.0f}"
    return f"{text} VA"


def added(values: Iterable[float]) -> str:
    """A sum as it is written: 4,500 + 3,000."""
    terms = []
    for value in values:
        terms.append(va(value).removesuffix(" VA"))
    return " + ".join(terms) or "0"


def larger(lines: list[LoadLine], what: str) -> list[LoadLine]:
    """The lines with all but the largest left out, and why said on each."""
    if not lines:
        return []
    best = max(lines, key=lambda line: line.va)
    if len(lines) == 1:
        return lines
    told = " and ".join(f"{line.label} {va(line.va)}" for line in lines)
    marked: list[LoadLine] = []
    for line in lines:
        marked.append(_marked(line, line is best, f"{what}: the larger of {told}"))
    return marked


def _marked(line: LoadLine, taken: bool, why: str) -> LoadLine:
    return LoadLine(
        key=line.key,
        label=line.label,
        va=line.va,
        working=line.working,
        limits=line.limits,
        counts=taken,
        left_out=not taken,
        why=f"{why}; {'taken' if taken else 'left out'}",
        step=line.step,
    )
