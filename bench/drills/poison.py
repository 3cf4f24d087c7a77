"""Tasks that cannot be done, and one that takes its worker with it."""

import os
import random
import signal
from uuid import uuid4

from celery import shared_task


@shared_task(name="drills.deadly")
def deadly() -> None:
    """Kill the process that runs it, as one that eats all memory would be."""
    os.kill(os.getpid(), signal.SIGKILL)


def hopeless(chance: random.Random) -> tuple[str, list[object], str]:
    """A task by name, what it is given, and its queue: none that any worker can do."""
    tasks: list[tuple[str, list[object], str]] = [
        ("inspections.settle_job", ["no id at all"], "celery"),
        ("inspections.settle_job", [str(uuid4())], "celery"),
        ("inspections.settle_job", [1, 2, 3], "celery"),
        ("inspections.make_pack", [str(uuid4())], "celery"),
        ("inspections.make_plan", [{"a": "mapping"}], "celery"),
        ("inspections.nobody_knows_it", [], "celery"),
        ("notifications.deliver", ["no lane", "email"], "ordinary"),
        ("notifications.deliver", ["ordinary", "pigeon"], "urgent"),
    ]
    return chance.choice(tasks)
