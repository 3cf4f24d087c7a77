"""Walk the record of a job and prove that it is unbroken."""

import sys
from uuid import UUID

from django.core.management.base import BaseCommand, CommandParser

from inspections.models import JobStanding
from inspections.record.chain import record_faults


class Command(BaseCommand):
    """Exit 0 when every record asked for is unbroken, 1 when one is not."""

    help = "Check the chain of a job's record, or of every job's."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("job", nargs="?", type=UUID, help="a job's id; without it, every job")

    def handle(self, *args: str, **options: UUID | None) -> None:
        standings = JobStanding.objects.select_related("job").order_by("job_id")
        if options["job"]:
            standings = standings.filter(job=options["job"])
        broken = False
        for standing in standings:
            faults = list(record_faults(standing.job_id))
            broken |= bool(faults)
            words = "; ".join(faults) or f"{standing.record_number} entries, unbroken"
            self.stdout.write(f"{standing.job} ({standing.job_id}): {words}")
        if not standings:
            self.stderr.write("No job of that id has a record. The address of its page has the id.")
        if broken or not standings:
            sys.exit(1)
