"""A model of its own of the fewest receptacles: every elementary stretch is covered, by CP-SAT."""

from itertools import pairwise

from ortools.sat.python import cp_model


def smallest(
    length: float, ring: bool, there: list[float], places: list[float], reach: float
) -> int | None:
    """The fewest places to add so that every point is reached; None when no choice does it.

    `there` and `places` count from the start of the space, `length` is its own.
    """
    turns = (-length, 0.0, length) if ring else (0.0,)
    points = [*there, *places]
    cuts = {0.0, length}
    for point in points:
        cuts |= {point + turn + by for turn in turns for by in (-reach, reach)}
    edges = sorted(cut for cut in cuts if 0 <= cut <= length)
    model = cp_model.CpModel()
    chosen = [model.new_bool_var(f"p{n}") for n in range(len(points))]
    for n in range(len(there)):
        model.add(chosen[n] == 1)
    for left, right in pairwise(edges):
        if right - left < 0.001:
            continue
        middle = (left + right) / 2
        near = [
            chosen[n]
            for n, point in enumerate(points)
            if any(abs(point + turn - middle) <= reach for turn in turns)
        ]
        if not near:
            return None
        model.add_bool_or(near)
    model.minimize(sum(chosen))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value) - len(there)
