"""What cannot be planned at all, said in words before anything is searched."""

from collections import Counter
from collections.abc import Iterator

from config.messages.message import Joined, Listed, Text, Value
from config.messages.saying import said

from . import fault_messages as words
from .order import circle
from .plan_messages import full_name
from .problem import CrewSlots, Problem, Task, drive_share

NAMED = 5
"""How many of the tasks that lack somebody are named."""


class ProblemFaults(Exception):
    """The problem has faults; each says what is wrong, with whom, and what would correct it."""

    def __init__(self, faults: tuple[Text, ...]) -> None:
        super().__init__(" ".join(map(said, faults)))
        self.faults = faults


def refuse_faults(problem: Problem) -> None:
    """Raise ProblemFaults with every fault at once."""
    faults = (*_shape(problem),) or (*_calendar(problem),) or (*_circle(problem), *_work(problem))
    if faults:
        raise ProblemFaults(tuple(faults))


def _shape(problem: Problem) -> Iterator[Text]:
    if problem.parts < 1 or problem.minutes < 1:
        yield words.NO_PARTS()
    names = [each.id for each in problem.activities]
    for name, count in Counter(names).items():
        if count > 1:
            yield words.TWICE(id=name)
    yield from _unknown_names(problem, set(names))
    for crew in problem.crews:
        if not _says_every_slot(crew, problem.size):
            yield words.NOT_EVERY_SLOT(crew=crew.name, n=problem.size)
    yield from _overused(problem)


def _overused(problem: Problem) -> Iterator[Text]:
    """Tasks that need more of a shared thing than there is."""
    for task in problem.tasks:
        for thing, much in task.uses.items():
            there = problem.shared.get(thing, 0)
            if much > there:
                yield words.OVERUSED(task=full_name(task), much=much, thing=thing, there=there)


def _unknown_names(problem: Problem, known: set[str]) -> Iterator[Text]:
    """What is waited for or promised and is not in the plan, and promises that weigh less
    than nothing.
    """
    for each in problem.activities:
        for before in each.after:
            if before not in known:
                yield words.WAITS_FOR_NONE(task=full_name(each), id=before)
    for promise in problem.promises:
        for need in promise.needs:
            if need not in known:
                yield words.PROMISES_NONE(promise=full_name(promise), id=need)
        if promise.weight < 0:
            yield words.NEGATIVE(promise=full_name(promise))


def _says_every_slot(crew: CrewSlots, size: int) -> bool:
    """Whether its hands and each of its skills are told for each slot."""
    for each in (crew.hands, *crew.skilled.values()):
        if len(each) != size:
            return False
    return True


def _calendar(problem: Problem) -> Iterator[Text]:
    crew_work = any(task.minutes for task in problem.tasks)
    if problem.activities and problem.size < 1:
        yield words.NO_WORKING_DAY()
    elif crew_work and not problem.crews:
        yield words.NO_CREW()
    elif crew_work and not _anybody_works(problem):
        yield words.NOBODY_WORKS(crews=_crew_names(problem))


def _anybody_works(problem: Problem) -> bool:
    """Whether any crew has people in any slot."""
    for crew in problem.crews:
        if any(crew.hands):
            return True
    return False


def _crew_names(problem: Problem) -> Value:
    return Listed(tuple(crew.name for crew in problem.crews))


def _circle(problem: Problem) -> Iterator[Text]:
    waiting = circle(problem.activities)
    if not waiting:
        return
    name_of = {each.id: full_name(each) for each in problem.activities}
    yield words.CIRCLE(tasks=Joined(tuple(name_of[name] for name in waiting), " → "))


def _work(problem: Problem) -> Iterator[Text]:
    week = 5 * problem.parts
    lacking: dict[str, list[Value]] = {}
    for task in problem.tasks:
        if not task.minutes:
            continue
        crews = _allowed_crews(problem, task)
        if not crews:
            only = Listed(tuple(sorted(task.only)), "or")
            yield words.NO_SUCH_CREW(task=full_name(task), crews=only)
        elif not _ever_able(problem, crews, task.skill):
            lacking.setdefault(task.skill, []).append(full_name(task))
        elif fault := _too_long(problem, task, week):
            yield fault
    for skill, tasks in lacking.items():
        lacks = LACKING.get(skill, words.NOBODY_ABLE)
        yield lacks(crews=_crew_names(problem), tasks=_some(tasks))


LACKING = {"licensed": words.NO_LICENSED, "apprentice": words.NO_APPRENTICE}


def _some(tasks: list[Value]) -> Value:
    """The first few of the tasks, and how many more there are."""
    if len(tasks) <= NAMED:
        return Joined(tuple(tasks), ", ")
    return words.SOME_OF(tasks=Joined(tuple(tasks[:NAMED]), ", "), n=len(tasks) - NAMED)


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


def _too_long(problem: Problem, task: Task, week: int) -> Text | None:
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
        return None
    if not best:
        return words.ALL_DRIVING(task=full_name(task))
    return words.TOO_LONG(
        task=full_name(task), hours=_hours(task.minutes), most=_hours(best), crew=who
    )


def _hours(minutes: int) -> float:
    return round(minutes / 60, 1)
