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
    last = []
    for number, job in enumerate(jobs):
        if not job.successors:
            last.append(str(number))
    shared = {}
    for resource, much in enumerate(capacities):
        shared[str(resource)] = much
    longest = max(1, sum(job.duration for job in jobs))
    promises = (Promise("makespan", "makespan", tuple(last), 0),)
    problem = Problem(longest, 1, 60, tasks=_tasks(jobs), promises=promises, shared=shared)
    refuse_faults(problem)
    placed = {}
    size = 1
    for number, start in enumerate(schedule(_project(jobs, capacities))):
        end = start + jobs[number].duration
        placed[str(number)] = Placement(start, end)
        size = max(size, end)
    return replace(problem, size=size), placed


def _tasks(jobs: Sequence[Activity]) -> tuple[Task, ...]:
    """Each job as a task, which waits for the jobs that it follows."""
    after: list[list[str]] = [[] for _ in jobs]
    for number, job in enumerate(jobs):
        for later in job.successors:
            after[later].append(str(number))
    tasks = []
    for number, job in enumerate(jobs):
        uses = {}
        for resource, much in enumerate(job.demands):
            if much:
                uses[str(resource)] = much
        tasks.append(
            Task(
                str(number),
                f"job {number + 1}",
                slots=job.duration,
                after=tuple(after[number]),
                uses=uses,
            )
        )
    return tuple(tasks)


def _project(jobs: Sequence[Activity], capacities: Sequence[int]) -> Project:
    durations = []
    successors = []
    demands = []
    for job in jobs:
        durations.append(job.duration)
        successors.append(job.successors)
        demands.append(job.demands)
    return Project(durations, successors, demands, capacities)


def plan_instance(jobs: Sequence[Activity], capacities: Sequence[int], effort: Effort) -> Makespan:
    """Plan an instance. Raises ProblemFaults when it cannot be planned at all."""
    problem, known = instance_problem(jobs, capacities)
    plan = best_plan(problem, effort, known)
    level = plan.levels[0]
    starts = []
    for task in problem.tasks:
        starts.append(plan.placed[task.id].start)
    return Makespan(level.value, level.bound, tuple(starts))
