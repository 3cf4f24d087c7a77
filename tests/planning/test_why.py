"""Why a promise is late, and what one change would help: found by planning again without it."""

from dataclasses import replace

import pytest

from config.messages.message import message
from config.messages.saying import said
from jobs.planning.compare import plan_moves
from jobs.planning.effort import Effort
from jobs.planning.planner import best_plan
from jobs.planning.problem import (
    CrewSlots,
    Placement,
    PlannedInspection,
    Problem,
    Promise,
    Schedule,
    Task,
    ToldAssignment,
)
from jobs.planning.why import explain_lateness

EFFORT = Effort(work=2, seconds=60, workers=1)
SIZE = 20
LICENSED = {"licensed": (True,) * SIZE}
CREW = CrewSlots("b", "Crew B", (1,) * SIZE, LICENSED)
NOTICE_OF_TWO = message("test.notice-of-two", "The office requires two days.")()
NOTICE = tuple(min(SIZE, (ready + 1) // 2 * 2 + 4) for ready in range(SIZE + 1))


def day(slot: int) -> str:
    """Slots as days of a month that begins on the 2nd."""
    return f"the {2 + slot // 2}th"


def shop(crew: CrewSlots = CREW) -> Problem:
    """Crew B is on Lot 1 first, whose promise weighs more; Lot 2's drywall comes too soon."""
    one = Task("o", "rough-in", "h1", minutes=4 * 240, house_name="Lot 1")
    two = Task("t", "rough-in", "h2", minutes=3 * 240, house_name="Lot 2")
    inspection = PlannedInspection(
        "v",
        "rough-in inspection",
        "h2",
        ("t",),
        NOTICE,
        words=NOTICE_OF_TWO,
        house_name="Lot 2",
    )
    promises = (
        Promise("p1", "done", ("o",), 4, 9, "h1", "Lot 1"),
        Promise("p2", "drywall date", ("v",), 9, 1, "h2", "Lot 2"),
    )
    return Problem(SIZE, 2, 240, (crew,), (one, two), (inspection,), promises)


def test_the_chain_names_inspection_notice_crew_and_the_house_before() -> None:
    problem = shop()
    (why,) = explain_lateness(problem, best_plan(problem, EFFORT), day)
    assert (why.promise.id, why.days) == ("p2", 2)
    assert [said(step) for step in why.chain] == [
        "Lot 2: rough-in inspection: the earliest is the 8th. The office requires two days.",
        "Lot 2: rough-in starts the 4th and ends the 5th. Crew B is at Lot 1 until the 3th.",
    ]


def test_each_change_is_planned_again_and_the_best_comes_first() -> None:
    problem = shop()
    (why,) = explain_lateness(problem, best_plan(problem, EFFORT), day)
    found = {said(change.says): change.days for change in why.changes}
    assert why.best is not None
    assert why.best.days == min(found.values()) == 0
    assert found["Lot 1 left until later"] == 0
    assert found["Lot 2: rough-in inspection without the notice period"] == 0
    assert found["one more person in Crew B on the 4th"] == 1
    told = said(why.told)
    assert told.startswith("Lot 2: drywall date is 2 working days late. ")
    assert told.endswith(", it is on time.")


def test_what_is_said_to_help_does_help() -> None:
    problem = shop()
    hands = tuple(2 if slot in (4, 5) else 1 for slot in range(SIZE))
    more = replace(problem, crews=(replace(CREW, hands=hands),))
    (why,) = explain_lateness(more, best_plan(more, EFFORT), day)
    assert (why.promise.id, why.days) == ("p2", 1)
    assert said(why.told).startswith("Lot 2: drywall date is 1 working day late. ")


def test_a_promise_that_holds_needs_no_reason() -> None:
    easy = shop(replace(CREW, hands=(4,) * SIZE))
    assert explain_lateness(easy, best_plan(easy, EFFORT), day) == []


def test_what_does_not_fit_is_said() -> None:
    small = replace(shop(), promises=(Promise("p", "drywall date", ("v",), 2, 1, "h2"),))
    (why,) = explain_lateness(small, Schedule({}, ()), day)
    (step,) = why.chain
    assert said(step) == "Lot 2: rough-in inspection does not fit in these weeks."


@pytest.mark.parametrize(("cost", "moved"), [(0, ["t"]), (5, [])])
def test_a_told_task_moves_only_when_that_saves_more_than_it_costs(cost, moved) -> None:
    other = CrewSlots("c", "Crew C", (1,) * SIZE)
    told = ToldAssignment("b", 2)
    problem = shop()
    tasks = tuple(replace(t, told=told) if t.id == "t" else t for t in problem.tasks)
    problem = replace(problem, tasks=tasks, crews=(CREW, other), change_cost=cost)
    before = {"o": Placement(0, 4, "b"), "t": Placement(4, 8, "b"), "v": Placement(12, 13, "b")}
    after = dict(best_plan(problem, EFFORT).placed)
    moves = [move for move in plan_moves(problem, before, after) if move.activity != "v"]
    assert [move.activity for move in moves if move.activity == "t"] == moved


def test_a_difference_says_who_moves_where() -> None:
    problem = shop()
    before, after = {"t": Placement(4, 8, "b")}, {"t": Placement(6, 10, "c")}
    (move,) = plan_moves(problem, before, after)
    assert said(move.told(day, {"b": "Crew B", "c": "Crew C"})) == (
        "Lot 2: rough-in: Crew B, the 4th → Crew C, the 5th"
    )


def test_an_absence_moves_as_little_as_it_must() -> None:
    """Three crews, each on a house of its own; one falls ill and only its work moves."""
    crews = tuple(CrewSlots(f"c{n}", f"Crew {n}", (1,) * SIZE) for n in range(3))
    tasks = tuple(
        Task(
            f"t{n}-{k}", f"Lot {n}: part {k}", f"h{n}", minutes=480, told=ToldAssignment(f"c{n}", k)
        )
        for n in range(3)
        for k in range(3)
    )
    promises = tuple(Promise(f"p{t.id}", t.name, (t.id,), 6, 1, t.house) for t in tasks)
    told = Problem(SIZE, 2, 240, crews, tasks, (), promises, change_cost=1)
    ill = replace(crews[0], hands=(0,) * 2 + (1,) * (SIZE - 2))
    plan = best_plan(replace(told, crews=(ill, *crews[1:])), EFFORT)
    moved = {
        t.id
        for t in tasks
        if t.told != ToldAssignment(plan.placed[t.id].crew, plan.placed[t.id].start // 2)
    }
    assert moved <= {"t0-0"}
