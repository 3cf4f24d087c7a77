"""Two sites, three workers and two beats against one of each: `python -m bench.drills.cluster`.

The same people do the same work for so many seconds at each; then everything is audited against
what they were told: nothing may be lost, and nothing done twice. Nobody is killed here, so that not
even one mail may go twice. Prints what was acknowledged a second and the ratio; on a machine whose
processors one of each keeps busy already, it says what more processes cost, not what they gain.
"""

import argparse
import os
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from .audit import Line, audited, settled, swept
from .crowd import Book, Worker
from .ground import Ground
from .stack import Stack
from .stage import begin

ONE = {"webs": 1, "workers": 1, "beats": 1}
MANY = {"webs": 2, "workers": 3, "beats": 2}
LEAST = 0.6
"""The least ratio that may come of more processes on a machine that is full already."""


@dataclass
class Run:
    """What came of one form of the stack."""

    each_second: float
    lines: list[Line]
    book: Book
    load: float


def main() -> int:
    """Run both and print the table; 1 when a goal is missed."""
    asked = argparse.ArgumentParser(prog="bench.drills.cluster", description=__doc__)
    asked.add_argument("--seconds", type=float, default=30)
    asked.add_argument("--people", type=int, default=10)
    asked.add_argument("--jobs", type=int, default=12)
    asked.add_argument("--seed", type=int, default=20261127)
    asked.add_argument("--only", choices=["one", "many"], help="for the process of one run")
    asked.add_argument("--results", type=Path)
    given = asked.parse_args()
    runs = {name: _run(form, given) for name, form in (("one", ONE), ("many", MANY))}
    ratio = runs["many"].each_second / runs["one"].each_second
    missed = ratio < LEAST
    for name, run in runs.items():
        told = f"{run.each_second:.1f} acts acknowledged a second"
        print(f"{name} of each: {told}, load average {run.load:.1f}, {dict(run.book.answers)}")
        for line in run.lines:
            if name == "many" or not line.holds:
                mark = "holds" if line.holds else "MISSED"
                found, most = abs(line.found), abs(line.most)
                print(f"  {line.what:<50} {found:>8.4g}   goal {most:g}   {mark}")
            missed |= not line.holds
        for each in [*run.book.wrong[:5], *run.book.twice[:5]]:
            print(f"  wrong: {each}")
    print(
        f"two sites, three workers, two beats: one of each = {ratio:.2f} on {os.cpu_count()} cores"
        f" that the people share (least {LEAST})"
    )
    if given.results:
        _keep(given.results, runs, ratio)
    return int(missed)


def _run(form: dict[str, int], given: argparse.Namespace) -> Run:
    """One form of the stack, in surroundings of its own."""
    with tempfile.TemporaryDirectory(prefix="drill-", ignore_cleanup_errors=True) as name:
        ground = Ground(Path(name), bare=True)
        stack = Stack(Path(name), ground, **form)
        os.environ.update(stack.environment)
        try:
            return _worked(stack, given)
        finally:
            stack.end()
            ground.end()


def _worked(stack: Stack, given: argparse.Namespace) -> Run:
    _point_django_at(stack)
    stack.start("broker")
    areas, tokens = begin(given.people, given.jobs)
    stack.start_all()
    book = Book()
    crowd = [
        Worker(stack.urls, token, areas, book, given.seed + number, pause=0)
        for number, token in enumerate(tokens)
    ]
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
    lines = [*audited(stack, book, 0), Line("seconds to settle at the end", took, 90)]
    lines += [Line("seconds until the sweep finds what nobody tells", swept(stack), 30)]
    return Run(each_second, lines, book, load)


def _point_django_at(stack: Stack) -> None:
    """Let this process, which may have worked with another stack before, work with this one."""
    import django
    from django.conf import settings

    if not settings.configured or not django.apps.apps.ready:
        django.setup()
        return
    import dj_database_url
    from django.core.files.storage import default_storage
    from django.db import connections

    from config.celery import app

    connections.close_all()
    fresh = dj_database_url.parse(stack.environment["DATABASE_URL"])
    connections["default"].settings_dict.update(HOST=fresh["HOST"], OPTIONS=fresh["OPTIONS"])
    broker = stack.environment["REDIS_URL"]
    app.pool.force_close_all()
    app.conf.broker_url = app.conf.broker_write_url = app.conf.broker_read_url = broker
    settings.MEDIA_ROOT = stack.var / "kept"
    default_storage.__dict__.clear()


def _keep(path: Path, runs: dict[str, Run], ratio: float) -> None:
    from .__main__ import keep

    figures: dict[str, Any] = {"ratio": round(ratio, 3)}
    for name, run in runs.items():
        figures[name] = {
            "acts a second": round(run.each_second, 1),
            "load average": round(run.load, 1),
            "answers": dict(run.book.answers),
            "goals": {line.what: [line.found, line.most] for line in run.lines},
        }
    keep(path, figures)


if __name__ == "__main__":
    sys.exit(main())
