"""Published project-scheduling instances (PSPLIB, single mode) as problems for the planner.

R. Kolisch and A. Sprecher, PSPLIB: a project scheduling problem library, European Journal of
Operational Research 96 (1996). Each job becomes a task that no crew does, each renewable
resource a shared thing, and the last job a promise for slot 0, whose lateness is the makespan.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from .effort import Effort
from .faults import refuse_faults
from .planner import best_plan
from .problem import Placement, Problem, Promise, Task
from .serial import Project, schedule


@dataclass(frozen=True, slots=True)
class Activity:
    """One job of an instance: how long it takes, what of each resource, and who waits for it."""

    duration: int
    demands: Sequence[int]
    successors: Sequence[int]


@dataclass(frozen=True, slots=True)
class Makespan:
    """How soon everything can end, and what no plan can beat."""

    value: int
    bound: int
    starts: tuple[int, ...]


def instance_problem(
    jobs: Sequence[Activity], capacities: Sequence[int]
) -> tuple[Problem, dict[str, Placement]]:
    """The problem of an instance with a plan to begin from, whose length the slots are."""
    after: list[list[str]] = []
    for _ in jobs:
        after.append([])
    for number, job in enumerate(jobs):
        for later in job.successors:
            after[later].append(str(number))
    made_tasks = []
    for number, job in enumerate(jobs):
        uses = {}
        for r, much in enumerate(job.demands):
            if much:
                uses[str(r)] = much
        made_tasks.append(
            Task(
                str(number),
                f"job {number + 1}",
                slots=job.duration,
                after=tuple(after[number]),
                uses=uses,
            )
        )
    tasks = tuple(made_tasks)
    shared = {}
    for r, much in enumerate(capacities):
        shared[str(r)] = much
    ends = []
    for task, job in zip(tasks, jobs, strict=True):
        if not job.successors:
            ends.append(task.id)
    longest = max(1, sum(job.duration for job in jobs))
    promises = (Promise("makespan", "makespan", tuple(ends), 0),)
    problem = Problem(longest, 1, 60, tasks=tasks, promises=promises, shared=shared)
    refuse_faults(problem)
    durations = []
    for job in jobs:
        durations.append(job.duration)
    successors = []
    for job in jobs:
        successors.append(job.successors)
    demands = []
    for job in jobs:
        demands.append(job.demands)
    project = Project(
        durations,
        successors,
        demands,
        capacities,
    )
    starts = schedule(project)
    placed = {}
    for n, start in enumerate(starts):
        placed[str(n)] = Placement(start, start + jobs[n].duration)
    spot_ends = []
    for spot in placed.values():
        spot_ends.append(spot.end)
    size = max(spot_ends, default=1)
    return replace(problem, size=max(1, size)), placed


def plan_instance(jobs: Sequence[Activity], capacities: Sequence[int], effort: Effort) -> Makespan:
    """Plan an instance. Raises ProblemFaults when it cannot be planned at all."""
    problem, known = instance_problem(jobs, capacities)
    plan = best_plan(problem, effort, known)
    level = plan.levels[0]
    starts = []
    for task in problem.tasks:
        starts.append(plan.placed[task.id].start)
    return Makespan(level.value, level.bound, tuple(starts))
