"""The two lines and the neutral of a service, in amperes, and the lighting circuits."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import zip_longest

from inspections.checker.house.service import FloorArea
from inspections.checker.rulebook import Rulebook


@dataclass(frozen=True, slots=True)
class OnLeg:
    """A single-pole load in amperes, and whether a motor is what it feeds."""

    name: str
    amps: float
    motor: bool = False


@dataclass(frozen=True, slots=True)
class Lines:
    """Amperes on each line and in the neutral."""

    a: float
    neutral: float
    b: float


def lines(
    base_a: float,
    neutral_a: float,
    both_a: Sequence[float],
    on_a: Sequence[OnLeg],
    on_b: Sequence[OnLeg],
    motor_pct: float,
) -> Lines:
    """Each line with its single-pole loads and a part of its largest motor.

    `base_a` and `neutral_a` are what the calculation gives at line-to-line volts; `both_a` are
    further loads between the lines. Of two single-pole loads that face one another the neutral
    carries the larger.
    """
    shared = base_a + sum(both_a)
    amps_a = [load.amps for load in on_a]
    amps_b = [load.amps for load in on_b]
    facing = zip_longest(sorted(amps_a, reverse=True), sorted(amps_b, reverse=True), fillvalue=0.0)
    return Lines(
        shared + sum(amps_a) + _motor(on_a, motor_pct),
        neutral_a + sum(map(max, facing)) + _motor([*on_a, *on_b], motor_pct),
        shared + sum(amps_b) + _motor(on_b, motor_pct),
    )


def _motor(loads: Sequence[OnLeg], pct: float) -> float:
    return max((load.amps for load in loads if load.motor), default=0.0) * pct / 100


def lighting_circuits(area: FloorArea, breaker_a: float, volts: float, book: Rulebook) -> int:
    """The fewest circuits of that breaker that carry the general lighting load (NEC 210.11)."""
    load_va: float = area.ft2 * book.value("standard-load.lighting_va_per_ft2")
    return math.ceil(round(load_va / (breaker_a * volts), 9))
