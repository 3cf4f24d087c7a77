"""What newer rules say of houses that older ones checked; and to take it, job by job."""

from collections.abc import Sequence
from typing import Any
from uuid import UUID

from django.core.management.base import BaseCommand, CommandError, CommandParser

from config.languages import say
from inspections.checker.finding import rules
from inspections.services.rechecks import NewerSays, house_recheck, recheck_plan
from inspections.standing.shown_messages import verdict_shown
from jobs.models import Job, Person


class Command(BaseCommand):
    """Exit 0 in any case but a fault of what was asked."""

    help = "List by job what newer rules would change, or apply them to one job."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("job", nargs="?", type=UUID, help="a job's id; without it, every job")
        parser.add_argument("--plan", action="store_true", help="list, and change nothing")
        parser.add_argument(
            "--by", help="the user name of the person in the office who applies them"
        )

    def handle(self, *args: str, **options: Any) -> None:
        if options["plan"]:
            for job in _jobs(options["job"]):
                self._tell(job, recheck_plan(job))
            return
        if options["job"] is None or not options["by"]:
            raise CommandError(
                "Name one job, and with --by who applies the rules; or list every job with --plan."
            )
        actor = Person.objects.filter(username=options["by"]).first()
        if actor is None:
            raise CommandError(f"No person has the user name {options['by']}.")
        for job in _jobs(options["job"]):
            self._tell(job, house_recheck(actor, job=job))

    def _tell(self, job: Job, says: Sequence[NewerSays]) -> None:
        if not says:
            self.stdout.write(f"{job.name} ({job.id}): nothing changed")
            return
        self.stdout.write(f"{job.name} ({job.id}): items changed: {len(says)}")
        for each in says:
            rule, subject = each.key
            title = rules()[rule].title if rule in rules() else rule
            change = f"{_shown(each.was, 'new')} -> {_shown(each.now, 'gone')}"
            words = ""
            if each.finding is not None:
                words = f": {say(each.finding.words.says)}"
            self.stdout.write(f"  {title}, {subject}: {change}{words}")


def _shown(verdict: str | None, otherwise: str) -> str:
    """A verdict as people read it."""
    if verdict:
        return say(verdict_shown(verdict))
    return otherwise


def _jobs(job_id: Any) -> list[Job]:
    """The job of that id, or every job with a house. Raises CommandError for no such job."""
    jobs = Job.objects.filter(revisions__isnull=False).select_related("shop").distinct()
    if job_id is not None:
        jobs = jobs.filter(id=job_id)
        if not jobs:
            raise CommandError("No job of that id has a house. The address of its page has the id.")
    return list(jobs.order_by("shop__name", "name", "id"))
