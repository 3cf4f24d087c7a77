"""The fewest points that together reach all of a room's walls, against every choice there is."""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspections.propose.fewest import together

pytestmark = pytest.mark.any_database

LENGTH = 12


def _serves(far: list[list[tuple[str, float, float]]], chosen: tuple[int, ...]) -> bool:
    """Whether each millimetre-long piece of the walls is left out by fewer than all chosen."""
    return not any(
        all(any(w == wall and a <= at < b for w, a, b in far[n]) for n in chosen)
        for wall in "ab"
        for at in range(LENGTH)
    )


stretch = st.tuples(st.sampled_from("ab"), st.integers(0, LENGTH - 1), st.integers(1, LENGTH)).map(
    lambda s: (s[0], float(s[1]), float(max(s[2], s[1] + 1)))
)


@given(st.lists(st.lists(stretch, min_size=1, max_size=3), min_size=1, max_size=7))
def test_a_choice_is_found_exactly_when_there_is_one(far) -> None:
    for count in (1, 2, 3):
        served = any(
            _serves(far, chosen)
            for size in range(1, count + 1)
            for chosen in combinations(range(len(far)), size)
        )
        found = together(far, count)
        assert (found is not None) == served
        if found is not None:
            assert len(found) <= count
            assert _serves(far, found)


def test_nothing_out_of_reach_needs_nothing() -> None:
    assert together([[]], 1) == ()
