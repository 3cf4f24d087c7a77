"""Random shops for the planner: crews with absences, houses with all that they need."""

from hypothesis import strategies as st

from jobs.planning.problem import (
    CrewSlots,
    PlannedInspection,
    Problem,
    Promise,
    Task,
    ToldAssignment,
)


@st.composite
def crews(draw, size: int, houses: list[str]) -> tuple[CrewSlots, ...]:
    """One to three crews, one of them licensed throughout."""
    found = []
    for number in range(draw(st.integers(1, 3))):
        most = draw(st.integers(1, 3))
        away = draw(st.sets(st.integers(0, size - 1), max_size=3))
        fewer = draw(st.sets(st.integers(0, size - 1), max_size=3))
        hands = tuple(
            0 if slot in away and number else most - (slot in fewer and most > 1)
            for slot in range(size)
        )
        unlicensed = draw(st.sets(st.integers(0, size - 1), max_size=4)) if number else set()
        licensed = tuple(slot not in unlicensed for slot in range(size))
        drive = {house: draw(st.sampled_from([0, 10, 25, 60])) for house in houses}
        found.append(
            CrewSlots(f"c{number}", f"Crew {number}", hands, {"licensed": licensed}, drive)
        )
    return tuple(found)


@st.composite
def notice(draw, size: int, parts: int) -> tuple[int, ...]:
    """So many working days from the day of asking."""
    days = draw(st.integers(0, 2))
    return tuple(
        max(ready, (ready // parts + days) * parts) if days else ready for ready in range(size + 1)
    )


@st.composite
def shops(draw, most_houses: int = 3) -> Problem:
    """A shop with a few houses: rough-in, panel, inspection, another trade, finish, promises."""
    parts = draw(st.sampled_from([1, 2, 4]))
    size = parts * draw(st.integers(4, 8))
    houses = [f"h{number}" for number in range(draw(st.integers(1, most_houses)))]
    team = draw(crews(size, houses))
    tasks, inspections, promises = [], [], []
    for house in houses:
        first = draw(st.integers(0, size // 2))
        slot = draw(st.integers(0, size - 1))
        slot_told = ToldAssignment("c0", slot // parts, slot)
        rough = [
            Task(
                f"{house}-rough-{area}",
                f"{house} rough-in {area}",
                house,
                minutes=draw(st.integers(1, 900)),
                earliest=first,
                uses={"lift": 1} if draw(st.booleans()) else {},
                told=draw(st.sampled_from([None, ToldAssignment("c0", first // parts), slot_told])),
            )
            for area in range(draw(st.integers(1, 2)))
        ]
        panel = Task(
            f"{house}-panel", f"{house} panel", house, minutes=200, skill="licensed", earliest=first
        )
        inspection = PlannedInspection(
            f"{house}-inspection",
            f"{house} rough-in visit",
            house,
            after=tuple(task.id for task in [*rough, panel]),
            notice=draw(notice(size, parts)),
            windows=draw(st.none() | st.just(frozenset(range(0, size, 2)))),
            booked=draw(st.none() | st.integers(0, size - 1)),
            told=draw(st.sampled_from([None, slot_told])),
        )
        cover = Task(
            f"{house}-cover", f"{house} drywall", house, slots=parts, after=(inspection.id,)
        )
        finish = Task(f"{house}-finish", f"{house} finish", house, minutes=150, after=(cover.id,))
        tasks += [*rough, panel, cover, finish]
        inspections.append(inspection)
        promises += [
            Promise(
                f"{house}-drywall", f"{house} drywall", (inspection.id,), draw(st.integers(0, size))
            ),
            Promise(f"{house}-end", f"{house} finish", (finish.id,), draw(st.integers(0, size)), 2),
        ]
    return Problem(
        size,
        parts,
        480 // parts,
        team,
        tuple(tasks),
        tuple(inspections),
        tuple(promises),
        shared={"lift": 1},
        change_cost=draw(st.sampled_from([0, 0, 2])),
    )
