"""Draw every conclusion again from the facts, and print where the tables say otherwise."""

import json
import sys
from collections.abc import Iterator
from time import perf_counter
from typing import Any
from uuid import UUID

from django.core.management.base import BaseCommand, CommandParser

from audit.auditor import audit_jobs
from audit.crossings import crossings_of_shop
from audit.found import Found, Sort
from jobs.models import Job, Shop

MEANS = (
    "A difference is a fault in the tables. A state is a known condition and not a fault: "
    "a house checked by older rules, a job set aside, copies that wait to be drawn again, "
    "what was recorded before it was refused."
)


def count_of(count: int, noun: str) -> str:
    """A count and its noun: 1 job, 2 jobs."""
    if count == 1:
        return f"{count} {noun}"
    return f"{count} {noun}s"


class Command(BaseCommand):
    """Exit 0 when tables and facts agree, 1 when they do not, 2 when there is no such job."""

    help = f"Draw holds, stages and notices again from the facts alone; print each line. {MEANS}"

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("job", nargs="?", type=UUID, help="a job's id; without it, every job")
        parser.add_argument("--json", action="store_true", help="one JSON object per line")

    def handle(self, *args: str, **options: Any) -> None:
        wanted = options["job"]
        if wanted and not Job.objects.filter(id=wanted).exists():
            self.stderr.write("No job has that id. The address of its page has the id.")
            sys.exit(2)
        began, counts = perf_counter(), dict.fromkeys(Sort, 0)
        if wanted:
            jobs = [wanted]
        else:
            jobs = list(Job.objects.order_by("shop_id", "id").values_list("id", flat=True))
        said: set[Found] = set()
        for line in self._lines(jobs, shops=not wanted):
            if line in said:
                continue
            said.add(line)
            counts[line.sort] += 1
            self.stdout.write(json.dumps(line.values()) if options["json"] else line.line())
        seconds = perf_counter() - began
        if options["json"]:
            self._tell_as_json(len(jobs), seconds, counts)
        else:
            self._tell(len(jobs), seconds, counts)
        if counts[Sort.DIFFERENCE]:
            sys.exit(1)

    def _tell_as_json(self, jobs: int, seconds: float, counts: dict[Sort, int]) -> None:
        told: dict[str, float] = {"jobs": jobs, "seconds": round(seconds, 3)}
        for sort, count in counts.items():
            told[f"{sort}s"] = count
        self.stdout.write(json.dumps(told))

    def _tell(self, jobs: int, seconds: float, counts: dict[Sort, int]) -> None:
        words = ", ".join(count_of(count, sort) for sort, count in counts.items())
        if counts[Sort.STATE]:
            self.stdout.write(MEANS)
        self.stdout.write(f"{count_of(jobs, 'job')} in {seconds:.1f} s: {words}")

    def _lines(self, jobs: list[UUID], *, shops: bool) -> Iterator[Found]:
        if shops:
            for shop_id in Shop.objects.order_by("id").values_list("id", flat=True):
                yield from crossings_of_shop(shop_id)
        yield from audit_jobs(jobs)
