"""How good plans are and how long they take: `python -m bench.plan [SECONDS] [SEEDS]`.

The shop: 40 open houses, 12 crews, 8 weeks in half days. Times are of the clock, so leave the
machine alone meanwhile; the load of it is printed beside them.
"""

import os
import sys
from dataclasses import replace
from time import perf_counter

from bench.shop import bench_shop
from jobs.planning.compare import plan_moves
from jobs.planning.effort import Effort
from jobs.planning.greedy import first_plan
from jobs.planning.lengths import Lengths
from jobs.planning.measure import measured
from jobs.planning.planner import best_plan
from jobs.planning.problem import Problem, Schedule, ToldAssignment


def main() -> None:
    """One line a shop."""
    seconds = 60.0
    if len(sys.argv) > 1:
        seconds = float(sys.argv[1])
    seeds = [int(seed) for seed in sys.argv[2:]] or [1, 2, 3]
    for seed in seeds:
        problem = bench_shop(seed=seed)
        began = perf_counter()
        first = first_plan(problem, Lengths(problem))
        first_took = perf_counter() - began
        began = perf_counter()
        plan = best_plan(problem, Effort(work=1e9, seconds=seconds))
        late = plan.levels[0]
        print(
            f"shop {seed}: {len(problem.activities)} tasks and visits, load {_load(problem):.0%}\n"
            f"  first plan {first_took:.2f} s, {measured(problem, first)[late.name]} days late\n"
            f"  {perf_counter() - began:.1f} s: {late.value} weighted days late, bound "
            f"{late.bound}, gap {late.gap:.1%}; {plan.levels[-1].value} min of driving"
        )
        _repair(problem, plan)
        print(f"  machine load {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores", flush=True)


def _load(problem: Problem) -> float:
    """How much of what the crews can do is asked for."""
    there = sum(sum(crew.hands) for crew in problem.crews) * problem.minutes
    return sum(task.minutes for task in problem.tasks) / there


def _repair(problem: Problem, plan: Schedule) -> None:
    """One person of one crew is away for three days; people were told the plan."""
    parts = problem.parts
    told = {}
    for name, spot in plan.placed.items():
        if spot.crew:
            told[name] = ToldAssignment(spot.crew, spot.start // parts, spot.start)
    crew = problem.crews[0]
    made = []
    for slot, n in enumerate(crew.hands):
        made.append(n - (4 * parts <= slot < 7 * parts))
    hands = tuple(made)
    tasks = []
    for task in problem.tasks:
        tasks.append(replace(task, told=told.get(task.id)))
    inspections = []
    for inspection in problem.inspections:
        inspections.append(replace(inspection, told=told.get(inspection.id)))
    ill = replace(
        problem,
        crews=(replace(crew, hands=hands), *problem.crews[1:]),
        tasks=tuple(tasks),
        inspections=tuple(inspections),
        change_cost=1,
    )
    began = perf_counter()
    repaired = best_plan(ill, Effort(work=1e9, seconds=4.5))
    took = perf_counter() - began
    moves = plan_moves(ill, dict(plan.placed), dict(repaired.placed))
    found = measured(ill, repaired.placed)
    print(
        f"  repair {took:.1f} s: {len(moves)} moves, "
        f"{found['changes against what was told']} to another crew or day, "
        f"days late and moves {found['weighted days late']}"
    )


if __name__ == "__main__":
    main()
