"""What cannot be planned at all, said in words before anything is searched."""

from collections import Counter
from collections.abc import Iterator

from .order import circle
from .problem import CrewSlots, Problem, Task, drive_share


class ProblemFaults(Exception):
    """The problem has faults; each says what is wrong, with whom, and what would correct it."""

    def __init__(self, faults: tuple[str, ...]) -> None:
        super().__init__(" ".join(faults))
        self.faults = faults


def refuse_faults(problem: Problem) -> None:
    """Raise ProblemFaults with every fault at once."""
    faults = (*_shape(problem),) or (*_calendar(problem),) or (*_circle(problem), *_work(problem))
    if faults:
        raise ProblemFaults(tuple(faults))


def _shape(problem: Problem) -> Iterator[str]:
    if problem.parts < 1 or problem.minutes < 1:
        yield "A working day must have at least one part, and a part at least one minute."
    names = [each.id for each in problem.activities]
    for name, count in Counter(names).items():
        if count > 1:
            yield f"Two tasks have the id {name!r}; give each its own."
    yield from _unknown_names(problem, set(names))
    for crew in problem.crews:
        if not _says_every_slot(crew, problem.size):
            yield f"{crew.name} must say for each of {problem.size} slots who is there."
    yield from _overused(problem)


def _overused(problem: Problem) -> Iterator[str]:
    """Tasks that need more of a shared thing than there is."""
    for task in problem.tasks:
        for thing, much in task.uses.items():
            there = problem.shared.get(thing, 0)
            if much > there:
                yield f"{task.name} needs {much} of {thing}, and there are {there}."


def _unknown_names(problem: Problem, known: set[str]) -> Iterator[str]:
    """What is waited for or promised and is not in the plan, and promises that weigh less
    than nothing.
    """
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


def _says_every_slot(crew: CrewSlots, size: int) -> bool:
    """Whether its hands and each of its skills are told for each slot."""
    for each in (crew.hands, *crew.skilled.values()):
        if len(each) != size:
            return False
    return True


def _calendar(problem: Problem) -> Iterator[str]:
    crew_work = any(task.minutes for task in problem.tasks)
    if problem.activities and problem.size < 1:
        yield "The calendar has no working day; name at least one weekday that is worked."
    elif crew_work and not problem.crews:
        yield "There is no crew; name at least one with its people."
    elif crew_work and not _anybody_works(problem):
        names = _crew_names(problem)
        yield f"No crew has a working day in these weeks ({names}); look at people and absences."


def _anybody_works(problem: Problem) -> bool:
    """Whether any crew has people in any slot."""
    for crew in problem.crews:
        if any(crew.hands):
            return True
    return False


def _crew_names(problem: Problem) -> str:
    return ", ".join(crew.name for crew in problem.crews)


def _circle(problem: Problem) -> Iterator[str]:
    waiting = circle(problem.activities)
    if not waiting:
        return
    name_of = {each.id: each.name for each in problem.activities}
    yield f"These wait for one another in a circle: {', then '.join(name_of[i] for i in waiting)}."


def _work(problem: Problem) -> Iterator[str]:
    week = 5 * problem.parts
    lacking: dict[str, list[str]] = {}
    for task in problem.tasks:
        if not task.minutes:
            continue
        crews = _allowed_crews(problem, task)
        if not crews:
            yield f"{task.name} may only be done by {', '.join(sorted(task.only))}: no such crew."
        elif not _ever_able(problem, crews, task.skill):
            lacking.setdefault(task.skill, []).append(task.name)
        elif fault := _too_long(problem, task, week):
            yield fault
    names = _crew_names(problem)
    for skill, tasks in lacking.items():
        yield (
            f"No crew has a {skill or 'working'} person in these weeks ({names}), and these need "
            f"one: {', '.join(tasks[:5])}{' and more' if len(tasks) > 5 else ''}."
        )


def _allowed_crews(problem: Problem, task: Task) -> list[CrewSlots]:
    """The crews that may do it."""
    allowed: list[CrewSlots] = []
    for crew in problem.crews:
        if not task.only or crew.id in task.only:
            allowed.append(crew)
    return allowed


def _ever_able(problem: Problem, crews: list[CrewSlots], skill: str) -> bool:
    """Whether any of the crews has the skill in any slot."""
    for crew in crews:
        for slot in range(problem.size):
            if crew.able(skill, slot):
                return True
    return False


def _too_long(problem: Problem, task: Task, week: int) -> str:
    """The most that any crew gets done in a week is less than the task."""
    best, who = 0, ""
    for crew in _allowed_crews(problem, task):
        useful = max(0, problem.minutes - drive_share(problem, crew, task.house))
        hands = 0
        for slot, people in enumerate(crew.hands):
            if crew.able(task.skill, slot):
                hands = max(hands, people)
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
