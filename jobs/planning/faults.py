"""What cannot be planned at all, said in words before anything is searched."""

from collections import Counter
from collections.abc import Iterator

from .order import circle
from .problem import Problem, Task, drive_share


class ProblemFaults(Exception):
    """The problem has faults; each says what is wrong, with whom, and what would mend it."""

    def __init__(self, faults: tuple[str, ...]) -> None:
        super().__init__(" ".join(faults))
        self.faults = faults


def refuse_faults(problem: Problem) -> None:
    """Raise ProblemFaults with every fault at once."""
    found = (*_shape(problem),) or (*_calendar(problem),) or (*_circle(problem), *_work(problem))
    if found:
        raise ProblemFaults(tuple(found))


def _shape(problem: Problem) -> Iterator[str]:
    if problem.parts < 1 or problem.minutes < 1:
        yield "A working day must have at least one part, and a part at least one minute."
    names = []
    for each in problem.activities:
        names.append(each.id)
    for name, count in Counter(names).items():
        if count > 1:
            yield f"Two tasks have the id {name!r}; give each its own."
    known = set(names)
    for each in problem.activities:
        for before in each.after:
            if before not in known:
                yield f"{each.name} waits for {before!r}, which is not in the plan."
    for promise in problem.promises:
        for need in promise.needs:
            if need not in known:
                yield f"The promise {promise.name} needs {need!r}, which is not in the plan."
        if promise.weight < 0:
            yield f"The promise {promise.name} has a weight below nothing."
    for crew in problem.crews:
        lists = [crew.hands, *crew.skilled.values()]
        if any(len(each) != problem.size for each in lists):
            yield f"{crew.name} must say for each of {problem.size} slots who is there."
    for each in problem.tasks:
        for thing, much in each.uses.items():
            if much > problem.shared.get(thing, 0):
                there = problem.shared.get(thing, 0)
                yield f"{each.name} needs {much} of {thing}, and there are {there}."


def _calendar(problem: Problem) -> Iterator[str]:
    crew_work = []
    for task in problem.tasks:
        if task.minutes:
            crew_work.append(task)
    if problem.activities and problem.size < 1:
        yield "The calendar has no working day; name at least one weekday that is worked."
    elif crew_work and not problem.crews:
        yield "There is no crew; name at least one with its people."
    elif crew_work and not any(any(crew.hands) for crew in problem.crews):
        crews = []
        for crew in problem.crews:
            crews.append(crew.name)
        names = ", ".join(crews)
        yield f"No crew has a working day in these weeks ({names}); look at people and absences."


def _circle(problem: Problem) -> Iterator[str]:
    names = {}
    for each in problem.activities:
        names[each.id] = each.name
    if found := circle(problem.activities):
        yield f"These wait for one another in a circle: {', then '.join(names[i] for i in found)}."


def _work(problem: Problem) -> Iterator[str]:
    week = 5 * problem.parts
    lacking: dict[str, list[str]] = {}
    for task in problem.tasks:
        if not task.minutes:
            continue
        crews = []
        for crew in problem.crews:
            if not task.only or crew.id in task.only:
                crews.append(crew)
        if not crews:
            yield f"{task.name} may only be done by {', '.join(sorted(task.only))}: no such crew."
        elif not any(crew.able(task.skill, s) for crew in crews for s in range(problem.size)):
            lacking.setdefault(task.skill, []).append(task.name)
        elif fault := _too_long(problem, task, week):
            yield fault
    for skill, tasks in lacking.items():
        crew_names = []
        for crew in problem.crews:
            crew_names.append(crew.name)
        names = ", ".join(crew_names)
        yield (
            f"No crew has a {skill or 'working'} person in these weeks ({names}), and these need "
            f"one: {', '.join(tasks[:5])}{' and more' if len(tasks) > 5 else ''}."
        )


def _too_long(problem: Problem, task: Task, week: int) -> str:
    """The most that any crew gets done in a week is less than the task."""
    best, who = 0, ""
    for crew in problem.crews:
        if task.only and crew.id not in task.only:
            continue
        useful = max(0, problem.minutes - drive_share(problem, crew, task.house))
        able = []
        for slot, n in enumerate(crew.hands):
            if crew.able(task.skill, slot):
                able.append(n)
        hands = max(able, default=0)
        if hands * useful * week > best:
            best, who = hands * useful * week, crew.name
    if task.minutes <= best:
        return ""
    if not best:
        return f"{task.name}: every crew would spend the day driving there."
    return (
        f"{task.name} takes {_hours(task.minutes)} person-hours, more than any crew does in a week "
        f"(the most is {_hours(best)}, {who}); part it into smaller tasks."
    )


def _hours(minutes: int) -> str:
    return f"{minutes / 60:.4g}"
