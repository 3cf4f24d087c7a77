"""Stretches of a line."""

import pytest

from inspections.checker.geometry.intervals import beyond, beyond_on_ring, complement


@pytest.mark.parametrize(
    ("cuts", "left"),
    [
        ([], [(0, 100)]),
        ([(20, 30)], [(0, 20), (30, 100)]),
        ([(0, 10), (90, 100)], [(10, 90)]),
        ([(20, 40), (30, 50)], [(0, 20), (50, 100)]),
        ([(20, 40), (25, 30)], [(0, 20), (40, 100)]),
        ([(20, 30), (30, 40)], [(0, 20), (40, 100)]),
        ([(-10, 10), (95, 120)], [(10, 95)]),
        ([(0, 100)], []),
    ],
)
def test_a_line_without_its_cuts(cuts, left) -> None:
    assert complement(cuts, 100) == left


@pytest.mark.parametrize(
    ("cuts", "left"),
    [
        ([(20, 30)], [(30, 120)]),
        ([(20, 30), (60, 70)], [(30, 60), (70, 120)]),
        ([(0, 10)], [(10, 100)]),
        ([(-10, 10)], [(10, 90)]),
        ([(90, 110), (40, 50)], [(10, 40), (50, 90)]),
    ],
)
def test_a_ring_without_its_cuts(cuts, left) -> None:
    assert complement(cuts, 100, ring=True) == left


def test_out_of_reach_of_no_point_is_everything() -> None:
    assert beyond(10, 90, [], 5) == [(10, 90)]
    assert beyond_on_ring(90, [], 5) == [(0, 90)]


def test_out_of_reach_between_and_beside_points() -> None:
    assert beyond(0, 100, [70, 20], 10) == [(0, 10), (30, 60), (80, 100)]


def test_at_the_reach_exactly_is_within_it() -> None:
    assert beyond(0, 40, [10, 30], 10) == []


def test_a_ring_is_measured_both_ways_round() -> None:
    assert beyond_on_ring(100, [5], 30) == [(35, 75)]
    assert beyond_on_ring(100, [5, 55], 25) == []
