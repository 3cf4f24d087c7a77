"""A second opinion on a plan: every rule looked at again, from the plan alone.

It shares nothing with the planner but the values that go in and come out.
"""

from collections import Counter

from jobs.planning.problem import Activity, Problem, Schedule, Task


def broken(problem: Problem, plan: Schedule) -> list[str]:
    """Every rule that the plan breaks, in words."""
    return [
        *(_known(problem, plan)),
        *(_waiting(problem, plan)),
        *(_crews(problem, plan)),
        *(_tasks(problem, plan)),
        *(_inspections(problem, plan)),
        *(_shared(problem, plan)),
        *(_levels(problem, plan)),
    ]


def _known(problem, plan):
    ids = {each.id for each in problem.tasks} | {each.id for each in problem.inspections}
    for name, spot in plan.placed.items():
        if name not in ids:
            yield f"{name} is no part of the problem"
        if not 0 <= spot.start <= spot.end <= problem.size:
            yield f"{name} is outside the weeks"


def _waiting(problem, plan):
    for each in [*problem.tasks, *problem.inspections]:
        if each.id not in plan.placed:
            continue
        for before in each.after:
            if before not in plan.placed:
                yield f"{each.id} is planned and {before} before it is not"
            elif plan.placed[before].end > plan.placed[each.id].start:
                yield f"{each.id} begins before {before} has ended"


def _crews(problem, plan):
    at = Counter(
        (spot.crew, slot)
        for spot in plan.placed.values()
        if spot.crew
        for slot in range(spot.start, spot.end)
    )
    for (crew, slot), count in at.items():
        if count > 1:
            yield f"{crew} is in {count} places in slot {slot}"


def _done(problem, crew, task, slot):
    """Person-minutes done in a slot."""
    if task.skill and not (task.skill in crew.skilled and crew.skilled[task.skill][slot]):
        return 0
    driving = crew.drive.get(task.house, 0) * 2 // problem.parts
    return crew.hands[slot] * max(0, problem.minutes - driving)


def _tasks(problem, plan):
    crews = {crew.id: crew for crew in problem.crews}
    for task in problem.tasks:
        spot = plan.placed.get(task.id)
        if spot is None:
            continue
        if spot.start < task.earliest:
            yield f"{task.id} begins before it may"
        if not task.minutes:
            if spot.crew or spot.end - spot.start != task.slots:
                yield f"{task.id} is another trade's and lasts {task.slots} slots"
            continue
        if task.only and spot.crew not in task.only:
            yield f"{task.id} may not be done by {spot.crew}"
        done = [_done(problem, crews[spot.crew], task, s) for s in range(spot.start, spot.end)]
        if not done or done[0] == 0:
            yield f"{task.id} begins while its crew cannot work on it"
        elif sum(done) < task.minutes:
            yield f"{task.id} has ended before it is done"
        elif sum(done[:-1]) >= task.minutes:
            yield f"{task.id} goes on after it is done"


def _inspections(problem, plan):
    crews = {crew.id: crew for crew in problem.crews}
    for inspection in problem.inspections:
        spot = plan.placed.get(inspection.id)
        if spot is None:
            continue
        if spot.end != spot.start + 1:
            yield f"{inspection.id} does not last one slot"
        if spot.crew not in crews or not any(crews[spot.crew].hands[spot.start : spot.start + 1]):
            yield f"nobody is on site for {inspection.id}"
        if inspection.booked == spot.start:
            continue
        if inspection.booked is not None and spot.start < inspection.booked:
            yield f"{inspection.id} is before its booking"
        if inspection.windows is not None and spot.start not in inspection.windows:
            yield f"{inspection.id} is when the authority does not visit"
        ready = max((plan.placed[n].end for n in inspection.after if n in plan.placed), default=0)
        if inspection.notice and (
            ready >= len(inspection.notice) or spot.start < inspection.notice[ready]
        ):
            yield f"{inspection.id} is before its notice has passed"


def _shared(problem, plan):
    taken: Counter[tuple[str, int]] = Counter()
    for task in problem.tasks:
        if task.id in plan.placed:
            spot = plan.placed[task.id]
            for thing, much in task.uses.items():
                for slot in range(spot.start, spot.end):
                    taken[thing, slot] += much
    for (thing, slot), much in taken.items():
        if much > problem.shared[thing]:
            yield f"{much} of {thing} in slot {slot}, and there are {problem.shared[thing]}"


def costs(problem: Problem, placed) -> tuple[int, int, int, int, int]:
    """What is minimised, in order, counted again."""
    late = 0
    for promise in problem.promises:
        past = problem.size + problem.parts
        ends = [placed[need].end if need in placed else past for need in promise.needs]
        days = 0
        while max(ends, default=promise.by) > promise.by + days * problem.parts:
            days += 1
        late += promise.weight * days
    left = missed = changed = driving = 0
    activities: list[Activity] = [*problem.tasks, *problem.inspections]
    for each in activities:
        spot = placed.get(each.id)
        left += spot is None
        if not isinstance(each, Task) and each.booked is not None:
            missed += spot is None or spot.start != each.booked
        if each.told:
            same = spot and spot.crew == each.told.crew
            changed += not (same and spot.start // problem.parts == each.told.day)
        if spot and spot.crew:
            (crew,) = [crew for crew in problem.crews if crew.id == spot.crew]
            a_slot = crew.drive.get(each.house, 0) * 2 // problem.parts
            driving += a_slot * (spot.end - spot.start)
    return late + problem.change_cost * changed, left, missed, changed, driving


def _levels(problem, plan):
    names = (
        "weighted days late",
        "left beyond these weeks",
        "inspections missed",
        "changes against what was told",
        "minutes of driving",
    )
    counted = dict(zip(names, costs(problem, plan.placed), strict=True))
    said = {level.name: level.value for level in plan.levels}
    for name, value in counted.items():
        if said.get(name, 0) != value:
            yield f"{name}: the plan says {said.get(name, 0)}, counted {value}"
    for level in plan.levels:
        if level.bound > level.value:
            yield f"{level.name}: the bound {level.bound} is above the value {level.value}"
