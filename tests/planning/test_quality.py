"""Small plans are as good as the best of all plans; the same problem gives the same plan."""

from random import Random

import pytest

from jobs.planning import planner
from jobs.planning.effort import Effort
from jobs.planning.planner import best_plan
from jobs.planning.problem import (
    CrewSlots,
    PlannedInspection,
    Problem,
    Promise,
    Task,
    ToldAssignment,
)
from tests.planning.brute import best_costs
from tests.planning.plan_checker import costs

EFFORT = Effort(work=5, seconds=60, workers=1)


def small(seed: int) -> Problem:
    """A shop that every plan of can be gone through."""
    chance = Random(seed)
    size, parts = 6, 2
    crews = tuple(
        CrewSlots(
            f"c{number}",
            f"Crew {number}",
            tuple(chance.choice([0, 1, 1, 2]) for _ in range(size)),
            {"licensed": tuple(chance.random() < 0.7 for _ in range(size))},
            {"h0": chance.choice([0, 20]), "h1": chance.choice([0, 40])},
        )
        for number in range(2)
    )
    rough = Task("a", "rough-in", "h0", minutes=chance.randint(100, 500))
    panel = Task("b", "panel", "h1", minutes=chance.randint(60, 200), skill="licensed")
    told = ToldAssignment("c0", chance.randrange(3))
    correction = Task(
        "d", "correction", "h1", minutes=chance.randint(30, 300), told=told, earliest=1
    )
    notice = tuple(min(size, ready + 1) for ready in range(size + 1))
    booked = chance.choice([None, 2, 3])
    inspection = PlannedInspection(
        "v", "inspection", "h0", after=("a",), notice=notice, booked=booked
    )
    promises = (
        Promise("p", "drywall", ("v",), chance.randint(1, 5), 2),
        Promise("q", "panel", ("b", "d"), chance.randint(1, 4)),
    )
    cost = chance.choice([0, 1])
    return Problem(
        size,
        parts,
        240,
        crews,
        (rough, panel, correction),
        (inspection,),
        promises,
        change_cost=cost,
    )


@pytest.mark.parametrize("seed", range(25))
def test_a_small_plan_is_the_best_there_is(seed: int) -> None:
    shop = small(seed)
    plan = best_plan(shop, EFFORT)
    assert costs(shop, plan.placed) == best_costs(shop)
    assert all(level.value == level.bound for level in plan.levels)


@pytest.mark.parametrize("whole", [planner.WHOLE, 0])
def test_the_same_problem_gives_the_same_plan(whole: int, monkeypatch) -> None:
    monkeypatch.setattr(planner, "WHOLE", whole)
    effort = Effort(work=0.3, seconds=60, workers=2)
    assert len({str(best_plan(small(3), effort)) for _ in range(3)}) == 1
