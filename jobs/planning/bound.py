"""How few days late there must be, proven on a looser problem that is quick to search.

Loosened: a task takes as long as with the quickest crew at the best time, and crews are told
apart no longer: at any time there are only as many at work as there are crews. What is then
proven of the days late holds for the real problem as well.
"""

from ortools.sat.python import cp_model

from .lengths import Lengths
from .order import dispatch_order
from .problem import Activity, PlannedInspection, Problem, Task


def days_late_bound(problem: Problem, lengths: Lengths, work: float, seconds: float) -> int:
    """Weighted days late that no plan can be below."""
    model = _Loose(problem, lengths)
    if not model.late:
        return 0
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.cp_model_probing_level = 0
    solver.parameters.max_deterministic_time = work
    solver.parameters.max_time_in_seconds = seconds
    solver.solve(model.cp)
    return max(0, round(solver.best_objective_bound), lateness_alone(problem, lengths))


def lateness_alone(problem: Problem, lengths: Lengths) -> int:
    """Weighted days late were nobody else in the way of any promise."""
    end: dict[str, int] = {}
    for each in dispatch_order(problem):
        ready = _all_ended(each.after, end)
        if isinstance(each, PlannedInspection) and each.notice:
            ready = _inspection_from(problem, each, ready)
        end[each.id] = _soonest_end(problem, lengths, each, ready)
    late = 0
    for promise in problem.promises:
        if promise.needs:
            over = _all_ended(promise.needs, end) - promise.by
            late += promise.weight * max(0, -(-over // problem.parts))
    return late


def _all_ended(names: tuple[str, ...], end: dict[str, int]) -> int:
    """The slot in which the last of them has ended; 0 for none."""
    last = 0
    for name in names:
        last = max(last, end[name])
    return last


def _inspection_from(problem: Problem, inspection: PlannedInspection, ready: int) -> int:
    """The slot of its booking when that can be kept, else the first that notice allows."""
    if inspection.booked is not None and ready <= inspection.booked:
        return inspection.booked
    if ready < len(inspection.notice):
        return inspection.notice[ready]
    return problem.beyond


def _soonest_end(problem: Problem, lengths: Lengths, each: Activity, ready: int) -> int:
    """When it has ended at the soonest, begun no sooner than it is ready."""
    ends = []
    for option in lengths.options[each.id]:
        for start, end in option.ends.items():
            if start >= ready:
                ends.append(end)
    return min(ends, default=problem.beyond)


class _Loose:
    def __init__(self, problem: Problem, lengths: Lengths) -> None:
        self.problem, self.cp = problem, cp_model.CpModel()
        self.start: dict[str, cp_model.IntVar] = {}
        self.end: dict[str, cp_model.LinearExprT] = {}
        self.late: list[cp_model.LinearExprT] = []
        self.working: list[cp_model.IntervalVar] = []
        self.skilled: dict[str, list[cp_model.IntervalVar]] = {}
        for each in problem.activities:
            self._place(each, lengths)
        for each in problem.activities:
            for before in each.after:
                self.cp.add(self.end[before] <= self.start[each.id])
            if isinstance(each, PlannedInspection) and each.notice and each.booked is None:
                self._notice(each)
        self.cp.add_cumulative(self.working, [1] * len(self.working), len(problem.crews))
        for promise in problem.promises:
            self._promise(promise.needs, promise.by, promise.weight)
        self.cp.minimize(sum(self.late))

    def _place(self, each: Activity, lengths: Lengths) -> None:
        """Anywhere from its first possible start; past the last slot nobody is in the way."""
        beyond = self.problem.beyond
        first, length = self._loosest(each, lengths)
        start = self.start[each.id] = self.cp.new_int_var(first, beyond, f"start {each.id}")
        out = self.cp.new_bool_var(f"beyond {each.id}")
        self.cp.add(start == beyond).only_enforce_if(out)
        self.cp.add(start + length <= self.problem.size).only_enforce_if(~out)
        self.end[each.id] = start + length - length * out
        crewed = isinstance(each, PlannedInspection) or (
            isinstance(each, Task) and each.minutes > 0
        )
        if crewed and length:
            self.working.append(
                self.cp.new_optional_fixed_size_interval_var(start, length, ~out, each.id)
            )

    def _loosest(self, each: Activity, lengths: Lengths) -> tuple[int, int]:
        """The first slot in which any crew could start it, and how long the quickest takes."""
        starts = []
        durations = []
        for option in lengths.options[each.id]:
            for start, end in option.ends.items():
                starts.append(start)
                durations.append(end - start)
        return min(starts, default=self.problem.beyond), min(durations, default=0)

    def _notice(self, inspection: PlannedInspection) -> None:
        beyond = self.problem.beyond
        earliest_by_ready = []
        for slot in inspection.notice:
            earliest_by_ready.append(min(slot, beyond) if slot < self.problem.size else beyond)
        earliest_by_ready += [beyond] * (beyond + 1 - len(earliest_by_ready))
        self.cp.add(self.start[inspection.id] >= earliest_by_ready[0])
        for before in inspection.after:
            earliest = self.cp.new_int_var(0, beyond, f"{inspection.id} after {before}")
            self.cp.add_element(self.end[before], earliest_by_ready, earliest)
            self.cp.add(self.start[inspection.id] >= earliest)

    def _promise(self, needs: tuple[str, ...], by: int, weight: int) -> None:
        parts = self.problem.parts
        most = max(0, -(-(self.problem.beyond - by) // parts))
        late = self.cp.new_int_var(0, most, "late")
        for need in needs:
            self.cp.add(late * parts >= self.end[need] - by)
        self.late.append(weight * late)
