"""Making a large plan better piece by piece: a few houses or crews are planned anew while
everything else stays, again and again (large-neighbourhood search).
"""

from collections import defaultdict
from collections.abc import Callable
from random import Random

from ortools.sat.python import cp_model

from .lengths import Lengths
from .measure import DRIVEN, LEVELS, cost, is_moved, must_fit
from .model import PlanModel
from .order import followers
from .problem import Placement, PlannedInspection, Problem, days_late

PIECE = 18
"""About how many things are planned anew at once."""
PIECE_WORK = 0.05
"""Deterministic time of the solver for one piece."""
WINDOW_DAYS = 12


class Improving:
    """Pieces of one plan, planned anew one after another in a fixed order of chance."""

    def __init__(self, problem: Problem, lengths: Lengths, placed: dict[str, Placement]) -> None:
        self.problem, self.lengths, self.placed = problem, lengths, placed
        self.cost = cost(problem, placed)
        self.random = Random(20_260_101)
        self.by_id = {each.id: each for each in problem.activities}
        self.after = followers(problem.activities)
        self.by_house: dict[str, list[str]] = defaultdict(list)
        for each in problem.activities:
            self.by_house[each.house].append(each.id)

    def step(self, floor: int, seconds: float) -> float:
        """Plan one piece anew; how much work that was. `floor`: days late cannot be fewer."""
        pieces: list[Callable[[], tuple[set[str], frozenset[str]]]] = [self._crews, self._houses]
        if self.cost[0] > floor and self._costly():
            pieces.append(self._around_costly)
        piece, crews = self.random.choice(pieces)()
        free = self._closed(piece)
        fixed = {}
        for name in self.by_id:
            if name not in free:
                fixed[name] = self.placed.get(name)
        must = must_fit(self.problem, self.placed)
        model = PlanModel(self.problem, self.lengths, fixed, crews, must)
        model.cp.minimize(_combined(model))
        model.hint(self.placed)
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.cp_model_probing_level = 0
        solver.parameters.symmetry_level = 0
        solver.parameters.max_deterministic_time = PIECE_WORK
        solver.parameters.max_time_in_seconds = seconds
        status = solver.solve(model.cp)
        if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            self._take(model.read(solver))
        return max(solver.deterministic_time, 0.01)

    def _take(self, placed: dict[str, Placement]) -> None:
        if (now := cost(self.problem, placed)) <= self.cost:
            self.placed, self.cost = placed, now

    def _costly(self) -> list[str]:
        """The houses of what is late; where nothing is, of what moves against what was told."""
        late = []
        for p in self.problem.promises:
            if days_late(self.problem, p, self.placed):
                late.append(p)
        if late:
            houses: list[str] = []
            for promise in late:
                houses.append(self.by_id[promise.needs[0]].house)
            return houses
        moved: list[str] = []
        for each in self.problem.activities:
            if is_moved(self.problem, each, self.placed):
                moved.append(each.house)
        return moved

    def _around_costly(self) -> tuple[set[str], frozenset[str]]:
        """A house that costs days, and the houses that its crews are on before."""
        return self._around(self.random.choice(self._costly())), frozenset()

    def _houses(self) -> tuple[set[str], frozenset[str]]:
        return self._around(self.random.choice(sorted(self.by_house))), frozenset()

    def _around(self, house: str) -> set[str]:
        chosen = set(self.by_house[house])
        spots = []
        for name in self.by_house[house]:
            if name in self.placed:
                spots.append(self.placed[name])
        if not spots:
            return chosen
        first = min(spot.start for spot in spots) - self.problem.parts
        last = self.problem.size
        whole = len(spots) == len(chosen)
        if whole:
            last = max(spot.end for spot in spots)
        near = self._between(first, last, chosen)
        self.random.shuffle(near)
        return chosen | set(near[: max(6, PIECE - len(chosen))])

    def _between(self, first: int, last: int, chosen: set[str]) -> list[str]:
        """What else crews begin within these slots."""
        near: list[str] = []
        for name, spot in self.placed.items():
            if name not in chosen and spot.crew and first <= spot.start < last:
                near.append(name)
        return near

    def _crews(self) -> tuple[set[str], frozenset[str]]:
        """What a few crews do within a stretch of days, among these crews."""
        names = []
        for crew in self.problem.crews:
            names.append(crew.id)
        crews = frozenset(self.random.sample(names, min(3, len(names))))
        first = self.random.randrange(max(1, self.problem.size))
        last = first + WINDOW_DAYS * self.problem.parts
        mine = set()
        for name, found in self.placed.items():
            if found.crew in crews and first <= found.start < last:
                mine.add(name)
        return set(sorted(mine)[:PIECE]), crews

    def _closed(self, piece: set[str]) -> set[str]:
        """With the inspections that wait for any of it."""
        closed = set(piece)
        for name in piece:
            for waiting in self.after[name]:
                if isinstance(self.by_id[waiting], PlannedInspection):
                    closed.add(waiting)
        return closed


def _combined(model: PlanModel) -> cp_model.LinearExprT:
    """Every level in one number, each weighing more than all that come after it."""
    factors = [1]
    most = _most(model)
    expressions = []
    for name, expression in reversed(model.levels()):
        expressions.append(expression)
        factors.append(factors[-1] * (most[name] + 1))
    return cp_model.LinearExpr.weighted_sum(expressions, factors[: len(expressions)])


def _most(model: PlanModel) -> dict[str, int]:
    return dict.fromkeys(LEVELS, len(model.free)) | {DRIVEN: _driving(model)}


def _driving(model: PlanModel) -> int:
    """The most that could be driven."""
    crews = {crew.id: crew for crew in model.problem.crews}
    total = 0
    for each in model.free:
        farthest = 0
        for choice in model.choices[each.id]:
            if choice.crew:
                drive = choice.length * 2 * crews[choice.crew].drive.get(each.house, 0)
                farthest = max(farthest, drive)
        total += farthest
    return total
