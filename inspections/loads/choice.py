"""Which circuits a construction hookup carries: the best set, proven, and why the rest is not.

Wants are ranked by need. A set is better when it has more wants of the first rank; then more of
the second, and so on; then when its legs are nearer to one another; then when it takes those
that were named first. Each step is solved to a proven optimum before the next.
"""

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from config.messages.message import Amperes, Joined, Listed, Percent, Text, Value

from . import hookup_messages as says
from .check_messages import amps

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

EFFORT = 5.0  # deterministic seconds for each step
HUNDREDTHS = 100  # amperes are reckoned in hundredths, loads rounded up and limits down


@dataclass(frozen=True, slots=True)
class Candidate:
    """A circuit that somebody wants live."""

    name: str
    rank: int
    amps: float | None
    """On each leg that it is on; None when nobody said what it draws."""
    poles: int = 1
    leg: str = ""
    """The leg of a single pole whose place is settled; empty where either will do."""
    breaker_a: float | None = None
    continuous: bool = False
    circuit: str = ""


@dataclass(frozen=True, slots=True)
class Bounds:
    """What a hookup may carry."""

    circuits: int
    service_a: float
    continuous_pct: float = 80.0
    imbalance_a: float | None = None
    spaces: int | None = None
    """Free spaces for circuits that the panel does not have yet."""


@dataclass(frozen=True)
class Chosen:
    """The best set, what it comes to, and what was left out and why."""

    live: tuple[Candidate, ...]
    legs: dict[str, str]
    a_amps: float
    """What leg A takes up of the service, continuous loads with their margin."""
    b_amps: float
    left_out: tuple[tuple[Candidate, Value], ...]
    proven: bool
    proof: tuple[Text, ...]
    bounds: Bounds
    by_rank: dict[int, tuple[int, int]] = field(default_factory=dict)
    """Of each rank, how many are live and how many were wanted."""


def amperes_counted(want: Candidate, bounds: Bounds) -> float:
    """The amperes that a want takes up of the service: a continuous load needs more of it."""
    return (want.amps or 0.0) * (100 / bounds.continuous_pct if want.continuous else 1.0)


def choose(wants: Sequence[Candidate], bounds: Bounds) -> Chosen:
    """The best set of circuits within the bounds. Raises ValueError for names that repeat."""
    if len({want.name for want in wants}) != len(wants):
        raise ValueError("two wants have one name; give each its own")
    refused: dict[str, Value] = {}
    fit = []
    for want in wants:
        if why := refusal_alone(want, bounds):
            refused[want.name] = why
        else:
            fit.append(want)
    solved = _solve(fit, bounds)
    live = []
    for want in fit:
        if want.name in solved.legs:
            live.append(want)
    a, b = _sums(live, solved.legs, bounds)
    left_out = []
    for want in wants:
        if want.name not in solved.legs:
            why = refused.get(want.name) or _why_not(want, live, solved.legs, fit, bounds)
            left_out.append((want, why))
    return Chosen(
        tuple(live),
        solved.legs,
        a,
        b,
        tuple(left_out),
        solved.proven,
        tuple(solved.steps),
        bounds,
        _live_by_rank(wants, live),
    )


def _live_by_rank(
    wants: Sequence[Candidate], live: Sequence[Candidate]
) -> dict[int, tuple[int, int]]:
    """Of each rank, how many are live and how many were wanted."""
    wanted: Counter[int] = Counter()
    carried: Counter[int] = Counter()
    for want in wants:
        wanted[want.rank] += 1
    for want in live:
        carried[want.rank] += 1
    by_rank = {}
    for rank in sorted(wanted):
        by_rank[rank] = (carried[rank], wanted[rank])
    return by_rank


def refusal_alone(want: Candidate, bounds: Bounds) -> Text | None:
    """Why the want cannot be carried whatever else is; None when it can."""
    if want.amps is None:
        return says.NO_LOAD()
    share = 1.0
    if want.continuous:
        share = bounds.continuous_pct / 100
    if want.breaker_a is not None and want.amps > want.breaker_a * share + 1e-9:
        drawn, breaker = amps(want.amps), Amperes(want.breaker_a)
        if want.continuous:
            part = Percent(bounds.continuous_pct)
            return says.OVER_SHARE(amps=drawn, share=part, breaker=breaker)
        return says.OVER_BREAKER(amps=drawn, breaker=breaker)
    counted = amperes_counted(want, bounds)
    if counted > bounds.service_a + 1e-9:
        return says.OVER_SERVICE(amps=amps(counted), service=Amperes(bounds.service_a))
    return None


