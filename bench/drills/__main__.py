"""The drills: `python -m bench.drills [--faults N] [--people N] [--seed N] [--results FILE]`.

The whole stack under load from many people; its parts are killed, emptied and poisoned, its discs
filled, its clock set and its wires cut at random moments; then everything is audited against what
each person was told. Exit 1 when a goal is missed.
"""

import argparse
import os
import random
import sys
import tempfile
import time
from collections import Counter
from datetime import timedelta
from pathlib import Path
from typing import Any

from . import faults
from .audit import AuditLine, audited, settled, swept
from .crowd import Book, SiteWorker
from .ground import DrillFolder
from .stack import Stack
from .stage import set_stage
from .told import write_results

QUICK, WHOLE = 26, 300
PAUSE = (0.1, 0.8)  # seconds between faults
FALSE_HOUR = 3700
"""Seconds that the clock is set on at the end, so that what was made in a false hour is due."""


def main() -> int:
    """Run them and print the table."""
    asked = argparse.ArgumentParser(prog="bench.drills", description=__doc__)
    asked.add_argument("--faults", type=int, default=QUICK)
    asked.add_argument("--people", type=int, default=10)
    asked.add_argument("--seed", type=int, default=20261127)
    asked.add_argument("--only", help="faults in whose name this expression is found")
    asked.add_argument("--away", type=float, help="seconds that the longest faults take")
    asked.add_argument("--bare", action="store_true", help="no discs, namespace or clock")
    asked.add_argument("--results", type=Path)
    given = asked.parse_args()
    faults.AWAY = given.away or (60.0 if given.faults >= WHOLE else faults.AWAY)
    with tempfile.TemporaryDirectory(prefix="drill-", ignore_cleanup_errors=True) as name:
        ground = DrillFolder(Path(name), bare=given.bare)
        try:
            stack = Stack(Path(name), ground)
            os.environ.update(stack.environment)
            try:
                return _drilled(stack, given)
            finally:
                stack.end()
        finally:
            ground.end()


def _drilled(stack: Stack, given: argparse.Namespace) -> int:
    stack.start("broker")
    areas, tokens = set_stage(given.people)
    stack.start_all()
    book = Book()
    crowd = []
    for number, token in enumerate(tokens):
        crowd.append(SiteWorker(stack.urls, token, areas, book, given.seed + number))
    for each in crowd:
        each.start()
    time.sleep(2)
    began = time.monotonic()
    done = _faults(stack, given)
    stack.wait_for_web()
    time.sleep(2)
    for each in crowd:
        each.stop.set()
    for each in crowd:
        each.join(60)
    took, sweep = settled(), swept(stack)
    stack.ground.step(FALSE_HOUR)
    late = 0.0
    if any("clock" in name for name in done):
        late = settled(timedelta(seconds=FALSE_HOUR))
    seconds = time.monotonic() - began
    lines = [
        *audited(stack, book, len(done)),
        AuditLine("seconds to settle at the end", took, 90),
        AuditLine("seconds until the sweep finds what nobody tells", sweep, 30),
        AuditLine("seconds to send what was made in a false hour", late, 90),
    ]
    return _told(given, lines, book, done, seconds, stack)


def _faults(stack: Stack, given: argparse.Namespace) -> list[str]:
    """Let them come at random moments; what came, in order."""
    chance, done = random.Random(given.seed), []
    for name, fault in faults.drawn(stack, given.faults, given.seed, given.only):
        time.sleep(chance.uniform(*PAUSE))
        fault(stack, chance)
        stack.revive()
        done.append(name)
    return done


def _told(
    given: argparse.Namespace,
    lines: list[AuditLine],
    book: Book,
    done: list[str],
    seconds: float,
    stack: Stack,
) -> int:
    kinds = dict(sorted(Counter(done).items()))
    print(f"{len(done)} faults in {seconds:.0f} s, load average {os.getloadavg()[0]:.1f}:")
    for name, count in kinds.items():
        print(f"  {name:<50} {count:>8}")
    for each in stack.ground.left_out:
        print(f"  LEFT OUT: {each}")
    wires = "a proxy that falls silent"
    if stack.ground.wires:
        wires = "a namespace's link"
    print(f"the wire is cut by {wires}; ended by themselves and started again: {dict(stack.died)}")
    kept = f"{len(book.kept):,} ticks, {len(book.released):,} cover releases"
    print(f"{kept} and {len(book.pictured):,} photographs acknowledged")
    print(f"answers: {dict(book.answers)}")
    for line in lines:
        mark = "MISSED"
        if line.holds:
            mark = "holds"
        print(f"  {line.what:<50} {abs(line.found):>8.4g}   goal {abs(line.most):g}   {mark}")
    for each in [*book.wrong[:5], *book.twice[:5]]:
        print(f"  wrong: {each}")
    log = stack.folder / "migrating.log"
    if log.exists() and log.stat().st_size:
        print(f"  migrations said: {log.read_text()[-600:]}")
    if given.results:
        about = {"faults": kinds, "left out": stack.ground.left_out, "wire": wires}
        about |= {"ended by themselves": dict(stack.died)}
        write_results(given.results, about | _figures(book, lines, seconds, given.seed))
    return int(not all(line.holds for line in lines))


def _figures(book: Book, lines: list[AuditLine], seconds: float, seed: int) -> dict[str, Any]:
    goals = {}
    for line in lines:
        goals[line.what] = [line.found, line.most]
    return {
        "seconds": round(seconds, 1),
        "ticks": len(book.kept),
        "cover releases": len(book.released),
        "photographs": len(book.pictured),
        "answers": dict(book.answers),
        "goals": goals,
        "seed": seed,
    }


if __name__ == "__main__":
    sys.exit(main())
