"""What cannot be planned is said in words, with the names involved, before anything is searched."""

from dataclasses import replace

import pytest

from jobs.planning.faults import ProblemFaults
from jobs.planning.planner import best_plan
from jobs.planning.problem import CrewSlots, Problem, Promise, Task

CREW = CrewSlots("a", "Crew A", (2,) * 20, {"licensed": (True,) * 20})
ROUGH = Task("r", "Lot 3: rough-in, Living", "h", minutes=600)
PANEL = Task("p", "Lot 3: panel", "h", minutes=300, skill="licensed", after=("r",))
SHOP = Problem(20, 2, 240, (CREW,), (ROUGH, PANEL), promises=(Promise("d", "drywall", ("p",), 6),))


def said(problem: Problem) -> str:
    with pytest.raises(ProblemFaults) as fault:
        best_plan(problem)
    return str(fault.value)


def test_the_shop_itself_can_be_planned() -> None:
    assert set(best_plan(SHOP).placed) == {"r", "p"}


def test_a_task_longer_than_any_crews_week() -> None:
    words = said(replace(SHOP, tasks=(replace(ROUGH, minutes=5000), PANEL)))
    assert words == (
        "Lot 3: rough-in, Living takes 83.3 person-hours. The most a crew does in a week is "
        "80 (Crew A). Split it into smaller tasks."
    )


def test_a_circle_of_predecessors() -> None:
    words = said(replace(SHOP, tasks=(replace(ROUGH, after=("p",)), PANEL)))
    assert "in a circle: " in words
    assert "Lot 3: panel → Lot 3: rough-in, Living" in words


def test_a_crew_without_a_licensed_person() -> None:
    words = said(replace(SHOP, crews=(replace(CREW, skilled={}),)))
    assert "No crew has a licensed person in these weeks (Crew A)" in words
    assert "Required for: Lot 3: panel." in words


def test_a_calendar_without_a_working_day() -> None:
    none = replace(CREW, hands=(), skilled={})
    assert "no working day" in said(replace(SHOP, size=0, crews=(none,)))


def test_crews_that_are_always_away() -> None:
    away = replace(CREW, hands=(0,) * 20)
    assert "No crew works in these weeks (Crew A)" in said(replace(SHOP, crews=(away,)))


def test_no_crew_at_all() -> None:
    assert "There is no crew" in said(replace(SHOP, crews=()))


def test_a_house_too_far_to_get_to() -> None:
    words = said(replace(SHOP, crews=(replace(CREW, drive={"h": 240}),)))
    assert "every crew would spend the whole day driving" in words


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"tasks": (ROUGH, replace(PANEL, after=("x",)))}, "waits for x, which is not"),
        ({"tasks": (ROUGH, PANEL, ROUGH)}, "Two tasks have the id r."),
        ({"tasks": (replace(ROUGH, uses={"lift": 2}), PANEL)}, "needs 2 of lift; there are 0."),
        (
            {"tasks": (replace(ROUGH, only=frozenset({"z"})), PANEL)},
            "only z may do it, and there is no such crew",
        ),
        ({"promises": (Promise("d", "drywall", ("y",), 6),)}, "needs y, which is not"),
        ({"crews": (replace(CREW, hands=(1,)),)}, "for each of 20 parts of days how many people"),
    ],
)
def test_what_does_not_fit_together(change, words) -> None:
    assert words in said(replace(SHOP, **change))
