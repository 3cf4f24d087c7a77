"""Rulebooks as data: each limit says where it stands and how it is known."""

import pytest

from inspections.checker.amendments import load_rulebook
from inspections.checker.finding import rules
from inspections.checker.rulebook import KNOWN, LOOSER, Limit, RulebookFault, _limit, rulebook_ids
from inspections.checker.units import INSIDE
from inspections.loads import TABLES

LIMITS = [
    pytest.param(limit, id=f"{book}-{limit.name}")
    for book in rulebook_ids()
    for limit in load_rulebook(book).limits.values()
    if limit.name.partition(".")[0] not in TABLES
]


def test_both_codes_come_in_three_editions() -> None:
    assert rulebook_ids() == (
        *("cec-2018", "cec-2021", "cec-2024"),
        *("nec-2017", "nec-2020", "nec-2023"),
    )


@pytest.mark.parametrize("limit", LIMITS)
def test_every_limit_says_where_it_stands_and_how_it_is_known(limit: Limit) -> None:
    assert limit.section
    assert limit.known in KNOWN
    assert limit.looser in LOOSER
    assert bool(limit.source) == (limit.known == "read")
    assert limit.name.partition(".")[0] in rules()


@pytest.mark.parametrize("limit", LIMITS)
def test_every_figure_has_a_unit_and_a_looser_way(limit: Limit) -> None:
    if isinstance(limit.value, int | float) and not isinstance(limit.value, bool):
        assert limit.unit
        assert limit.looser != "none"


@pytest.mark.parametrize("limit", LIMITS)
def test_units_inside_are_metric(limit: Limit) -> None:
    assert limit.unit not in INSIDE


def test_an_edition_is_named_on_every_limit_it_inherits() -> None:
    book = load_rulebook("nec-2023")
    editions = {limit.edition for limit in book.limits.values()}
    assert {edition for edition in editions if "CFR" not in edition} == {"NEC 2023"}
    assert book["manufactured-load.cord_a"].edition == "24 CFR 3280, 2021"
    assert book["optional-load.rest_pct"].edition == "NEC 2023"
    assert book["wall-receptacles.reach_mm"].value == 1828.8
    assert book["wall-receptacles.reach_mm"].printed == "6 ft"


def test_a_dropped_limit_is_gone() -> None:
    assert "counter-receptacles.first_m2" in load_rulebook("nec-2020")
    assert "counter-receptacles.first_m2" not in load_rulebook("nec-2023")
    assert load_rulebook("nec-2023").get("counter-receptacles.first_m2") is None


def test_a_differing_edition_leaves_the_one_it_is_based_on_as_it_was() -> None:
    assert load_rulebook("cec-2018")["box-fill.studs_together"].value is True
    assert "box-fill.studs_together" not in load_rulebook("cec-2021")


def test_an_unknown_rulebook_is_refused_with_those_there_are() -> None:
    with pytest.raises(
        RulebookFault, match=r"no rulebook 'nec-1999'; there are cec-2018, .*nec-2023"
    ):
        load_rulebook("nec-1999")


GIVEN = {"value": 1, "unit": "mm", "section": "1", "known": "read", "source": "there"}


@pytest.mark.parametrize(
    "change", [{"known": "guessed"}, {"looser": "up"}, {"source": "elsewhere"}, {"source": None}]
)
def test_a_limit_without_its_grounds_is_refused(change) -> None:
    assert _limit("x.y", GIVEN, "NEC 0", {"there": "A source"}).source == "A source"
    with pytest.raises(RulebookFault, match=r"^x\.y: "):
        _limit("x.y", GIVEN | change, "NEC 0", {"there": "A source"})


def test_a_rulebook_speaks_on_the_rules_it_has_limits_for() -> None:
    book = load_rulebook("nec-2023")
    assert book.speaks_on("box-fill")
    assert not book.speaks_on("box")
    assert book.value("box-fill.strap") == 2
    assert book.value("box-fill.nothing", 7) == 7
