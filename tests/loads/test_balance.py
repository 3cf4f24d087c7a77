"""Panel balance against every arrangement there is, and proofs on panels of 42 circuits."""

import itertools
import random

import pytest

from config.messages.saying import said
from inspections.loads.balance import CannotBalance, Single, _by_walking_back, _items, balance


def brute(singles: list[Single], places_a: int, places_b: int) -> tuple[int, int] | None:
    """The least imbalance and the fewest moves at it, by trying every arrangement."""
    best = None
    for legs in itertools.product("AB", repeat=len(singles)):
        on = dict(zip((x.id for x in singles), legs, strict=True))
        if legs.count("A") > places_a or legs.count("B") > places_b:
            continue
        if any(x.opposite and on[x.id] == on[x.opposite] for x in singles):
            continue
        a = sum(x.va for x in singles if on[x.id] == "A")
        apart = abs(2 * a - sum(x.va for x in singles))
        moves = sum(bool(x.leg) and x.leg != on[x.id] for x in singles)
        best = min(best or (apart, moves), (apart, moves))
    return best


def random_singles(rng: random.Random, most: int) -> list[Single]:
    count = rng.randint(1, most)
    sizes = rng.choice([(0, 5), (1, 1920), (1400, 1440)])
    singles = [
        Single(f"c{i}", rng.randint(*sizes), rng.choice(["", "A", "B"])) for i in range(count)
    ]
    if count >= 2 and rng.random() < 0.4:
        first, second = rng.sample(range(count), 2)
        legs = rng.choice([("A", "B"), ("B", "A"), ("", "")])
        for index, partner, leg in ((first, second, legs[0]), (second, first, legs[1])):
            singles[index] = Single(f"c{index}", singles[index].va, leg, f"c{partner}")
    return singles


@pytest.mark.parametrize("seed", range(20))
def test_the_balance_is_that_of_brute_force_on_500_small_panels(seed: int) -> None:
    rng = random.Random(seed)
    for _ in range(25):
        singles = random_singles(rng, 8)
        places = rng.randint(len(singles) // 2, len(singles)), rng.randint(1, len(singles))
        best = brute(singles, *places)
        if best is None:
            with pytest.raises(CannotBalance):
                balance(singles, *places)
            continue
        found = balance(singles, *places)
        assert (found.imbalance_va, len(found.moved)) == best
        assert found.fewest_moves_proven
        legs = list(found.legs.values())
        assert legs.count("A") <= places[0]
        assert legs.count("B") <= places[1]


@pytest.mark.parametrize("seed", range(6))
def test_on_42_circuits_the_gap_is_proven_to_be_nothing(seed: int) -> None:
    rng = random.Random(seed)
    singles = [Single(f"c{i}", rng.randint(100, 1920), rng.choice("AB")) for i in range(42)]
    found = balance(singles, 22, 21)
    total = sum(single.va for single in singles)
    assert found.imbalance_va == total % 2, "no nearer than the parity of the whole allows"
    assert found.fewest_moves_proven
    assert f"none brings the legs nearer than {total % 2} VA" in said(found.proof)


def test_42_like_circuits_and_a_large_one_leave_what_no_arrangement_can_correct() -> None:
    singles = [Single(f"c{i}", 100) for i in range(41)] + [Single("big", 9000)]
    found = balance(singles, 21, 21)
    assert found.imbalance_va == 9000 - 100
    assert list(found.legs.values()).count("A") == 21


def test_circuits_that_share_a_neutral_are_put_on_opposite_legs() -> None:
    singles = [Single("x", 900, "A", "y"), Single("y", 900, "A"), Single("z", 10, "B")]
    found = balance(singles, 2, 2)
    assert found.legs["x"] != found.legs["y"]


def test_an_arrangement_is_found_without_the_solver_too() -> None:
    singles = [Single("p", 500, "A"), Single("q", 300, "B"), Single("r", 200, "A")]
    items = _items(singles)
    ways = _by_walking_back(items, 3, 2, 2, 500)
    assert sum(item.ways[way][0] for item, way in zip(items, ways, strict=True)) == 500


def test_the_walk_back_keeps_to_the_places_of_each_leg() -> None:
    singles = [Single(x, 100) for x in "abcd"]
    items = _items([*singles, Single("e", 400)])
    for places in ((4, 1), (1, 4)):
        ways = _by_walking_back(items, 5, *places, 400)
        on_a = [item.ways[way] for item, way in zip(items, ways, strict=True)]
        assert sum(va for va, _ in on_a) == 400
        assert sum(taken for _, taken in on_a) == places[0]


def test_too_many_circuits_and_a_negative_load_are_refused() -> None:
    with pytest.raises(CannotBalance) as refused:
        balance([Single(x, 1) for x in "abc"], 1, 1)
    assert said(refused.value.text) == "3 single-pole circuits do not fit 2 spaces."
    with pytest.raises(ValueError, match="below nothing"):
        balance([Single("a", -1)], 1, 1)
    assert balance([], 2, 2).imbalance_va == 0
