"""Two sites, three workers and two beats against one of each: `python -m bench.drills.cluster`.

The same people do the same work for so many seconds at each; then everything is audited against
what they were told: nothing may be lost, and nothing done twice. Nobody is killed here, so that not
even one mail may go twice. Prints what was acknowledged a second and the ratio; on a machine whose
processors one of each keeps busy already, it says what more processes cost, not what they gain.
"""

import argparse
import json
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

from .audit import AuditLine, audited, settled, swept
from .crowd import Book, SiteWorker
from .ground import DrillFolder
from .stack import Stack
from .stage import set_stage
from .told import write_results

FORMS = {
    "one": {"webs": 1, "workers": 1, "beats": 1},
    "many": {"webs": 2, "workers": 3, "beats": 2},
}
LEAST = 0.6
"""The least ratio that may come of more processes on a machine that is full already."""


def main() -> int:
    """Run both, each in a process of its own, and print the table; 1 when a goal is missed."""
    asked = argparse.ArgumentParser(prog="bench.drills.cluster", description=__doc__)
    asked.add_argument("--seconds", type=float, default=30)
    asked.add_argument("--people", type=int, default=10)
    asked.add_argument("--jobs", type=int, default=12)
    asked.add_argument("--seed", type=int, default=20261127)
    asked.add_argument("--only", choices=list(FORMS), help="run one of them; figures as JSON")
    asked.add_argument("--results", type=Path)
    given = asked.parse_args()
    if given.only:
        print(json.dumps(_run(FORMS[given.only], given)))
        return 0
    runs = {}
    for name in FORMS:
        runs[name] = _apart(name, given)
    ratio = runs["many"]["acts a second"] / runs["one"]["acts a second"]
    held = []
    for name, run in runs.items():
        held.append(_told(name, run))
    print(
        f"two sites, three workers, two beats against one of each: {ratio:.2f} times the acts, on "
        f"{os.cpu_count()} cores that people, database and broker share (least {LEAST})"
    )
    if given.results:
        write_results(given.results, {"ratio": round(ratio, 3), **runs})
    return int(ratio < LEAST or not all(held))


def _apart(name: str, given: argparse.Namespace) -> dict[str, Any]:
    command = [sys.executable, "-W", "ignore", "-m", "bench.drills.cluster", "--only", name]
    for each in ("seconds", "people", "jobs", "seed"):
        command += [f"--{each}", str(getattr(given, each))]
    told = subprocess.run(command, check=True, stdout=subprocess.PIPE, text=True).stdout
    figures: dict[str, Any] = json.loads(told.splitlines()[-1])
    return figures


def _told(name: str, run: dict[str, Any]) -> bool:
    """Print one run; whether every goal of it holds."""
    print(
        f"{name}: {run['acts a second']:.1f} acts acknowledged a second, load average "
        f"{run['load average']:.1f}, answers {run['answers']}"
    )
    lines = []
    for what, (found, most) in run["goals"].items():
        lines.append(AuditLine(what, found, most))
    for line in lines:
        mark = "MISSED"
        if line.holds:
            mark = "holds"
        print(f"  {line.what:<50} {abs(line.found):>8.4g}   goal {abs(line.most):g}   {mark}")
    for each in run["wrong"]:
        print(f"  wrong: {each}")
    for line in lines:
        if not line.holds:
            return False
    return True


def _run(form: dict[str, int], given: argparse.Namespace) -> dict[str, Any]:
    """One form of the stack, in surroundings of its own."""
    with tempfile.TemporaryDirectory(prefix="drill-", ignore_cleanup_errors=True) as name:
        ground = DrillFolder(Path(name), bare=True)
        stack = Stack(Path(name), ground, **form)
        os.environ.update(stack.environment)
        try:
            return _worked(stack, given)
        finally:
            stack.end()
            ground.end()


def _worked(stack: Stack, given: argparse.Namespace) -> dict[str, Any]:
    stack.start("broker")
    areas, tokens = set_stage(given.people, given.jobs)
    stack.start_all()
    book = Book()
    crowd = []
    for number, token in enumerate(tokens):
        crowd.append(SiteWorker(stack.urls, token, areas, book, given.seed + number, rest=0))
    for each in crowd:
        each.start()
    time.sleep(3)  # until every process has met its first request
    before, began = book.acknowledged, time.monotonic()
    time.sleep(given.seconds)
    each_second = (book.acknowledged - before) / (time.monotonic() - began)
    load = os.getloadavg()[0]
    for each in crowd:
        each.stop.set()
    for each in crowd:
        each.join(60)
    took = settled()
    lines = [*audited(stack, book, 0), AuditLine("seconds to settle at the end", took, 90)]
    lines.append(AuditLine("seconds until the sweep finds what nobody tells", swept(stack), 30))
    goals = {}
    for line in lines:
        goals[line.what] = [line.found, line.most]
    return {
        "acts a second": round(each_second, 1),
        "load average": round(load, 1),
        "answers": dict(book.answers),
        "goals": goals,
        "wrong": [*book.wrong[:5], *book.twice[:5]],
    }


if __name__ == "__main__":
    sys.exit(main())
