"""Print a table: what, ours, the floor, their ratio, the goal. Medians, measured in turn."""

import sys
from collections.abc import Callable
from pathlib import Path
from statistics import median
from time import perf_counter, process_time

from bench.batch import check_batch
from bench.floor import bare
from inspections.checker.amendments import load_rulebook
from inspections.checker.check import check
from inspections.checker.finding import Finding
from inspections.checker.house import House
from inspections.checker.house.boxes import OnWall
from inspections.checker.load import load_house
from inspections.checker.revision_check import recheck

HOUSE = Path(__file__).parent.parent / "examples" / "quillet-corrected.json"
BOOK = "cec-2021"
ROUNDS = 60
HOUSES = 1000
BATCH_ROUNDS = 3
Row = tuple[str, float, float, float]
"""What, ours and the floor in ms, and the largest ratio that is good enough."""


def measured_in_turn(
    ours: Callable[[], object],
    floor: Callable[[], object],
    rounds: int,
    clock: Callable[[], float] = process_time,
) -> tuple[float, float]:
    """The median times in ms of both, measured one after the other so that both meet the same.

    The processor's clock by itself; work in several processes takes that of the wall.
    """
    times: tuple[list[float], list[float]] = ([], [])
    for _ in range(rounds):
        for measured, work in zip(times, (ours, floor), strict=True):
            start = clock()
            work()
            measured.append(1000 * (clock() - start))
    return median(times[0]), median(times[1])


def count(_: House, findings: list[Finding]) -> int:
    """How many findings: the least that can come back from another process."""
    return len(findings)


def moved(house: House) -> House:
    """The house with one receptacle of a living space moved along its wall."""
    room = next(room.id for room in house.rooms if room.kind == "living")
    box = next(b for b in house.boxes if b.room == room and b.place.surface == "wall")
    was = box.place
    assert isinstance(was, OnWall)
    assert was.at_mm is not None
    place = was.model_copy(update={"at_mm": was.at_mm + 10})
    other = box.model_copy(update={"place": place})
    found = []
    for each in house.boxes:
        found.append(other if each is box else each)
    boxes = tuple(found)
    return house.model_copy(update={"boxes": boxes})


def comparisons() -> list[Row]:
    """Each comparison."""
    raw, book = HOUSE.read_bytes(), load_rulebook(BOOK)
    house = load_house(raw)
    findings, after = check(house, book), moved(house)
    raws = [raw] * HOUSES

    def batch(processes: int) -> Callable[[], object]:
        def checked() -> int:
            told = check_batch(raws, BOOK, count, processes=processes)
            total = 0
            for each in told:
                if isinstance(each, int):
                    total += each
            return total

        return checked

    whole = measured_in_turn(lambda: check(house, book), lambda: bare(house), ROUNDS)
    part = measured_in_turn(
        lambda: recheck(house, findings, after, book), lambda: check(after, book), ROUNDS
    )
    many = measured_in_turn(batch(2), batch(1), BATCH_ROUNDS, perf_counter)
    return [
        (f"check {len(house.boxes)} boxes against a bare loop", *whole, 10),
        ("recheck after one box moved against a check", *part, 0.2),
        (f"{HOUSES:,} houses on 2 cores against 1", *many, 0.6),
    ]


def main() -> int:
    """Print the table; 1 when a ratio is over its goal."""
    found = comparisons()
    print(f"{'what':<48}{'ours ms':>12}{'floor ms':>12}{'ratio':>8}{'goal':>8}")
    for what, ours, floor, goal in found:
        print(f"{what:<48}{ours:>12,.2f}{floor:>12,.2f}{ours / floor:>8.2f}{goal:>8}")
    return int(any(ours / floor > goal for _, ours, floor, goal in found))


if __name__ == "__main__":
    sys.exit(main())
