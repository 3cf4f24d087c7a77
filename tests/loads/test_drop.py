"""Voltage drop against a textbook formula written apart: resistivity, area by gauge, length."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspections.checker.amendments import load_rulebook
from inspections.checker.house.cables import Cable, CableKind
from inspections.checker.house.parts import Gauge
from inspections.checker.rulebook import rulebook_ids
from inspections.loads.drop import longest_mm, ohm_per_km, voltage_drop
from inspections.loads.route import route, spread_drop

GAUGES = {"14": 14, "12": 12, "10": 10, "8": 8, "6": 6, "4": 4, "2": 2, "1/0": 0, "4/0": -3}
OHMS = load_rulebook("nec-2023").value("conductors.ohm_per_km_copper")


def by_textbook(volts: float, amps: float, metres: float, gauge: int) -> float:
    """Percent of drop: copper of 1.7241 µΩ·cm at 20 °C, warmed to 75 °C, of the gauge's area."""
    resistivity = 1.7241e-8 * (1 + 0.00393 * (75 - 20))
    diameter = 0.127e-3 * 92 ** ((36 - gauge) / 39)
    ohms = resistivity * 2 * metres / (math.pi * diameter**2 / 4)
    return float(100 * ohms * amps / volts)


@given(
    gauge=st.sampled_from(sorted(GAUGES)),
    volts=st.sampled_from([120.0, 240.0]),
    amps=st.floats(0.1, 200),
    metres=st.floats(0.1, 300),
)
def test_the_drop_is_that_of_the_textbook_within_the_rounding_of_tables(
    gauge: str, volts: float, amps: float, metres: float
) -> None:
    found = voltage_drop(volts, amps, metres * 1000, OHMS[gauge])
    assert found.percent == pytest.approx(
        by_textbook(volts, amps, metres, GAUGES[gauge]), rel=0.025
    )
    assert found.volts == pytest.approx(found.percent * volts / 100)


@given(amps=st.floats(0.1, 100), percent=st.floats(0.5, 10), ohms=st.floats(0.1, 20))
def test_the_longest_run_drops_just_so_much(amps: float, percent: float, ohms: float) -> None:
    far = longest_mm(120, amps, ohms, percent)
    assert voltage_drop(120, amps, far, ohms).percent == pytest.approx(percent)


def test_three_phases_have_the_root_of_three_and_no_current_no_end() -> None:
    one = voltage_drop(480, 20, 1000, 2)
    assert voltage_drop(480, 20, 1000, 2, 3).volts == pytest.approx(one.volts * 3**0.5 / 2)
    assert longest_mm(120, 0, 5, 3) == math.inf
    assert ohm_per_km(0.3048) == pytest.approx(1)


def test_both_codes_carry_the_same_resistances() -> None:
    tables = [load_rulebook(x).value("conductors.ohm_per_km_copper") for x in rulebook_ids()]
    assert all(table == tables[0] for table in tables)


def cable(name: str, ends: tuple[str, str], length_mm: float | None, awg: Gauge = "14") -> Cable:
    return Cable(id=name, kind=CableKind.NM, ends=ends, awg=awg, length_mm=length_mm)


def test_current_spread_over_outlets_drops_less_with_each_box_passed() -> None:
    run = [cable("1", ("P", "a"), 10_000), cable("2", ("a", "b"), 10_000)]
    way = route("P", run)
    assert way is not None
    assert (way.home_run_mm, way.far_mm) == (10_000, 20_000)
    found = spread_drop(way, {"a": 1, "b": 1}, 10, 120, OHMS)
    first = voltage_drop(120, 10, 10_000, OHMS["14"]).volts
    second = voltage_drop(120, 5, 10_000, OHMS["14"]).volts
    assert found is not None
    assert found.volts == pytest.approx(first + second)
    at_the_end = spread_drop(way, {}, 10, 120, OHMS)
    assert at_the_end is not None
    assert at_the_end.volts == pytest.approx(voltage_drop(120, 10, 20_000, OHMS["14"]).volts)


def test_each_stretch_drops_by_its_own_conductors_and_the_worst_branch_tells() -> None:
    run = [
        cable("1", ("P", "a"), 10_000, "12"),
        cable("2", ("b", "a"), 5_000),
        cable("3", ("a", "c"), 1_000),
    ]
    way = route("P", run)
    assert way is not None
    found = spread_drop(way, {"b": 1, "c": 1}, 8, 120, OHMS)
    expected = voltage_drop(120, 8, 10_000, OHMS["12"]).volts
    expected += voltage_drop(120, 4, 5_000, OHMS["14"]).volts
    assert found is not None
    assert found.volts == pytest.approx(expected)


def test_a_missing_length_or_size_gives_no_drop() -> None:
    assert route("P", [cable("1", ("P", "a"), None)]) is None
    assert route("P", [cable("1", ("x", "a"), 100)]) is None
    assert route("P", []) is None
    way = route("P", [cable("1", ("P", "a"), 100, "300")])
    assert way is not None
    assert spread_drop(way, {}, 1, 120, OHMS) is None
