"""Ampacity of cables that run bundled, and the largest breaker that it lets be.

Pure arithmetic on the tables of one code: the factor for so many current-carrying conductors
together, the ampacity at 90 °C that it lowers, and the column that terminations hold it to.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple

from inspections.checker.house.cables import Cable


class Count(NamedTuple):
    """Current-carrying conductors: at least, and at most while somebody did not say."""

    least: int
    most: int


@dataclass(frozen=True, slots=True)
class Derated:
    """The steps from a size and a count to the largest breaker."""

    together: int
    percent: float
    at_90_a: float
    at_60_a: float
    ampacity_a: float
    breaker_a: float


def carrying(cables: Iterable[Cable]) -> Count:
    """The current-carrying conductors of cables together.

    Of two conductors both carry; of more, one may be a neutral that carries only the difference,
    or a traveller that is idle. So without a record two is the least, and all is the most.
    """
    least = most = 0
    for cable in cables:
        said = cable.current_carrying
        if said is None:
            least += min(cable.insulated, 2)
            most += cable.insulated
        else:
            least += said
            most += said
    return Count(least, most)


class Derating:
    """The tables of one code."""

    def __init__(self, values: Mapping[str, Any]) -> None:
        self.percents: list[tuple[int, float]] = []
        for first, percent in values["percent_from"].items():
            self.percents.append((int(first), percent))
        self.percents.sort()
        self.at_90: Mapping[str, float] = values["ampacity_90"]
        self.at_60: Mapping[str, float] = values["ampacity_60"]
        self.sizes = sorted(values["breaker_sizes"].values())

    def percent(self, count: int) -> float:
        """What is left of the ampacity for so many conductors together."""
        for first, value in reversed(self.percents):
            if count >= first:
                return value
        return 100.0

    def of(self, awg: str, count: int, *, next_up: bool) -> Derated:
        """The ampacity of a size among so many, and the largest breaker for it.

        `next_up` lets the breaker be the next standard size above the ampacity.
        """
        percent = self.percent(count)
        ampacity = min(self.at_90[awg] * percent / 100, self.at_60[awg])
        breaker = ampacity
        if next_up:
            for size in self.sizes:
                if size >= ampacity:
                    breaker = size
                    break
        return Derated(
            count, percent, self.at_90[awg], self.at_60[awg], round(ampacity, 6), breaker
        )
