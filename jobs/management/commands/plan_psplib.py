"""Plan a published scheduling instance, and say how good the plan is proven to be."""

from argparse import ArgumentParser
from pathlib import Path
from time import monotonic
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from jobs.planning.effort import Effort
from jobs.planning.faults import ProblemFaults


class Command(BaseCommand):
    """Map single-mode instances (PSPLIB's .sm files) to the planner; print makespan and bound."""

    help = "Plan single-mode PSPLIB instances; print the makespan and the proven bound of each."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """The files, and how long to look at each."""
        parser.add_argument("files", nargs="+", type=Path, metavar="FILE")
        parser.add_argument("--seconds", type=float, default=20)
        parser.add_argument("--workers", type=int, default=2)

    def handle(self, *args: Any, **options: Any) -> None:
        from jobs.planning.psplib import plan_instance  # loads the solver

        effort = Effort(
            seconds=options["seconds"], workers=options["workers"], repeatable=False, work=1e9
        )
        for path in options["files"]:
            jobs, capacities = read_instance(path)
            began = monotonic()
            try:
                found = plan_instance(jobs, capacities, effort)
            except ProblemFaults as fault:
                raise CommandError(f"{path}: {fault}") from None
            self.stdout.write(
                f"{path.name}: makespan {found.value}, bound {found.bound}, "
                f"{monotonic() - began:.1f} s"
            )


def read_instance(path: Path) -> tuple[list[Any], list[int]]:
    """The jobs and capacities of a file. Raises CommandError that names what is wrong."""
    from psplib import parse

    from jobs.planning.psplib import Activity

    try:
        instance = parse(path, instance_format="psplib")
    except (OSError, ValueError, IndexError) as fault:
        raise CommandError(f"{path} cannot be read as a PSPLIB instance: {fault}") from None
    if not all(resource.renewable for resource in instance.resources):
        raise CommandError(f"{path} has a resource that is not renewable; only those are planned.")
    if any(len(activity.modes) != 1 for activity in instance.activities):
        raise CommandError(f"{path} has jobs with several modes; only one mode is planned.")
    jobs = []
    for each in instance.activities:
        jobs.append(Activity(each.modes[0].duration, each.modes[0].demands, each.successors))
    capacities = []
    for resource in instance.resources:
        capacities.append(resource.capacity)
    return jobs, capacities
