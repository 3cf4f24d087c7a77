"""Units as codes print them."""

import pytest

from inspections.checker.units import to_inner_unit


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
