"""Ampacity of bundled cables: counts, factors and breakers, held to figures from the tables."""

import pytest

from config.messages.saying import ENGLISH, METRIC, said
from inspections.checker.amendments import load_rulebook
from inspections.checker.asking.derating import Count, Derated, Derating, carrying
from inspections.checker.house.cables import Cable, CableKind
from inspections.checker.rules.bundling import BundleFacts, Grouped, Missing
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
    assert few == Derated(4, 80, 30, 20, 20, 20)
    assert many == Derated(10, 50, 30, 20, 15, 15)
    assert table.of("8", 10, next_up=False).breaker_a == 27.5
    assert table.of("8", 10, next_up=True).breaker_a == 30


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
    return findings(made, parts.pop("book", "nec-2023"))["bundling:B1/C1"]


def told(finding, reader=ENGLISH) -> list[str]:
    """What it says, its figure and limit, what to do, and then its working."""
    words = finding.words
    lines = (words.says, words.figure, words.limit, words.remedy, *words.working)
    return [said(line, reader) for line in lines]


RECEPTACLES = [{"kind": "receptacle", "circuit": "1"}] * 2
TOGETHER = {"apart": False, "length_mm": 900}


def test_a_bundle_is_told_step_by_step() -> None:
    carrying_all = {"current_carrying": 3}
    finding = bundled(bundle=TOGETHER, cable=carrying_all, devices=RECEPTACLES)
    assert told(finding) == [
        "Cable C1 in bundle B1: 20 A breaker; 15 A maximum.",
        "20 A",
        "15 A",
        "Separate the cables, or use larger wire or a smaller breaker.",
        "12 current-carrying conductors together in bundle B1",
        "12 AWG at 90 °C: 30 A × 50% = 15 A",
        "at 60 °C: 20 A; the lower counts: 15 A",
        "several receptacles on the circuit: next larger breaker not allowed",
    ]


def test_conductors_nobody_counted_are_named_only_where_they_decide() -> None:
    says, *_, remedy = told(bundled(bundle=TOGETHER, devices=RECEPTACLES))[:4]
    assert says == "Not recorded yet: how many of the conductors carry current."
    assert remedy == "Record it, or separate the cables."
    meets = bundled(bundle=TOGETHER, cable={"insulated": 2}, devices=RECEPTACLES[:1])
    assert told(meets)[0] == "Cable C1 in bundle B1: 20 A breaker; 20 A maximum."
    assert told(meets)[-1] == "next standard breaker: 20 A"


def test_what_makes_no_difference_is_said_to() -> None:
    either = bundled(bundle={"apart": False}, cable={"insulated": 2})
    assert told(either)[-1] == (
        "not recorded yet: how far bundle B1 runs together; the same either way"
    )
    open_end = bundled(bundle={"length_mm": 900}, cable={"insulated": 4}, devices=RECEPTACLES)
    assert open_end.facts.missing == {Missing.APART, Missing.CARRYING}
    assert told(open_end)[0] == (
        "Not recorded yet: whether the cables of bundle B1 are kept apart and "
        "how many of the conductors carry current."
    )
    assert told(open_end)[-2] == "not recorded yet: whether the cables of bundle B1 are kept apart"


def test_a_cable_of_no_circuit_and_a_size_of_no_table_are_named() -> None:
    nowhere = bundled(bundle=TOGETHER, cable={"circuit": "missing"})
    assert nowhere.facts.missing == {Missing.BREAKER}
    assert told(nowhere)[0] == "Not recorded yet: the circuit of cable C1."
    thick = bundled(bundle=TOGETHER, cable={"awg": "2/0"})
    assert thick.facts.missing == {Missing.SIZE}
    assert told(thick)[0] == "The tables here have no ampacity for cable C1, size 2/0."


def test_cables_that_do_not_count_are_told_with_the_length_that_would() -> None:
    apart = bundled(bundle={"apart": True})
    assert told(apart)[:3] == ["The cables of bundle B1 are kept apart.", "", "2 ft"]
    past = "Bundle B1 runs 2 ft together; derating starts past 2 ft."
    assert told(bundled(bundle={"length_mm": 609.6}))[0] == past
    short = bundled(bundle={"length_mm": 599.9}, book="cec-2021")
    at = "Bundle B1 runs 599 mm together; derating starts at 600 mm."
    assert told(short, METRIC)[0] == at


def test_how_far_a_bundle_runs_is_a_fact_only_where_it_is_too_short() -> None:
    long: BundleFacts = bundled(bundle=TOGETHER).facts
    short: BundleFacts = bundled(bundle={"length_mm": 300}).facts
    assert (long.grouped, long.length_mm) == (Grouped.YES, None)
    assert (short.grouped, short.length_mm) == (Grouped.SHORT_RUN, 300)
