"""Single-pole circuits over the two legs of a panel: the least imbalance there is, with proof.

Each circuit, or pair that shares a neutral, has two ways to lie. Every sum that leg A can have is
kept as one bit of a number, for each count of places taken on it; so the nearest reachable sum
to half is the best there is, and the table of sums is the proof. Among the arrangements of that
imbalance a solver looks for the one that moves the fewest circuits.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from config.messages.message import Joined, Text, VoltAmperes

from . import check_messages as says

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

EFFORT = 2.0  # deterministic seconds: the same on a slow machine and a fast one


@dataclass(frozen=True, slots=True)
class Single:
    """A single-pole circuit: its load in whole volt-amperes and the leg it is on, if any."""

    id: str
    va: int
    leg: str = ""
    opposite: str = ""
    """The circuit with which it shares a neutral, and which must be on the other leg."""


@dataclass(frozen=True)
class Balance:
    """An arrangement over the legs, and what is proven of it."""

    legs: dict[str, str]
    a_va: int
    b_va: int
    moved: tuple[str, ...]
    fewest_moves_proven: bool
    proof: Joined

    @property
    def imbalance_va(self) -> int:
        """By how much the legs differ."""
        return abs(self.a_va - self.b_va)


class CannotBalance(Exception):
    """The circuits do not fit the places of the legs; the text says by how many."""

    def __init__(self, text: Text) -> None:
        super().__init__(text.id)
        self.text = text


@dataclass(frozen=True, slots=True)
class _Item:
    """A circuit or a pair, by what it lays on leg A in each of its two ways."""

    ids: tuple[str, ...]
    ways: tuple[tuple[int, int], tuple[int, int]]  # volt-amperes and places on leg A
    prefers: int | None
    """The way that it lies now; None when it has no place yet."""


def balance(singles: Sequence[Single], places_a: int, places_b: int) -> Balance:
    """The arrangement of least imbalance, and among those the one of fewest moves.

    Raises CannotBalance when the circuits have more poles than the legs have places, and
    ValueError for a load below nothing.
    """
    if any(single.va < 0 for single in singles):
        raise ValueError("a load is below nothing; give volt-amperes from 0 up")
    if len(singles) > places_a + places_b:
        raise CannotBalance(says.NO_ROOM(n=len(singles), places=places_a + places_b))
    items = _items(singles)
    total, best = _nearest(items, len(singles), places_a, places_b)
    chosen, proven = _fewest_moves(items, len(singles), places_a, places_b, best)
    legs: dict[str, str] = {}
    for item, way in zip(items, chosen, strict=True):
        legs |= dict(zip(item.ids, "AB" if way == 0 else "BA", strict=False))
    a_va = 0
    moved = []
    for single in singles:
        if legs[single.id] == "A":
            a_va += single.va
        if single.leg and legs[single.id] != single.leg:
            moved.append(single.id)
    proof = _proof(len(items), abs(2 * best - total), total, len(moved), proven)
    return Balance(legs, a_va, total - a_va, tuple(moved), proven, proof)


def _proof(items: int, least: int, total: int, moved: int, proven: bool) -> Joined:
    moves = says.MOVES
    if proven:
        moves = says.MOVES_FEWEST
    changes = says.NO_MOVES()
    if moved:
        changes = moves(n=moved)
    compared = says.PROOF(ways=2**items, least=VoltAmperes(least), total=VoltAmperes(total))
    return Joined((compared, changes))


def _items(singles: Sequence[Single]) -> list[_Item]:
    by = {}
    opposites: dict[str, Single] = {}
    for single in singles:
        by[single.id] = single
        if single.opposite != single.id:
            opposites.setdefault(single.opposite, single)
    items, done = [], set()
    for single in singles:
        if single.id in done:
            continue
        partner = by.get(single.opposite) or opposites.get(single.id)
        now = {"A": 0, "B": 1}.get(single.leg)
        if partner is None or partner.id in done:
            items.append(_Item((single.id,), ((single.va, 1), (0, 0)), now))
        else:
            both = (single.id, partner.id)
            if single.leg and single.leg == partner.leg:
                now = None  # on one leg today, which a shared neutral does not bear
            items.append(_Item(both, ((single.va, 1), (partner.va, 1)), now))
            done.add(partner.id)
        done.add(single.id)
    return items


def _nearest(items: Sequence[_Item], count: int, places_a: int, places_b: int) -> tuple[int, int]:
    """The total, and the reachable sum of leg A that is nearest to half of it."""
    total = 0
    reach = {0: 1}
    for item in items:
        total += item.ways[0][0] + item.ways[1][0]
        reach = _with_item(reach, item)
    allowed = 0
    for taken, sums in reach.items():
        if taken <= places_a and count - taken <= places_b:
            allowed |= sums
    if not allowed:
        pairs = sum(len(item.ids) == 2 for item in items)
        raise CannotBalance(says.NEUTRALS_NO_ROOM(n=pairs, a=places_a, b=places_b))
    half = total // 2
    sums_near = []
    if below := allowed & ((1 << half + 1) - 1):
        sums_near.append(below.bit_length() - 1)
    if above := allowed >> half + 1:
        sums_near.append(half + 1 + (above & -above).bit_length() - 1)
    return total, min(sums_near, key=lambda each: abs(2 * each - total))


def _with_item(reach: dict[int, int], item: _Item) -> dict[int, int]:
    """By places taken on leg A, a number whose set bits are its reachable sums: one item more."""
    after: dict[int, int] = {}
    for taken, sums in reach.items():
        for va, places in item.ways:
            after[taken + places] = after.get(taken + places, 0) | sums << va
    return after


def _fewest_moves(
    items: Sequence[_Item], count: int, places_a: int, places_b: int, best: int
) -> tuple[list[int], bool]:
    """A way for each item that gives the best imbalance, moving as few circuits as can be."""
    from ortools.sat.python import cp_model  # heavy, and only where a panel is balanced

    model = cp_model.CpModel()
    other = []
    for index in range(len(items)):
        other.append(model.new_bool_var(f"other{index}"))
    total = sum(sum(way[0] for way in item.ways) for item in items)

    def laid(part: int) -> "cp_model.LinearExprT":
        return sum(
            item.ways[0][part] + (item.ways[1][part] - item.ways[0][part]) * turned
            for item, turned in zip(items, other, strict=True)
        )

    model.add_linear_expression_in_domain(
        laid(0), cp_model.Domain.from_values(sorted({best, total - best}))
    )
    model.add_linear_constraint(laid(1), max(0, count - places_b), places_a)
    moves = []
    for item, turned in zip(items, other, strict=True):
        if item.prefers is not None:
            moves.append(len(item.ids) * (1 - turned if item.prefers else turned))
    model.minimize(sum(moves))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_deterministic_time = EFFORT
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return _by_walking_back(items, count, places_a, places_b, best), False
    ints = []
    for turned in other:
        ints.append(int(solver.value(turned)))
    return ints, status == cp_model.OPTIMAL


def _by_walking_back(
    items: Sequence[_Item], count: int, places_a: int, places_b: int, best: int
) -> list[int]:
    """Some way for each item that gives the sum, read off the tables of reachable sums."""
    tables = [{0: 1}]
    for item in items:
        tables.append(_with_item(tables[-1], item))
    taken = next(
        on_a
        for on_a, sums in tables[-1].items()
        if on_a <= places_a and count - on_a <= places_b and sums >> best & 1
    )
    left = best
    chosen = []
    for item, before in zip(reversed(items), reversed(tables[:-1]), strict=True):
        for way, (va, places) in enumerate(item.ways):
            if va <= left and before.get(taken - places, 0) >> (left - va) & 1:
                chosen.append(way)
                left, taken = left - va, taken - places
                break
    return chosen[::-1]
