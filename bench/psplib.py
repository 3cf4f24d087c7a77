"""The planner on scheduling instances against a plain model: `python -m bench.psplib [SECONDS]`.

Without files it takes instances of its own in PSPLIB's single-mode format; with files, those.
"""

import sys
from collections.abc import Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

from bench.__main__ import Row
from jobs.management.commands.plan_psplib import read_instance
from jobs.planning.effort import Effort
from jobs.planning.psplib import plan_instance
from tests.planning.instances import written
from tests.planning.plain import plain_makespan

SIZES = (30, 60, 90, 120)
SEEDS = range(3)
WORKERS = 2


def main() -> None:
    """One line an instance: makespan and bound of both, given the same seconds and workers."""
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 10.0
    with TemporaryDirectory() as folder:
        paths = [Path(name) for name in sys.argv[2:]] or [
            written(Path(folder), seed, size) for size in SIZES for seed in SEEDS
        ]
        worse = 0
        for path in paths:
            jobs, capacities = read_instance(path)
            effort = Effort(work=1e9, seconds=seconds, workers=WORKERS, repeatable=False)
            ours = plan_instance(jobs, capacities, effort)
            plain, bound = plain_makespan(jobs, capacities, seconds, WORKERS)
            worse += ours.value > plain
            print(
                f"{path.name}: ours {ours.value} (bound {ours.bound}), plain {plain} "
                f"(bound {bound}){' WORSE' if ours.value > plain else ''}",
                flush=True,
            )
        print(f"{worse} of {len(paths)} worse than the plain model")


def psplib_row(seconds: float, sizes: Sequence[int] = SIZES) -> Row:
    """The sum of the makespans of ours and of the plain model, given the same seconds."""
    ours = floor = 0
    with TemporaryDirectory() as folder:
        for size in sizes:
            jobs, capacities = read_instance(written(Path(folder), 0, size))
            effort = Effort(work=1e9, seconds=seconds, workers=WORKERS, repeatable=False)
            ours += plan_instance(jobs, capacities, effort).value
            floor += plain_makespan(jobs, capacities, seconds, WORKERS)[0]
    return (f"makespans of plans in {seconds:g} s: a plain model", ours, floor, 1)


if __name__ == "__main__":
    main()
