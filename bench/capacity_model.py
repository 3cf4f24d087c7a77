"""PURE: what so many open jobs need, from what each act costs and how often it comes.

Costs are milliseconds of one processor, by the part that spends them. Use is acts a day and open
job. Nothing here measures anything.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

PARTS = ("site", "worker", "database", "broker")
Costs = Mapping[str, Mapping[str, float]]
"""Milliseconds of a processor by act and part."""

BUSY_SHARE = 0.2
"""Part of a day's acts in its busiest hour: our estimate, no source."""
FULL = 0.6
"""How much of a processor may be in use in that hour, so that queues stay short."""
HOUR_MS, MINUTE_S = 3_600_000.0, 60.0


@dataclass(frozen=True, slots=True)
class ActRate:
    """How often an act comes a day and open job."""

    act: str
    a_day: float
    why: str


USE = (
    ActRate("the office's day", 0.15, "3 people look 10 times a day, over 200 open jobs"),
    ActRate("a job's page", 4.0, "office and lead, twice a day each"),
    ActRate("a cover page by its link", 2.0, "the builder looks twice a day"),
    ActRate("a walk's page and data", 1.5, "a crew opens it once or twice a day"),
    ActRate("a tick by the API, and its settling", 6.0, "120 items over 20 days of work"),
    ActRate("a photograph", 1.0, "20 of what will be concealed, over 20 days"),
    ActRate("a read by the API", 2.0, "a program asks twice a day"),
    ActRate("a settling by the clock", 1.0, "a permit, a notice or a promise has its moment"),
    ActRate("a check of 118 boxes", 0.2, "recorded or corrected 4 times in 20 days"),
    ActRate("a notice by mail", 3.0, "three people, one each a day"),
    ActRate("an inspection pack", 0.05, "one in 20 days"),
)
"""A day's use of one open job: every line our estimate, no source."""


def a_day(costs: Costs, use: tuple[ActRate, ...] = USE) -> dict[str, float]:
    """Milliseconds of a processor a day and open job, by part. KeyError: an act has no cost."""
    by_part: dict[str, float] = {}
    for part in PARTS:
        found = []
        for each in use:
            found.append(each.a_day * costs[each.act].get(part, 0.0))
        by_part[part] = math.fsum(found)
    return by_part


def processors(day_ms: float, jobs: int) -> float:
    """How many processors so many jobs keep as busy as may be, in their busiest hour."""
    return day_ms * jobs * BUSY_SHARE / HOUR_MS / FULL


def carried(day_ms: float, cores: float) -> int:
    """How many open jobs so many processors carry."""
    return int(cores * FULL * HOUR_MS / (day_ms * BUSY_SHARE))


def heaviest_first(costs: Costs, use: tuple[ActRate, ...] = USE) -> list[str]:
    """The parts, the one that asks most of the processor first."""
    spent = a_day(costs, use)
    return sorted(PARTS, key=lambda part: -spent[part])


def dearest(costs: Costs, use: tuple[ActRate, ...] = USE) -> tuple[str, float]:
    """The act on which most of the processor is spent, and its share of all."""
    spent = {}
    for each in use:
        spent[each.act] = each.a_day * math.fsum(costs[each.act].values())
    act = max(spent, key=spent.__getitem__)
    return act, spent[act] / math.fsum(spent.values())


def rate(jobs: int, use: ActRate) -> float:
    """How often an act comes a second in the busiest hour."""
    return use.a_day * jobs * BUSY_SHARE / 3600.0


def in_one_sweep(settle_ms: float, seconds: float = MINUTE_S) -> int:
    """Jobs whose moment may come at once, so that one worker has settled them by the next beat."""
    return int(seconds * 1000.0 / settle_ms)


def storage_gb(bytes_a_job: float, jobs: int) -> float:
    """Gigabytes (10^9) of so many jobs."""
    return bytes_a_job * jobs / 1e9
