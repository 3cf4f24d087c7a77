"""Why a promise is late: the chain of what waits for what, and the one change that helps most.

What would help is found by planning the work that the promise waits for again, with one cause
taken away and everything else left as the plan has it.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace

from ortools.sat.python import cp_model

from config.messages.message import Joined, Value

from . import why_messages as words
from .lengths import Lengths
from .model import PlanModel
from .plan_messages import full_name
from .problem import (
    Activity,
    CrewSlots,
    Placement,
    PlannedInspection,
    Problem,
    Promise,
    Schedule,
    Task,
    days_late,
)

Say = Callable[[int], Value]
"""A slot as a reader is told it: a day, and the part of it where that matters."""
TRIED = 0.2  # deterministic time of the solver for one cause
MOST_HOUSES = 4
MOST_STEPS = 12


@dataclass(frozen=True, slots=True)
class WhatIf:
    """One thing that could be otherwise, and how late the promise would be then."""

    says: Value
    days: int


@dataclass(frozen=True, slots=True)
class Why:
    """Why one promise is late."""

    promise: Promise
    days: int
    """Working days late in the plan."""
    chain: tuple[Value, ...]
    """What it waits for, the last first."""
    changes: tuple[WhatIf, ...]
    """What was tried, the most helpful first; what does not help is left out."""

    @property
    def best(self) -> WhatIf | None:
        """The one change that would help most; None when nothing that was tried does."""
        if self.changes:
            return self.changes[0]
        return None

    @property
    def told(self) -> Value:
        """All of it, sentence by sentence."""
        late = words.LATE(promise=full_name(self.promise), n=self.days)
        return Joined((late, *self.chain, self._helps()))

    def _helps(self) -> Value:
        if self.best is None:
            return words.NOTHING_HELPS()
        if self.best.days:
            return words.WOULD_BE_LATE(change=self.best.says, n=self.best.days)
        return words.WOULD_HOLD(change=self.best.says)


def explain_lateness(problem: Problem, plan: Schedule, say: Say = int) -> list[Why]:
    """Why each late promise of a plan is late, in the order of the promises."""
    reasons: list[Why] = []
    for promise in problem.promises:
        if days_late(problem, promise, plan.placed):
            reasons.append(_Explaining(problem, plan.placed, promise, say).why())
    return reasons


class _Explaining:
    def __init__(
        self, problem: Problem, placed: Mapping[str, Placement], promise: Promise, say: Say
    ) -> None:
        self.problem, self.placed, self.promise, self.say = problem, placed, promise, say
        self.by_id = {each.id: each for each in problem.activities}
        self.crews = {crew.id: crew for crew in problem.crews}
        self.waits = self._ancestors()
        self.until = max(
            (placed[name].end for name in self.waits if name in placed), default=problem.size
        )

    def why(self) -> Why:
        """The chain, then every cause taken away in turn."""
        late = days_late(self.problem, self.promise, self.placed)
        now = min(late, self._without(self.problem))
        helpful = []
        for says, other in self._causes():
            change = WhatIf(says, self._without(other))
            if change.days < now:
                helpful.append(change)
        return Why(
            self.promise,
            late,
            tuple(self._chain()),
            tuple(sorted(helpful, key=lambda change: change.days)),
        )

    def _ancestors(self) -> frozenset[str]:
        found: set[str] = set()
        open_ends = list(self.promise.needs)
        while open_ends:
            if (name := open_ends.pop()) not in found:
                found.add(name)
                open_ends += self.by_id[name].after
        return frozenset(found)

    def _without(self, problem: Problem) -> int:
        """How many days late at least, with the rest of the plan as it is."""
        lengths = Lengths(problem, self.waits)
        there = set()
        for each in problem.activities:
            there.add(each.id)
        fixed = {}
        for name in there - self.waits:
            fixed[name] = self.placed.get(name)
        model = PlanModel(problem, lengths, fixed)
        model.cp.minimize(model.late[self.promise.id])
        model.hint(self.placed)
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.cp_model_probing_level = 0
        solver.parameters.max_deterministic_time = TRIED
        status = solver.solve(model.cp)
        if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return round(solver.objective_value)
        return days_late(self.problem, self.promise, self.placed)

    def _causes(self) -> Iterator[tuple[Value, Problem]]:
        """Each cause, with the problem without it."""
        yield from self._more_hands()
        yield from self._notices()
        yield from self._bookings()
        yield from self._other_houses()
        yield from self._dates()
        yield from self._skills()
        yield from self._other_trades()

    def _notices(self) -> Iterator[tuple[Value, Problem]]:
        for inspection in self._inspections():
            if inspection.notice and inspection.booked is None:
                none = replace(inspection, notice=tuple(range(self.problem.size + 1)))
                yield words.NO_NOTICE(what=full_name(inspection)), self._swapped(none)

    def _bookings(self) -> Iterator[tuple[Value, Problem]]:
        for inspection in self._inspections():
            if inspection.booked is not None:
                when = self.say(inspection.booked)
                earlier = words.MOVED_UP(what=full_name(inspection), when=when)
                yield earlier, self._swapped(replace(inspection, booked=None))

    def _inspections(self) -> list[PlannedInspection]:
        waiting: list[PlannedInspection] = []
        for each in self.problem.inspections:
            if each.id in self.waits:
                waiting.append(each)
        return waiting

    def _other_houses(self) -> Iterator[tuple[Value, Problem]]:
        """Houses that the crews are on before, the most work first."""
        crews = self._my_crews()
        slots: dict[str, int] = {}
        for name, spot in self.placed.items():
            house = self.by_id[name].house
            if name not in self.waits and spot.crew in crews and spot.start < self.until:
                slots[house] = slots.get(house, 0) + min(spot.end, self.until) - spot.start
        slots.pop(self.promise.house, None)
        for house in sorted(slots, key=lambda h: (-slots[h], h))[:MOST_HOUSES]:
            gone = set()
            for each in self.problem.activities:
                if each.house == house:
                    gone.add(each.id)
            named = self.by_id[min(gone)].house_name or house
            yield words.HOUSE_LATER(house=named), self._dropped(gone)

    def _dropped(self, gone: set[str]) -> Problem:
        kept = []
        for p in self.problem.promises:
            if not gone & set(p.needs):
                kept.append(p)
        tasks = []
        for t in self.problem.tasks:
            if t.id not in gone:
                tasks.append(t)
        inspections = []
        for v in self.problem.inspections:
            if v.id not in gone:
                inspections.append(v)
        return replace(
            self.problem,
            tasks=tuple(tasks),
            inspections=tuple(inspections),
            promises=tuple(kept),
        )

    def _more_hands(self) -> Iterator[tuple[Value, Problem]]:
        """One more person in a crew on one day; the whole time is tried first, since no day of
        it can help when that does not.
        """
        parts = self.problem.parts
        for key in sorted(self._my_crews()):
            crew = self.crews[key]
            days = range(-(-min(self.until, self.problem.size) // parts))
            all_days = self._with_hands(crew, set(days))
            if self._without(all_days) >= days_late(self.problem, self.promise, self.placed):
                continue
            for day in self._days_of(key):
                one_more = words.ONE_MORE_ON(crew=crew.name, day=self.say(day * parts))
                yield one_more, self._with_hands(crew, {day})
            until = self.say(self.until - 1)
            yield words.ONE_MORE_UNTIL(crew=crew.name, day=until), all_days

    def _days_of(self, crew: str) -> list[int]:
        """The days on which a crew does what the promise waits for, and the day before."""
        parts = self.problem.parts
        found: set[int] = set()
        for name in self.waits:
            if (spot := self.placed.get(name)) and spot.crew == crew:
                found.update(range(max(0, spot.start // parts - 1), (spot.end - 1) // parts + 1))
        return sorted(found)[:MOST_STEPS]

    def _with_hands(self, crew: CrewSlots, days: set[int]) -> Problem:
        parts = self.problem.parts
        hands = []
        for slot, n in enumerate(crew.hands):
            hands.append(n + (slot // parts in days))
        more = replace(crew, hands=tuple(hands))
        crews = []
        for each in self.problem.crews:
            crews.append(more if each.id == crew.id else each)
        return replace(self.problem, crews=tuple(crews))

    def _my_crews(self) -> set[str]:
        crews: set[str] = set()
        for name in self.waits:
            if (spot := self.placed.get(name)) is not None and spot.crew:
                crews.add(spot.crew)
        return crews

    def _dates(self) -> Iterator[tuple[Value, Problem]]:
        for task in self._tasks():
            if task.earliest:
                day = self.say(task.earliest)
                sooner = words.STARTED_BEFORE(what=full_name(task), day=day)
                yield sooner, self._swapped(replace(task, earliest=0))

    def _skills(self) -> Iterator[tuple[Value, Problem]]:
        for task in self._tasks():
            if task.skill:
                able = words.EVERYWHERE.get(task.skill, words.ABLE_EVERYWHERE)
                yield able(what=full_name(task)), self._swapped(replace(task, skill=""))

    def _other_trades(self) -> Iterator[tuple[Value, Problem]]:
        for task in self._tasks():
            if task.slots > self.problem.parts:
                days = task.slots // self.problem.parts
                half = -(-task.slots // 2)
                faster = words.HALF_THE_TIME(what=full_name(task), n=days)
                yield faster, self._swapped(replace(task, slots=half))

    def _tasks(self) -> list[Task]:
        waiting: list[Task] = []
        for each in self.problem.tasks:
            if each.id in self.waits:
                waiting.append(each)
        return waiting

    def _swapped(self, other: Activity) -> Problem:
        if isinstance(other, PlannedInspection):
            inspections = []
            for v in self.problem.inspections:
                inspections.append(other if v.id == other.id else v)
            return replace(self.problem, inspections=tuple(inspections))
        tasks = []
        for t in self.problem.tasks:
            tasks.append(other if t.id == other.id else t)
        return replace(self.problem, tasks=tuple(tasks))

    def _chain(self) -> Iterator[Value]:
        """What each step waits for, from the promise back to what begins it all."""
        past = Placement(self.problem.beyond, self.problem.beyond)
        name = max(self.promise.needs, key=lambda n: self.placed.get(n, past).end)
        for _ in range(MOST_STEPS):
            spot = self.placed.get(name)
            each = self.by_id[name]
            if spot is None:
                yield words.NOT_FIT(what=full_name(each))
                return
            before = []
            for n in each.after:
                if n in self.placed:
                    before.append(n)
            last = max(before, key=lambda n: self.placed[n].end, default=None)
            ready = 0
            if last:
                ready = self.placed[last].end
            step, onward = self._step(each, spot, ready)
            yield step
            if not onward or last is None:
                return
            name = last

    def _step(self, each: Activity, spot: Placement, ready: int) -> tuple[Value, bool]:
        """Why it is when it is, and whether what comes before it is a reason as well."""
        if isinstance(each, PlannedInspection):
            return self._inspection_step(each, spot, ready)
        end = self.say(spot.end - 1)
        until = words.ENDS(what=full_name(each), end=end)
        if spot.start == ready:
            return until, bool(each.after)
        if spot.start == each.earliest and each.earliest > ready:
            return Joined((until, self._not_before(each))), False
        start = self.say(spot.start)
        placed = words.STARTS_AND_ENDS(what=full_name(each), start=start, end=end)
        return Joined((placed, *self._busy(spot, ready))), False

    def _not_before(self, task: Task) -> Value:
        earliest = self.say(task.earliest)
        if task.because:
            return words.NOT_BEFORE_BECAUSE(earliest=earliest, because=task.because)
        return words.NOT_BEFORE(earliest=earliest)

    def _inspection_step(
        self, inspection: PlannedInspection, spot: Placement, ready: int
    ) -> tuple[Value, bool]:
        what, start = full_name(inspection), self.say(spot.start)
        if inspection.booked == spot.start:
            return words.BOOKED(what=what, start=start), False
        first = ready
        if inspection.notice:
            first = inspection.notice[ready]
        if first < spot.start:
            planned = words.PLANNED(what=what, start=start)
            return Joined((planned, *self._busy(spot, first))), False
        earliest: tuple[Value, ...] = (words.EARLIEST(what=what, start=start),)
        if inspection.words and first > ready:
            earliest = (*earliest, inspection.words)
        return Joined(earliest), bool(inspection.after)

    def _busy(self, spot: Placement, since: int) -> Iterator[Value]:
        """What its crew does in the meantime."""
        crew = self.crews.get(spot.crew)
        if crew is None:
            return
        doing = self._last_before(spot, since)
        if doing is not None:
            ends, other = doing
            end = self.say(ends - 1)
            if other.house == self.promise.house:
                yield words.CREW_ON_TASK(crew=crew.name, task=other.name, end=end)
            else:
                house = other.house_name or other.house
                yield words.CREW_AT_HOUSE(crew=crew.name, house=house, end=end)
        elif spot.start > since and not any(crew.hands[since : spot.start]):
            yield words.CREW_AWAY(crew=crew.name)

    def _last_before(self, spot: Placement, since: int) -> tuple[int, Activity] | None:
        """What the same crew does last before it, and when that ends."""
        doing = []
        for name, other in self.placed.items():
            if other.crew == spot.crew and other.start < spot.start and other.end > since:
                doing.append((other.end, name))
        if not doing:
            return None
        end, name = max(doing)
        return end, self.by_id[name]
