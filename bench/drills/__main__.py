"""The drills: `python -m bench.drills [--faults N] [--people N] [--seed N] [--results FILE]`.

The whole stack under load from many people; its parts are killed, emptied and poisoned at random
moments; then everything is audited against what each person was told. Exit 1 when a goal is missed.
"""

import argparse
import json
import os
import platform
import random
import sys
import tempfile
import time
from pathlib import Path

from . import faults
from .audit import Line, audited, settled
from .crowd import Book, Worker
from .stack import Stack

QUICK, WHOLE = 24, 300
JOBS = 6
PAUSE = (0.2, 1.2)  # seconds between faults


def main() -> int:
    """Run them and print the table."""
    asked = argparse.ArgumentParser(prog="bench.drills", description=__doc__)
    asked.add_argument("--faults", type=int, default=QUICK)
    asked.add_argument("--people", type=int, default=10)
    asked.add_argument("--seed", type=int, default=20261127)
    asked.add_argument("--results", type=Path)
    given = asked.parse_args()
    if given.faults >= WHOLE:
        faults.AWAY = 60.0
    with tempfile.TemporaryDirectory(prefix="studbay-drill-", ignore_cleanup_errors=True) as name:
        stack = Stack(Path(name))
        os.environ.update(stack.environment)
        try:
            return _drilled(stack, given)
        finally:
            stack.end()


def _drilled(stack: Stack, given: argparse.Namespace) -> int:
    stack.start("broker")
    areas, tokens = _begin(given.people)
    stack.start_all()
    book = Book()
    crowd = [
        Worker(stack.url, token, areas, book, given.seed + number)
        for number, token in enumerate(tokens)
    ]
    for each in crowd:
        each.start()
    time.sleep(2)
    chance, done, began = random.Random(given.seed), [], time.monotonic()
    for name, fault in faults.drawn(given.faults, given.seed):
        time.sleep(chance.uniform(*PAUSE))
        fault(stack, chance)
        done.append(name)
    stack.wait_for_web()
    time.sleep(2)
    for each in crowd:
        each.stop.set()
    for each in crowd:
        each.join(60)
    took = settled()
    seconds = time.monotonic() - began
    lines = [*audited(stack, book, len(done)), Line("seconds to settle at the end", took, 60)]
    return _told(given, lines, book, done, seconds)


def _told(
    given: argparse.Namespace, lines: list[Line], book: Book, done: list[str], seconds: float
) -> int:
    kinds = {name: done.count(name) for name in sorted(set(done))}
    print(f"{len(done)} faults in {seconds:.0f} s: {kinds}")
    print(f"{len(book.kept):,} ticks and {len(book.cleared):,} clearances acknowledged")
    print(f"answers: {dict(book.answers)}")
    for line in lines:
        mark = "holds" if line.holds else "MISSED"
        print(f"  {line.what:<50} {abs(line.found):>8.4g}   goal {abs(line.most):g}   {mark}")
    for each in book.wrong[:5]:
        print(f"  wrong: {each}")
    if given.results:
        told = {
            "faults": kinds,
            "seconds": round(seconds, 1),
            "ticks": len(book.kept),
            "clearances": len(book.cleared),
            "answers": dict(book.answers),
            "goals": {line.what: [line.found, line.most] for line in lines},
            "machine": f"{platform.machine()}, {os.cpu_count()} cores",
            "python": platform.python_version(),
            "seed": given.seed,
        }
        given.results.parent.mkdir(parents=True, exist_ok=True)
        given.results.write_text(json.dumps(told, indent=1) + "\n")
    return int(not all(line.holds for line in lines))


def _begin(people: int) -> tuple[list[dict], list[str]]:
    """A shop with some houses that stand before the cover, and a token for each person."""
    import django
    from django.core.management import call_command

    django.setup()
    call_command("migrate", verbosity=0)
    from inspections.checker import Verdict
    from jobs.models import ApiToken
    from jobs.services import token_make
    from notifications.models import Channel
    from notifications.services import address_add
    from tests.inspections.tiny import HOUSES
    from tests.people import Shopful

    shop = Shopful("Drill")
    for number, person in enumerate((shop.office, shop.lead, shop.builder)):
        given = {"shop": shop.shop, "channel": Channel.EMAIL}
        address_add(shop.office, person=person, target=f"p{number}@example.org", **given)
    areas = []
    for number in range(JOBS):
        job = shop.roughed_in(HOUSES["clean"])
        for area in job.areas.all():
            shop.look_at(area)
            shop.accept(area, reference=f"R{number}")
            looks = area.items.filter(verdict=Verdict.LOOK, current=True, stage="rough-in")
            items = [{"id": str(i.id), "fingerprint": i.fingerprint} for i in looks]
            if items:
                areas.append({"id": str(area.id), "job": str(job.id), "items": items})
    scope = ApiToken.Scope.WRITE
    tokens = [token_make(shop.office, name=f"drill {n}", scope=scope)[1] for n in range(people)]
    return areas, tokens


if __name__ == "__main__":
    sys.exit(main())
