"""The choice of hookup circuits against every set there is, and what it says of the rest."""

import itertools
import math
import random

import pytest

from config.messages.saying import said
from inspections.loads.choice import Bounds, Candidate, Chosen, choose
from tests.sure import sure


def brute(wants: list[Candidate], bounds: Bounds) -> tuple[int, ...]:
    """The best key of any set within the bounds, by trying every set and every leg."""
    ranks = sorted({want.rank for want in wants})
    ways = [_ways(want, bounds) for want in wants]
    best: tuple[int, ...] | None = None
    for picked in itertools.product(*ways):
        if sum(bool(legs) for legs in picked) > bounds.circuits:
            continue
        sums = [0, 0]
        for want, legs in zip(wants, picked, strict=True):
            margin = 100 / bounds.continuous_pct if want.continuous else 1
            for place, leg in enumerate("AB"):
                if leg in legs:
                    sums[place] += math.ceil(round(sure(want.amps) * margin * 100, 6))
        apart = abs(sums[0] - sums[1])
        new = sum(w.poles for w, legs in zip(wants, picked, strict=True) if legs and not w.circuit)
        if max(sums) > bounds.service_a * 100 or (
            bounds.imbalance_a is not None and apart > bounds.imbalance_a * 100
        ):
            continue
        if bounds.spaces is not None and new > bounds.spaces:
            continue
        live = [w.rank for w, legs in zip(wants, picked, strict=True) if legs]
        key = (*(-live.count(rank) for rank in ranks), apart)
        best = min(best or key, key)
    return sure(best)


def _ways(want: Candidate, bounds: Bounds) -> list[str]:
    share = bounds.continuous_pct / 100 if want.continuous else 1
    if want.amps is None or (want.breaker_a and want.amps > want.breaker_a * share + 1e-9):
        return [""]
    if want.poles > 1:
        return ["", "AB"]
    return ["", *(want.leg or "AB")]


def key_of(found: Chosen, wants: list[Candidate]) -> tuple[int, ...]:
    ranks = sorted({want.rank for want in wants})
    live = [want.rank for want in found.live]
    sums = [0, 0]
    for want in found.live:
        margin = 100 / found.bounds.continuous_pct if want.continuous else 1
        for place, leg in enumerate("AB"):
            if leg in found.legs[want.name]:
                sums[place] += math.ceil(round(sure(want.amps) * margin * 100, 6))
    return (*(-live.count(rank) for rank in ranks), abs(sums[0] - sums[1]))


@pytest.mark.parametrize("seed", range(20))
def test_the_choice_is_that_of_brute_force_on_500_small_lists(seed: int) -> None:
    rng = random.Random(seed)
    for _ in range(25):
        wants = []
        for i in range(rng.randint(1, 6)):
            poles = rng.choice([1, 1, 2])
            wants.append(
                Candidate(
                    f"w{i}",
                    rng.randint(1, 3),
                    rng.choice([None, *(rng.randint(1, 400) / 10 for _ in range(9))]),
                    poles,
                    rng.choice(["", "A", "B"]) if poles == 1 else "",
                    rng.choice([None, 15, 20, 30]),
                    rng.random() < 0.4,
                    rng.choice(["", "c"]),
                )
            )
        bounds = Bounds(
            rng.randint(0, 5),
            rng.choice([15, 30, 60]),
            imbalance_a=rng.choice([None, 2, 10]),
            spaces=rng.choice([None, 0, 2, 4]),
        )
        found = choose(wants, bounds)
        assert key_of(found, wants) == brute(wants, bounds)
        assert found.proven
        assert len(found.live) + len(found.left_out) == len(wants)
        assert all(why for _, why in found.left_out)


def heater(name: str, rank: int, kw: float) -> Candidate:
    return Candidate(name, rank, kw * 1000 / 240, 2, continuous=True, breaker_a=30)


def test_ten_circuits_at_most_and_the_least_needed_stay_off() -> None:
    wants = [Candidate(f"w{i:02}", 1 if i < 9 else 2, 1.0) for i in range(12)]
    found = choose(wants, Bounds(10, 100))
    assert len(found.live) == 10
    assert found.by_rank == {1: (9, 9), 2: (1, 3)}
    assert [want.name for want, _ in found.left_out] == ["w10", "w11"]
    assert all("It would be circuit 11 of 10." in said(why) for _, why in found.left_out)
    assert said(found.proof[0]) == "Rank 1: 9 of 9; no set has more."


def test_a_pole_of_30_amperes_carries_one_heater_and_says_why_not_two() -> None:
    found = choose([heater("east", 1, 4.8), heater("west", 1, 4.8)], Bounds(10, 30))
    assert [want.name for want in found.live] == ["east"]
    assert found.a_amps == pytest.approx(25)
    ((west, why),) = found.left_out
    assert west.name == "west"
    assert said(why) == (
        "Leg A would carry 50 A; 30 A maximum. Leg B would carry 50 A; 30 A maximum. With it, the "
        "best set would leave east off."
    )


def test_a_want_that_can_never_be_carried_says_what_of_it_is_wrong() -> None:
    found = choose(
        [
            Candidate("unknown", 1, None),
            Candidate("too large", 1, 17.0, breaker_a=20, continuous=True),
            Candidate("past the service", 1, 101.0),
        ],
        Bounds(10, 100),
    )
    told = {want.name: said(why) for want, why in found.left_out}
    assert found.live == ()
    assert told["unknown"] == "Its load is not recorded yet."
    assert told["too large"] == "17 A is more than 80% of its 20 A breaker."
    assert told["past the service"] == "101 A is more than the service's 100 A."


def test_the_panel_s_free_spaces_bound_the_temporary_circuits() -> None:
    wants = [heater("one", 1, 3), Candidate("lights", 1, 5.0, circuit="lit1", leg="A")]
    found = choose(wants, Bounds(10, 100, spaces=1))
    assert [want.name for want in found.live] == ["lights"]
    assert "The panel has 1 free space." in said(found.left_out[0][1])


def test_two_wants_of_one_name_are_refused() -> None:
    with pytest.raises(ValueError, match="give each its own"):
        choose([heater("x", 1, 1), heater("x", 2, 1)], Bounds(10, 100))
