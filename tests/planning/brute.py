"""Every plan of a tiny problem, one after another: the best of them is the best there is."""

from collections.abc import Iterator

from jobs.planning.problem import Activity, Placement, Problem, Schedule, Task
from tests.planning.plan_checker import broken, costs


def best_costs(problem: Problem) -> tuple[int, ...]:
    """The least that any plan without a broken rule costs."""
    return min(
        costs(problem, placed)
        for placed in _plans(problem, list(_order(problem)), {})
        if not [
            fault for fault in broken(problem, Schedule(placed, ())) if "the plan says" not in fault
        ]
    )


def _order(problem: Problem):
    left: list[Activity] = [*problem.tasks, *problem.inspections]
    done: set[str] = set()
    while left:
        each = next(each for each in left if set(each.after) <= done)
        left.remove(each)
        done.add(each.id)
        yield each


def _plans(problem, order, placed) -> Iterator[dict[str, Placement]]:
    if not order:
        yield dict(placed)
        return
    each, rest = order[0], order[1:]
    yield from _plans(problem, rest, placed)
    if any(before not in placed for before in each.after):
        return
    ready = max((placed[before].end for before in each.after), default=0)
    for spot in _spots(problem, each, ready):
        if any(_clash(spot, other) for other in placed.values()):
            continue
        placed[each.id] = spot
        yield from _plans(problem, rest, placed)
        del placed[each.id]


def _spots(problem, each, ready) -> Iterator[Placement]:
    crewed = not isinstance(each, Task) or each.minutes
    for start in range(ready, problem.size):
        for crew in [crew.id for crew in problem.crews] if crewed else [""]:
            for end in range(start + 1, problem.size + 1):
                spot = Placement(start, end, crew)
                faults = broken(problem, Schedule({each.id: spot}, ()))
                own = [f for f in faults if f.startswith(f"{each.id} ") or f.startswith("nobody")]
                if not [f for f in own if "is planned and" not in f]:
                    yield spot


def _clash(one: Placement, other: Placement) -> bool:
    same = bool(one.crew) and one.crew == other.crew
    return same and one.start < other.end and other.start < one.end
