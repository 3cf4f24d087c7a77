"""Scheduling instances of our own, written in PSPLIB's single-mode format."""

from pathlib import Path
from random import Random


def instance(seed: int, jobs: int, resources: int = 4, tight: float = 0.4) -> str:
    """A random project: every job after some of the ten before it, four shared resources."""
    chance = Random(seed)
    durations = [0, *(chance.randint(1, 10) for _ in range(jobs)), 0]
    demands = [[0] * resources]
    demands += [
        [chance.randint(1, 10) if chance.random() < 0.6 else 0 for _ in range(resources)]
        for _ in range(jobs)
    ]
    demands.append([0] * resources)
    after: list[set[int]] = [set() for _ in range(jobs + 2)]
    for number in range(1, jobs + 1):
        for before in chance.sample(range(max(1, number - 10), number), min(number - 1, 2)):
            after[before].add(number)
    has_before = set().union(*after[1:])
    after[0] = {number for number in range(1, jobs + 1) if number not in has_before}
    for number in range(1, jobs + 1):
        after[number] = after[number] or {jobs + 1}
    capacity = [10 + int(tight * 20 * chance.random()) for _ in range(resources)]
    return _written(durations, demands, after, capacity)


def _written(durations, demands, after, capacity) -> str:
    count, names = len(durations), "  ".join(f"R {n + 1}" for n in range(len(capacity)))
    lines = ["*" * 72, "PRECEDENCE RELATIONS:", "jobnr.    #modes  #successors   successors"]
    for number in range(count):
        later = sorted(after[number])
        lines.append("  ".join(map(str, [number + 1, 1, len(later), *(n + 1 for n in later)])))
    lines += ["*" * 72, "REQUESTS/DURATIONS:", f"jobnr. mode duration  {names}", "-" * 72]
    for number in range(count):
        lines.append("  ".join(map(str, [number + 1, 1, durations[number], *demands[number]])))
    lines += ["*" * 72, "RESOURCEAVAILABILITIES:", names, "  ".join(map(str, capacity)), "*" * 72]
    return "\n".join(lines) + "\n"


def written(folder: Path, seed: int, jobs: int) -> Path:
    """Such an instance as a file."""
    path = folder / f"own{jobs}_{seed}.sm"
    path.write_text(instance(seed, jobs), "utf-8")
    return path
