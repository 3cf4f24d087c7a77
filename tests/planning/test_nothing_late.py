"""Plans of shops where nothing is late and tasks stand otherwise than people were told."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from jobs.planning import planner
from jobs.planning.effort import Effort
from jobs.planning.measure import CHANGED, LATE, measured
from jobs.planning.planner import best_plan
from jobs.planning.problem import Problem, ToldAssignment
from tests import lengths
from tests.planning.plan_checker import broken
from tests.planning.shops import shops

QUICK = Effort(work=0.15, seconds=20, workers=1)
NEVER = ToldAssignment("a crew that is no more", 0)


@st.composite
def unpromised(draw) -> Problem:
    """A shop that promised nothing, some of whose tasks have to move."""
    shop: Problem = draw(shops(most_houses=2))
    moved = draw(st.sets(st.sampled_from([each.id for each in shop.tasks]), min_size=1))
    tasks = [replace(each, told=NEVER) if each.id in moved else each for each in shop.tasks]
    return replace(shop, tasks=tuple(tasks), promises=(), change_cost=draw(st.integers(1, 3)))


def by_pieces(shop: Problem):
    before, planner.WHOLE = planner.WHOLE, 0
    try:
        return best_plan(shop, QUICK)
    finally:
        planner.WHOLE = before


@given(unpromised())
@lengths.examples(40, 400)
def test_a_plan_is_made_where_nothing_is_late_and_a_task_must_move(shop: Problem) -> None:
    plan = by_pieces(shop)
    assert broken(shop, plan) == []
    found = measured(shop, plan.placed)
    assert found[CHANGED] >= 1
    assert found[LATE] == shop.change_cost * found[CHANGED]
