"""Wire sizes as numbers."""

import pytest

from inspections.checker.house.gauges import awg, awg_number


@pytest.mark.parametrize(
    ("gauge", "number"),
    [("14", 14), ("1", 1), ("1/0", 0), ("2/0", -1), ("4/0", -3), ("250", -4), ("500", -8)],
)
def test_larger_conductors_have_smaller_numbers(gauge: str, number: int) -> None:
    assert awg_number(gauge) == number


def test_no_size_is_smaller_than_every_size() -> None:
    assert awg_number(None) == 99


def test_a_number_is_told_as_its_size() -> None:
    assert [awg(number) for number in (14, 1, 0, -1, -3, -4, -8)] == [
        *("14 AWG", "1 AWG", "1/0 AWG", "2/0 AWG", "4/0 AWG", "250 kcmil", "500 kcmil"),
    ]
