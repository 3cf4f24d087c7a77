"""What a plan costs, level by level, measured on the plan itself."""

from collections.abc import Mapping

from .problem import Activity, Placement, PlannedInspection, Problem, days_late, drive_share

LATE = "weighted days late"
LEFT = "left beyond these weeks"
MISSED = "inspections missed"
CHANGED = "changes against what was told"
DRIVEN = "minutes of driving"
LEVELS = (LATE, LEFT, MISSED, CHANGED, DRIVEN)
"""What is minimised, the most important first."""


def measured(problem: Problem, placed: Mapping[str, Placement]) -> dict[str, int]:
    """Each thing that is minimised, as it is in this plan."""
    changes = left = 0
    for each in problem.activities:
        changes += is_moved(problem, each, placed)
        left += each.id not in placed
    late = 0
    for promise in problem.promises:
        late += promise.weight * days_late(problem, promise, placed)
    return {
        LATE: late + problem.change_cost * changes,
        LEFT: left,
        MISSED: len(missed_inspections(problem, placed)),
        CHANGED: changes,
        DRIVEN: _driven(problem, placed),
    }


def _driven(problem: Problem, placed: Mapping[str, Placement]) -> int:
    """Minutes of driving in all."""
    crews = {crew.id: crew for crew in problem.crews}
    minutes = 0
    for each in problem.activities:
        spot = placed.get(each.id)
        if spot is not None and spot.crew:
            share = drive_share(problem, crews[spot.crew], each.house)
            minutes += (spot.end - spot.start) * share
    return minutes


def is_moved(problem: Problem, each: Activity, placed: Mapping[str, Placement]) -> bool:
    """Whether it is not with the crew and on the day that people were told."""
    if each.told is None:
        return False
    found = placed.get(each.id)
    return found is None or (found.crew, found.start // problem.parts) != (
        each.told.crew,
        each.told.day,
    )


def missed_inspections(problem: Problem, placed: Mapping[str, Placement]) -> list[str]:
    """Booked inspections that are not kept."""
    ids: list[str] = []
    for each in problem.inspections:
        if is_missed(each, placed):
            ids.append(each.id)
    return ids


def is_missed(each: Activity, placed: Mapping[str, Placement]) -> bool:
    """Whether it is a booked inspection that is not kept."""
    if not isinstance(each, PlannedInspection) or each.booked is None:
        return False
    return each.id not in placed or placed[each.id].start != each.booked


def cost(problem: Problem, placed: Mapping[str, Placement]) -> tuple[int, ...]:
    """Every level in order: the lower of two plans is the better one."""
    found = measured(problem, placed)
    levels = []
    for level in LEVELS:
        levels.append(found[level])
    return tuple(levels)


def must_fit(problem: Problem, placed: Mapping[str, Placement]) -> frozenset[str]:
    """What no better plan leaves out: a promise that waits for it would cost more by itself than
    all that this plan is late.
    """
    value = measured(problem, placed)[LATE]
    after = {}
    for each in problem.activities:
        after[each.id] = each.after
    found: set[str] = set()
    for promise in problem.promises:
        if promise.weight * days_late(problem, promise, {}) > value:
            open_ends = list(promise.needs)
            while open_ends:
                if (name := open_ends.pop()) not in found:
                    found.add(name)
                    open_ends += after[name]
    return frozenset(found)