@dataclass
class _Solved:
    legs: dict[str, str]
    proven: bool = True
    steps: list[Text] = field(default_factory=list)
    counts: dict[int, int] = field(default_factory=dict)


class _Model:
    """The choice as a model: a want is live on leg A, on leg B, or on both."""

    def __init__(self, wants: Sequence[Candidate], bounds: Bounds) -> None:
        from ortools.sat.python import cp_model  # heavy, and only where a hookup is chosen

        self.wants, self.bounds = wants, bounds
        self.model = cp_model.CpModel()
        self.on = [
            [self.model.new_bool_var(f"{leg}{i}") for leg in "AB"] for i in range(len(wants))
        ]
        self.live = [self.model.new_bool_var(f"live{i}") for i in range(len(wants))]
        for want, live, (a, b) in zip(wants, self.live, self.on, strict=True):
            if want.poles > 1:
                self.model.add(a == live)
                self.model.add(b == live)
            else:
                self.model.add(a + b == live)
                if want.leg:
                    self.model.add((b if want.leg == "A" else a) == 0)
        self._bound()

    def _bound(self) -> None:
        bounds, most = self.bounds, _down(self.bounds.service_a)
        self.model.add(sum(self.live) <= bounds.circuits)
        self.legs = []
        for leg in (0, 1):
            carried = sum(
                _up(amperes_counted(want, bounds)) * on[leg]
                for want, on in zip(self.wants, self.on, strict=True)
            )
            amount = self.model.new_int_var(0, most, "AB"[leg])
            self.model.add(amount == carried)
            self.legs.append(amount)
        self.apart = self.model.new_int_var(0, most, "apart")
        self.model.add(self.apart >= self.legs[0] - self.legs[1])
        self.model.add(self.apart >= self.legs[1] - self.legs[0])
        if bounds.imbalance_a is not None:
            limit = min(most, _down(bounds.imbalance_a))
            self.model.add(self.apart <= limit)
        if bounds.spaces is not None:
            new = zip(self.wants, self.live, strict=True)
            self.model.add(sum(w.poles * x for w, x in new if not w.circuit) <= bounds.spaces)

    def rank(self, rank: int) -> "cp_model.LinearExprT":
        """How many of a rank are live."""
        return sum(x for w, x in zip(self.wants, self.live, strict=True) if w.rank == rank)

    def best(self, what: "cp_model.LinearExprT", least: bool = False) -> tuple[int, bool]:
        """The best of an expression, kept from then on, and whether it is proven."""
        from ortools.sat.python import cp_model

        (self.model.minimize if least else self.model.maximize)(what)
        self.solver = cp_model.CpSolver()
        self.solver.parameters.num_workers = 1
        self.solver.parameters.max_deterministic_time = EFFORT
        status = self.solver.solve(self.model)
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return -1, False
        reached = round(self.solver.objective_value)
        self.model.add(what >= reached if not least else what <= reached)
        return reached, status == cp_model.OPTIMAL

    def legs_solved(self) -> dict[str, str]:
        """The legs of each want that is live in the last solution."""
        legs = {}
        for want, (a, b) in zip(self.wants, self.on, strict=True):
            letters = ""
            if self.solver.value(a):
                letters += "A"
            if self.solver.value(b):
                letters += "B"
            if letters:
                legs[want.name] = letters
        return legs


def _solve(wants: Sequence[Candidate], bounds: Bounds, force: str = "") -> _Solved:
    """The best set; `force` names a want that must be in it. Empty legs when there is none."""
    problem, solved = _Model(wants, bounds), _Solved({})
    for want, live in zip(wants, problem.live, strict=True):
        if want.name == force:
            problem.model.add(live == 1)
    if not _solve_ranks(problem, solved):
        return _Solved({}, proven=False)
    apart, proven = problem.best(problem.apart, least=True)
    solved.proven &= proven
    said = says.APART_UNPROVEN
    if proven:
        said = says.APART
    solved.steps.append(said(amps=Amperes(max(apart, 0) / HUNDREDTHS)))
    order = sum(place * live for place, live in enumerate(problem.live))
    _, proven = problem.best(order, least=True)
    solved.proven &= proven
    solved.legs |= problem.legs_solved()
    return solved


