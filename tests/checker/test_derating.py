"""Ampacity of bundled cables: counts, factors and breakers, held to figures from the tables."""

import pytest

from inspections.checker.amendments import load_rulebook
from inspections.checker.asking.derating import Count, Derating, carrying
from inspections.checker.house.cables import Cable, CableKind
from tests.checker.build import findings, house


def cable(insulated: int, said: int | None = None) -> Cable:
    return Cable(
        id="C", kind=CableKind.NM, ends=("a", "b"), insulated=insulated, current_carrying=said
    )  # fmt: skip


def derating(book: str) -> Derating:
    limits = load_rulebook(book).limits_of("bundling")
    return Derating({limit.name.removeprefix("bundling."): limit.value for limit in limits})


@pytest.mark.parametrize(
    ("cables", "count"),
    [
        ([], (0, 0)),
        ([cable(1)], (1, 1)),
        ([cable(2), cable(2)], (4, 4)),
        ([cable(3), cable(2)], (4, 5)),
        ([cable(3, 3), cable(2)], (5, 5)),
        ([cable(3, 0), cable(3, 1)], (1, 1)),
    ],
)
def test_conductors_that_carry_current_at_least_and_at_most(cables, count) -> None:
    assert carrying(cables) == Count(*count)


@pytest.mark.parametrize(
    ("book", "percents"),
    [
        ("nec-2023", {3: 100, 4: 80, 6: 80, 7: 70, 9: 70, 10: 50, 20: 50, 21: 45, 31: 40, 41: 35}),
        ("cec-2021", {3: 100, 4: 80, 6: 80, 7: 70, 24: 70, 25: 60, 42: 60, 43: 50, 99: 50}),
    ],
)
def test_what_is_left_of_the_ampacity(book, percents) -> None:
    table = derating(book)
    assert {count: table.percent(count) for count in percents} == percents


def test_the_ampacity_at_90_is_lowered_and_then_held_to_that_at_60() -> None:
    table = derating("nec-2023")
    few, many = (table.of("12", count, next_up=False) for count in (4, 10))
    assert few == (4, 80, 30, 20, 20, 20)
    assert many == (10, 50, 30, 20, 15, 15)
    assert table.of("8", 10, next_up=False).breaker == 27.5
    assert table.of("8", 10, next_up=True).breaker == 30


def bundled(**parts):
    """The finding on C1, bundled with three cables more."""
    bundle = {"cables": ["C1", "C2", "C3", "C4"]} | parts.pop("bundle", {})
    given = {"awg": "12", "circuit": "1", "insulated": 3} | parts.pop("cable", {})
    made = house(
        boxes=[{}, {"id": "c", "devices": parts.pop("devices", [])}],
        circuits=[{"id": "1", "panel": "P", "name": "Rooms", "breaker_a": 20}],
        cables=[given] * 4,
        bundles=[bundle],
    )
    return findings(made, parts.pop("book", "nec-2023"))["bundling:B1/C1"].words


RECEPTACLES = [{"kind": "receptacle", "circuit": "1"}] * 2
TOGETHER = {"apart": False, "length_mm": 900}


def test_a_bundle_is_told_step_by_step() -> None:
    carrying_all = {"current_carrying": 3}
    words = bundled(bundle=TOGETHER, cable=carrying_all, devices=RECEPTACLES)
    assert words.says == "In bundle B1 12 AWG may have 15 A, and not 20 A."
    assert (words.figure, words.limit) == ("20 A", "at most 15 A")
    assert words.working == (
        "in bundle B1: 12 current-carrying conductors together",
        "12 AWG at 90 °C: 30 A × 50 % = 15 A",
        "held to 20 A at 60 °C: 15 A",
        "no breaker above that will do: 15 A",
    )
    assert words.remedy == "Part the cables, use a larger size or a smaller breaker."


def test_conductors_nobody_counted_are_named_only_where_they_decide() -> None:
    words = bundled(bundle=TOGETHER, devices=RECEPTACLES)
    assert words.says == "Nobody recorded how many of the conductors carry current."
    assert words.remedy == ("Record how many of the conductors carry current, or part the cables.")
    meets = bundled(bundle=TOGETHER, cable={"insulated": 2}, devices=RECEPTACLES[:1])
    assert meets.says == "In bundle B1 12 AWG may have 20 A; its breaker is 20 A."
    assert meets.working[-1] == "the next standard breaker above that will do: 20 A"


def test_what_makes_no_difference_is_said_to() -> None:
    either = bundled(bundle={"apart": False}, cable={"insulated": 2})
    assert either.working[-1] == (
        "not recorded: how far the cables run together; the same either way"
    )
    open_end = bundled(bundle={"length_mm": 900}, cable={"insulated": 4}, devices=RECEPTACLES)
    assert open_end.says == (
        "Nobody recorded whether the cables are kept apart and "
        "how many of the conductors carry current."
    )
    assert open_end.working[-2] == "not recorded: whether the cables are kept apart"


def test_a_cable_of_no_circuit_and_a_size_of_no_table_are_named() -> None:
    assert "which circuit the cable belongs to" in (
        bundled(bundle=TOGETHER, cable={"circuit": "missing"}).says
    )
    assert "an ampacity for its size" in bundled(bundle=TOGETHER, cable={"awg": "2/0"}).says


def test_cables_apart_are_told_with_the_length_that_would_count() -> None:
    words = bundled(bundle={"apart": True})
    assert words.says == "The cables of bundle B1 are apart, or too short a way together to count."
    assert words.limit == "bundled over 609.6 mm (2 ft 0 in)"
