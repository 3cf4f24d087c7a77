"""A plan that people were told stays, save for what an absence makes move."""

from dataclasses import replace

from hypothesis import given, settings

from bench.shop import bench_shop
from jobs.planning.effort import Effort
from jobs.planning.greedy import first_plan
from jobs.planning.lengths import Lengths
from jobs.planning.measure import CHANGED, LATE, measured
from jobs.planning.planner import best_plan
from jobs.planning.problem import Placement, Problem, Schedule, ToldAssignment
from tests.planning.plan_checker import broken
from tests.planning.shops import shops

QUICK = Effort(work=0.1, seconds=20, workers=1)


def told(problem: Problem, placed: dict[str, Placement]) -> Problem:
    """The problem once people were told that plan."""

    def known(name: str) -> ToldAssignment | None:
        spot = placed.get(name)
        if spot is None or not spot.crew:
            return None
        return ToldAssignment(spot.crew, spot.start // problem.parts, spot.start)

    return replace(
        problem,
        tasks=tuple(replace(task, told=known(task.id)) for task in problem.tasks),
        inspections=tuple(
            replace(inspection, told=known(inspection.id)) for inspection in problem.inspections
        ),
        change_cost=1,
    )


@given(shops())
@settings(max_examples=60)
def test_planning_again_costs_no_more_than_leaving_all_as_told(shop: Problem) -> None:
    shop = replace(
        shop,
        tasks=tuple(replace(task, told=None) for task in shop.tasks),
        inspections=tuple(replace(inspection, told=None) for inspection in shop.inspections),
    )
    before = best_plan(shop, QUICK)
    again = told(shop, dict(before.placed))
    plan = best_plan(again, QUICK)
    assert broken(again, plan) == []
    assert measured(again, plan.placed)[LATE] <= measured(shop, before.placed)[LATE]


def test_one_absence_in_a_large_shop_moves_little() -> None:
    shop = bench_shop(houses=12, crews=4, weeks=6)
    before = first_plan(shop, Lengths(shop))
    ill = told(shop, before)
    parts, crew = shop.parts, shop.crews[0]
    away = range(4 * parts, 7 * parts)
    hands = tuple(0 if slot in away else n for slot, n in enumerate(crew.hands))
    ill = replace(ill, crews=(replace(crew, hands=hands), *shop.crews[1:]))
    repaired = first_plan(ill, Lengths(ill))
    assert broken(ill, Schedule(repaired, ())) == [
        fault for fault in broken(ill, Schedule(repaired, ())) if "the plan says" in fault
    ]
    there = sum(1 for spot in before.values() if spot.crew == crew.id and spot.start >= away.start)
    assert 0 < measured(ill, repaired)[CHANGED] <= there
