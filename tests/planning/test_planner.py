"""Plans keep every rule, whatever the shop; the same shop gives the same plan."""

from dataclasses import replace

from hypothesis import given, settings

from jobs.planning import planner
from jobs.planning.effort import Effort
from jobs.planning.planner import best_plan
from jobs.planning.problem import Problem
from tests.planning.plan_checker import broken
from tests.planning.shops import shops

QUICK = Effort(work=0.2, seconds=20, workers=1)


@given(shops())
@settings(max_examples=350)
def test_no_plan_of_a_small_shop_breaks_a_rule(shop: Problem) -> None:
    assert broken(shop, best_plan(shop, QUICK)) == []


@given(shops())
@settings(max_examples=150)
def test_no_plan_made_piece_by_piece_breaks_a_rule(shop: Problem) -> None:
    before, planner.WHOLE = planner.WHOLE, 0
    try:
        plan = best_plan(shop, replace(QUICK, work=0.05))
    finally:
        planner.WHOLE = before
    assert broken(shop, plan) == []