def _solve_ranks(problem: _Model, solved: _Solved) -> bool:
    """Settle how many are live of each rank, in turn; false where no set is within the bounds."""
    wanted: Counter[int] = Counter()
    for want in problem.wants:
        wanted[want.rank] += 1
    for rank in sorted(wanted):
        count, proven = problem.best(problem.rank(rank))
        if count < 0:
            return False
        solved.counts[rank] = count
        solved.proven &= proven
        said = says.RANK_UNPROVEN
        if proven:
            said = says.RANK
        solved.steps.append(said(rank=rank, n=count, wanted=wanted[rank]))
    return True


def _sums(live: Sequence[Candidate], legs: dict[str, str], bounds: Bounds) -> tuple[float, float]:
    on_a = []
    on_b = []
    for want in live:
        counted = amperes_counted(want, bounds)
        if "A" in legs[want.name]:
            on_a.append(counted)
        if "B" in legs[want.name]:
            on_b.append(counted)
    return sum(on_a), sum(on_b)


def _why_not(
    want: Candidate,
    live: Sequence[Candidate],
    legs: dict[str, str],
    fit: Sequence[Candidate],
    bounds: Bounds,
) -> Joined:
    """What stands against adding the want, and what would have to go for it."""
    reasons = _count_reasons(want, live, bounds)
    reasons += _leg_reasons(want, _sums(live, legs, bounds), bounds)
    if not reasons:
        reasons.append(says.NEARER())
    forced = _solve(fit, bounds, force=want.name)
    if want.name not in forced.legs:
        return Joined((*reasons, says.NO_SET()))
    gone = []
    for other in live:
        if other.name not in forced.legs:
            gone.append(other.name)
    if not gone:
        return Joined((*reasons, says.WOULD_LEAVE_NONE()))
    return Joined((*reasons, says.WOULD_LEAVE(others=Listed(tuple(gone)))))


def _count_reasons(want: Candidate, live: Sequence[Candidate], bounds: Bounds) -> list[Text]:
    """Why it is one circuit too many, or has no space in the panel."""
    reasons = []
    if len(live) + 1 > bounds.circuits:
        reasons.append(says.ONE_TOO_MANY(number=len(live) + 1, most=bounds.circuits))
    if bounds.spaces is None or want.circuit:
        return reasons
    new = want.poles
    for other in live:
        if not other.circuit:
            new += other.poles
    if new > bounds.spaces:
        reasons.append(says.NO_SPACE_LEFT(n=bounds.spaces))
    return reasons


def _leg_reasons(want: Candidate, sums: tuple[float, float], bounds: Bounds) -> list[Text]:
    """What a leg, or the balance, would come to on the leg that bears it best."""
    counted = amperes_counted(want, bounds)
    choices = want.leg
    if want.poles > 1 or not want.leg:
        choices = "AB"
    if want.poles > 1:
        after = [(sums[0] + counted, sums[1] + counted)]
    else:
        after = []
        for x in choices:
            after.append((sums[0] + counted * (x == "A"), sums[1] + counted * (x == "B")))
    a, b = min(after, key=max)
    reasons = []
    for leg, amount in (("A", a), ("B", b)):
        if amount > bounds.service_a + 1e-9:
            most = Amperes(bounds.service_a)
            reasons.append(says.LEG_WOULD(leg=leg, amps=amps(amount), most=most))
    if bounds.imbalance_a is not None:
        apart = []
        for on_a, on_b in after:
            apart.append(abs(on_a - on_b))
        nearest = min(apart)
        if nearest > bounds.imbalance_a + 1e-9:
            most = Amperes(bounds.imbalance_a)
            reasons.append(says.APART_WOULD(amps=amps(nearest), most=most))
    return reasons


def _up(amps: float) -> int:
    return math.ceil(round(amps * HUNDREDTHS, 6))


def _down(amps: float) -> int:
    return math.floor(round(amps * HUNDREDTHS, 6))
