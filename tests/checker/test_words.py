"""Measures as people on site say them."""

import pytest

from inspections.checker.units import to_inner_unit
from inspections.checker.words import feet, length, listed, number, plural, volume


@pytest.mark.parametrize(
    ("mm", "text"),
    [
        (1828.8, "6 ft 0 in"),
        (25.4, "1 in"),
        (38.1, "1 1/2 in"),
        (1841.5, "6 ft 0 1/2 in"),
        (304.7, "1 ft 0 in"),
        (0, "0 in"),
        (-152.4, "-6 in"),
        (1.5875, "1/16 in"),
    ],
)
def test_feet_and_inches(mm, text) -> None:
    assert feet(mm) == text


def test_a_length_is_metric_and_imperial_where_those_are_used() -> None:
    assert length(1800) == "1,800 mm"
    assert length(1828.8, imperial=True) == "1,828.8 mm (6 ft 0 in)"


def test_a_volume_is_metric_and_imperial_where_those_are_used() -> None:
    assert volume(172.2) == "172.2 mL"
    assert volume(229.418896, imperial=True) == "229.4 mL (14.00 in³)"


def test_counts_and_lists() -> None:
    assert [number(2), number(0.25), number(1.5), number(0)] == ["2", "0.25", "1.5", "0"]
    assert [plural(1, "box", "boxes"), plural(2, "box", "boxes")] == ["1 box", "2 boxes"]
    assert plural(0, "brace") == "0 braces"
    assert [listed(""), listed("a"), listed("ab"), listed("abc")] == [
        "",
        "a",
        "a and b",
        "a, b and c",
    ]


@pytest.mark.parametrize(
    ("value", "unit", "turned"),
    [
        (6, "ft", (1828.8, "mm")),
        (18, "in", (457.2, "mm")),
        (1.5, "m", (1500.0, "mm")),
        (2.25, "in3", (36.870894, "mL")),
        (9, "ft2", (0.83612736, "m²")),
        (2, "conductors", (2, "conductors")),
        ({"nm": 0, "open": 2}, "in", ({"nm": 0.0, "open": 50.8}, "mm")),
    ],
)
def test_units_of_the_code_turn_into_those_inside(value, unit, turned) -> None:
    assert to_inner_unit(value, unit) == turned
