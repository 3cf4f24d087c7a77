"""The planner: a problem in, a plan out, with what was proven of it.

What matters more is minimised first and then held while the next is (lexicographic). A small
problem is searched whole, level by level. A large one starts from a plan made one thing after
another, is made better piece by piece, and the days late are bounded on a looser problem.

The search is deterministic: its work is counted, not timed. A clock ends it all the same when
a machine is too slow, and the plan then says that it was cut short.
"""

from collections.abc import Callable, Mapping
from concurrent.futures import ThreadPoolExecutor
from time import monotonic

from ortools.sat.python import cp_model

from .bound import days_late_bound, lateness_alone
from .effort import Effort
from .faults import refuse_faults
from .greedy import first_plan
from .improve import Improving
from .lengths import Lengths
from .measure import LATE, LEVELS, cost, measured, must_fit
from .model import PlanModel
from .problem import Level, Placement, Problem, Schedule

WHOLE = 1500
"""Up to so many choices of crew and length a problem is searched whole."""


def best_plan(
    problem: Problem,
    effort: Effort | None = None,
    known: Mapping[str, Placement] | None = None,
) -> Schedule:
    """The best plan found within the effort. The same problem and effort give the same plan.

    `known` is a plan of the problem that keeps every rule, to begin from when it is the better.

    Raises ProblemFaults, in words and with the names involved, when the problem cannot be
    planned at all.
    """
    refuse_faults(problem)
    effort = effort or Effort()
    clock = _clock(effort.seconds)
    lengths = Lengths(problem)
    placed = first_plan(problem, lengths)
    if known is not None and cost(problem, known) < cost(problem, placed):
        placed = dict(known)
    choices = 0
    for options in lengths.options.values():
        for o in options:
            choices += len(o.by_length())
    if choices <= WHOLE:
        return _Whole(problem, lengths, placed, effort, clock).run()
    return _by_pieces(problem, lengths, placed, effort, clock)


def _clock(seconds: float) -> Callable[[], float]:
    ends = monotonic() + seconds
    return lambda: ends - monotonic()


class _Whole:
    """The whole problem in one model, level by level."""

    def __init__(
        self,
        problem: Problem,
        lengths: Lengths,
        placed: dict[str, Placement],
        effort: Effort,
        clock: Callable[[], float],
    ) -> None:
        self.problem, self.placed, self.effort, self.clock = problem, placed, effort, clock
        self.model = PlanModel(problem, lengths, must=must_fit(problem, placed))
        self.left = effort.work
        self.cut_short = False

    def run(self) -> Schedule:
        """Minimise level after level, each held while the next is."""
        levels: list[Level] = []
        for name, expression in self.model.levels():
            value = measured(self.problem, self.placed)[name]
            bound = 0
            if value:
                bound = self._minimise(expression, self.left * (0.7 if name == LATE else 0.5))
            value = measured(self.problem, self.placed)[name]
            levels.append(Level(name, value, min(bound, value)))
            self.model.cp.add(expression <= value)
        return Schedule(self.placed, tuple(levels), self.cut_short)

    def _minimise(self, expression: cp_model.LinearExprT, work: float) -> int:
        """The bound that was proven; a better plan is kept."""
        if self.clock() <= 0:
            self.cut_short = True
            return 0
        self.model.cp.minimize(expression)
        self.model.hint(self.placed)
        solver = _solver(self.effort, work, self.clock())
        status = solver.solve(self.model.cp)
        self.left = max(0.05, self.left - solver.deterministic_time)
        if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            found = self.model.read(solver)
            if cost(self.problem, found) <= cost(self.problem, self.placed):
                self.placed = found
        if status != cp_model.OPTIMAL and self.clock() <= 0.05:
            self.cut_short = True
        return max(0, round(solver.best_objective_bound))


def _solver(effort: Effort, work: float, seconds: float) -> cp_model.CpSolver:
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = effort.workers
    solver.parameters.random_seed = 7
    solver.parameters.max_time_in_seconds = seconds
    if effort.repeatable:
        solver.parameters.interleave_search = True
        solver.parameters.max_deterministic_time = work
    return solver


def _by_pieces(
    problem: Problem,
    lengths: Lengths,
    placed: dict[str, Placement],
    effort: Effort,
    clock: Callable[[], float],
) -> Schedule:
    improving = Improving(problem, lengths, placed)
    floor = lateness_alone(problem, lengths)
    with ThreadPoolExecutor(1) as beside:
        late = improving.cost[0] > floor
        bound = None
        if late:
            bound = beside.submit(days_late_bound, problem, lengths, effort.work, clock())
        work = effort.work
        while work > 0 and clock() > 0 and any(improving.cost):
            work -= improving.step(floor, clock())
        if bound:
            floor = bound.result()
    found = measured(problem, improving.placed)
    levels = []
    for name in LEVELS:
        levels.append(Level(name, found[name], min(floor, found[name]) if name == LATE else 0))
    return Schedule(improving.placed, tuple(levels), cut_short=clock() <= 0)
