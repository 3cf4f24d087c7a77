"""The plan as a constraint model (OR-Tools CP-SAT).

Each task has a start, an end and one literal for every crew and length that it could have, so
that each optional interval is of fixed size. Whatever does not fit starts and ends at
`Problem.beyond`, which carries everything that waits for it there as well: so there is always
a plan.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from ortools.sat.python import cp_model

from .lengths import CrewOption, Lengths
from .measure import CHANGED, DRIVEN, LATE, LEFT, MISSED, is_missed, is_moved
from .problem import (
    Activity,
    Placement,
    PlannedInspection,
    Problem,
    Promise,
    Task,
    days_late,
    drive_share,
)


@dataclass(frozen=True, slots=True)
class Choice:
    """One crew with one length, and the literal that it is taken."""

    crew: str
    length: int
    starts: frozenset[int]
    taken: cp_model.IntVar


class PlanModel:
    """The variables of a problem, its constraints, and the things that are minimised.

    With `fixed` only the rest of the activities may move, and only to `crews` when given; an
    inspection must be among the rest when something that it waits for is. What is in `must` has
    to fit.
    """

    def __init__(
        self,
        problem: Problem,
        lengths: Lengths,
        fixed: Mapping[str, Placement | None] | None = None,
        crews: frozenset[str] = frozenset(),
        must: frozenset[str] = frozenset(),
    ) -> None:
        self.problem, self.fixed, self.crews, self.must = problem, fixed or {}, crews, must
        self.free = [each for each in problem.activities if each.id not in self.fixed]
        self.cp = cp_model.CpModel()
        self.start: dict[str, cp_model.IntVar | int] = {}
        self.end: dict[str, cp_model.IntVar | int] = {}
        self.beyond: dict[str, cp_model.IntVar] = {}
        self.choices: dict[str, list[Choice]] = {}
        self.missed: dict[str, cp_model.IntVar] = {}
        self.late: dict[str, cp_model.IntVar] = {}
        self.moved: dict[str, cp_model.IntVar] = {}
        self.ready: dict[str, tuple[cp_model.IntVar, cp_model.IntVar, list[int]]] = {}
        self._by_crew: dict[str, list[cp_model.IntervalVar]] = {}
        self._using: dict[str, list[tuple[cp_model.IntervalVar, int]]] = {}
        for each in self.free:
            self._place(each, lengths)
        self._keep()
        for each in problem.activities:
            self._wait(each)
        for each in self.free:
            self._tell(each)
            if isinstance(each, PlannedInspection):
                self._notice(each)
        self._share()
        for promise in problem.promises:
            self._promise(promise)

    def _share(self) -> None:
        """A crew is in one place at a time, and of shared things there are only so many."""
        for crew in self.problem.crews:
            self.cp.add_no_overlap(self._by_crew.get(crew.id, []))
        for name, using in self._using.items():
            intervals = []
            amounts = []
            for interval, much in using:
                intervals.append(interval)
                amounts.append(much)
            self.cp.add_cumulative(intervals, amounts, self.problem.shared[name])

    def _keep(self) -> None:
        """What is fixed takes its crew and its shared things as it stands."""
        beyond = self.problem.beyond
        for each in self.problem.activities:
            if each.id not in self.fixed:
                continue
            spot = self.fixed[each.id]
            self.start[each.id] = self.end[each.id] = beyond
            if spot:
                self.start[each.id], self.end[each.id] = spot.start, spot.end
            if not spot or spot.start == spot.end:
                continue
            interval = self.cp.new_fixed_size_interval_var(
                spot.start, spot.end - spot.start, f"kept {each.id}"
            )
            if spot.crew in self._by_crew:
                self._by_crew[spot.crew].append(interval)
            if isinstance(each, Task):
                for thing, much in each.uses.items():
                    self._using.setdefault(thing, []).append((interval, much))

    def _place(self, each: Activity, lengths: Lengths) -> None:
        beyond, name = self.problem.beyond, each.id
        options = self._options(name, lengths)
        starts: set[int] = set()
        ends: set[int] = set()
        for option in options:
            starts.update(option.ends.keys())
            ends.update(option.ends.values())
        if name not in self.must:
            starts.add(beyond)
            ends.add(beyond)
        start = self.cp.new_int_var_from_domain(_domain(starts), f"start {name}")
        end = self.cp.new_int_var_from_domain(_domain(ends), f"end {name}")
        self.start[name], self.end[name] = start, end
        self.choices[name] = []
        for option in options:
            crew = ""
            if option.crew:
                crew = option.crew.id
            for length, possible in option.by_length().items():
                self._choose(each, crew, length, possible)
        taken: list[cp_model.LiteralT] = [choice.taken for choice in self.choices[name]]
        if name not in self.must:
            out = self.beyond[name] = self.cp.new_bool_var(f"beyond {name}")
            self.cp.add(start == beyond).only_enforce_if(out)
            self.cp.add(end == beyond).only_enforce_if(out)
            taken.append(out)
        self.cp.add_exactly_one(taken)

    def _options(self, name: str, lengths: Lengths) -> list[CrewOption]:
        """What can be done by the crews that it may move to."""
        options: list[CrewOption] = []
        for option in lengths.options[name]:
            if not self.crews or option.crew is None or option.crew.id in self.crews:
                options.append(option)
        return options

    def _choose(self, each: Activity, crew: str, length: int, possible: list[int]) -> None:
        name = each.id
        taken = self.cp.new_bool_var(f"{name} by {crew}, {length}")
        self.cp.add_linear_expression_in_domain(
            self.start[name], _domain(possible)
        ).only_enforce_if(taken)
        interval = self.cp.new_optional_interval_var(
            self.start[name], length, self.end[name], taken, f"{name} by {crew}, {length}"
        )
        if crew and length:
            self._by_crew.setdefault(crew, []).append(interval)
        if isinstance(each, Task):
            for thing, much in each.uses.items():
                if much and length:
                    self._using.setdefault(thing, []).append((interval, much))
        self.choices[name].append(Choice(crew, length, frozenset(possible), taken))

    def _wait(self, each: Activity) -> None:
        for before in each.after:
            if not (before in self.fixed and each.id in self.fixed):
                self.cp.add(self.end[before] <= self.start[each.id])

    def _notice(self, inspection: PlannedInspection) -> None:
        """Kept at the booked slot, or asked for when the work before it is done."""
        start, beyond = self.start[inspection.id], self.problem.beyond
        if inspection.booked is not None:
            missed = self.missed[inspection.id] = self.cp.new_bool_var(f"missed {inspection.id}")
            self.cp.add(start == inspection.booked).only_enforce_if(~missed)
            self.cp.add(start > inspection.booked).only_enforce_if(missed)
        if not inspection.notice:
            return
        earliest_by_ready = []
        for slot in inspection.notice:
            earliest_by_ready.append(min(slot, beyond) if slot < self.problem.size else beyond)
        earliest_by_ready += [beyond] * (beyond + 1 - len(inspection.notice))
        earliest: cp_model.IntVar | int = earliest_by_ready[0]
        if inspection.after:
            ready = self.cp.new_int_var(0, beyond, f"ready {inspection.id}")
            self.cp.add_max_equality(ready, [self.end[before] for before in inspection.after])
            earliest = self.cp.new_int_var(0, beyond, f"earliest {inspection.id}")
            self.cp.add_element(ready, earliest_by_ready, earliest)
            self.ready[inspection.id] = (ready, earliest, earliest_by_ready)
        asked = self.cp.add(start >= earliest)
        if inspection.booked is not None:
            asked.only_enforce_if(self.missed[inspection.id])

    def _tell(self, each: Activity) -> None:
        if each.told is None:
            return
        moved = self.moved[each.id] = self.cp.new_bool_var(f"moved {each.id}")
        first = each.told.day * self.problem.parts
        self.cp.add_linear_constraint(
            self.start[each.id], first, first + self.problem.parts - 1
        ).only_enforce_if(~moved)
        same = []
        for choice in self.choices[each.id]:
            if choice.crew == each.told.crew:
                same.append(choice.taken)
        self.cp.add_bool_or([moved, *same])

    def _promise(self, promise: Promise) -> None:
        if all(need in self.fixed for need in promise.needs):
            return
        parts = self.problem.parts
        most = max(0, -(-(self.problem.beyond - promise.by) // parts))
        late = self.late[promise.id] = self.cp.new_int_var(0, most, f"late {promise.id}")
        for need in promise.needs:
            self.cp.add(late * parts >= self.end[need] - promise.by)

    def levels(self) -> list[tuple[str, cp_model.LinearExprT]]:
        """What is minimised, the most important first; a level that has nothing is left out."""
        weights = {promise.id: promise.weight for promise in self.problem.promises}
        late = sum(weights[name] * var for name, var in self.late.items())
        moved = sum(self.moved.values())
        cost = self.problem.change_cost
        every_level: list[tuple[str, cp_model.LinearExprT]] = [
            (LATE, late + cost * moved),
            (LEFT, sum(self.beyond.values())),
            (MISSED, sum(self.missed.values())),
            (CHANGED, moved),
            (DRIVEN, sum(self._driving())),
        ]
        open_levels: list[tuple[str, cp_model.LinearExprT]] = []
        for name, expression in every_level:
            if not isinstance(expression, int):
                open_levels.append((name, expression))
        return open_levels

    def _driving(self) -> list[cp_model.LinearExprT]:
        crews = {crew.id: crew for crew in self.problem.crews}
        minutes_driven: list[cp_model.LinearExprT] = []
        for each in self.free:
            for choice in self.choices[each.id]:
                if not choice.crew:
                    continue
                share = drive_share(self.problem, crews[choice.crew], each.house)
                if minutes := choice.length * share:
                    minutes_driven.append(minutes * choice.taken)
        return minutes_driven

    def hint(self, placed: Mapping[str, Placement]) -> None:
        """Start the search from a plan."""
        self.cp.clear_hints()
        for name in self.choices:
            self._hint_place(name, placed.get(name))
        for promise in self.problem.promises:
            if promise.id in self.late:
                self._hint(self.late[promise.id], days_late(self.problem, promise, placed))
        for each in self.free:
            if each.id in self.moved:
                self._hint(self.moved[each.id], is_moved(self.problem, each, placed))
            if each.id in self.missed:
                self._hint(self.missed[each.id], is_missed(each, placed))
            if each.id in self.ready:
                self._hint_ready(each, placed)

    def _hint_place(self, name: str, spot: Placement | None) -> None:
        """Where it starts and ends, whether it fits at all, and who does it."""
        start = end = self.problem.beyond
        if spot:
            start, end = spot.start, spot.end
        self._hint(self.start[name], start)
        self._hint(self.end[name], end)
        if name in self.beyond:
            self._hint(self.beyond[name], spot is None)
        for choice in self.choices[name]:
            self._hint(choice.taken, _is(choice, spot))

    def _hint_ready(self, each: Activity, placed: Mapping[str, Placement]) -> None:
        """When the work before an inspection is done, and when the inspection can be then."""
        ready, earliest, earliest_by_ready = self.ready[each.id]
        ends_before = []
        for before in each.after:
            spot = placed.get(before)
            ends_before.append(spot.end if spot else self.problem.beyond)
        when = max(ends_before)
        self._hint(ready, when)
        self._hint(earliest, earliest_by_ready[when])

    def _hint(self, variable: cp_model.IntVar | int, value: int) -> None:
        if not isinstance(variable, int):
            self.cp.add_hint(variable, value)

    def read(self, solver: cp_model.CpSolver) -> dict[str, Placement]:
        """The plan that was found."""
        placed: dict[str, Placement] = {}
        for name, kept in self.fixed.items():
            if kept:
                placed[name] = kept
        for name, choices in self.choices.items():
            for choice in choices:
                if solver.boolean_value(choice.taken):
                    start = int(solver.value(self.start[name]))
                    placed[name] = Placement(start, start + choice.length, choice.crew)
        return placed


def _is(choice: Choice, found: Placement | None) -> bool:
    return (
        found is not None
        and choice.crew == found.crew
        and choice.length == found.end - found.start
        and found.start in choice.starts
    )


def _domain(values: set[int] | list[int]) -> cp_model.Domain:
    return cp_model.Domain.from_values(sorted(values))
