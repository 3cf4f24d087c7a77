"""What a tape is held against: declared by the rule, taken from the finding, told in words."""

from collections.abc import Iterator
from functools import cache
from types import SimpleNamespace

import pytest

from config.messages.saying import said
from inspections.checker.amendments import load_rulebook
from inspections.checker.asking.visual import HeldTo, RoomFacts
from inspections.checker.check import check
from inspections.checker.finding import Finding, rules
from inspections.checker.load import load_house
from inspections.checker.measures import Comparator, Measure, Tape, held_in
from inspections.checker.rulebook import rulebook_ids
from tests.conftest import EXAMPLES

BOOKS = [(book, load_rulebook(book)) for book in rulebook_ids()]
HOUSES = ("gannet", "marten", "quillet-planted")


@cache
def findings(book: str) -> list[Finding]:
    """What a rulebook says of each house of the examples."""
    houses = [load_house((EXAMPLES / f"{name}.json").read_bytes()) for name in HOUSES]
    return [found for house in houses for found in check(house, load_rulebook(book))]


def held_to(found: Finding) -> frozenset[HeldTo]:
    """What the parts of a room are held to; nothing where a finding is about one part."""
    if isinstance(found.facts, RoomFacts):
        return found.facts.held_to
    return frozenset()


def taped() -> Iterator[tuple[str, Tape]]:
    for rule in rules().values():
        for tape in rule.tapes:
            yield rule.id, tape


def test_what_is_measured_names_a_length_of_the_rulebooks() -> None:
    for rule, tape in taped():
        limits = [book.get(f"{rule}.{tape.limit}") for _, book in BOOKS]
        units = {limit.unit for limit in limits if limit}
        assert units == {"mm"}, (rule, tape.limit, units)


def test_which_way_a_tape_is_held_is_which_way_its_limit_loosens() -> None:
    """A limit that is looser when there is more of it is one not to be exceeded."""
    ways = {"more": Comparator.AT_MOST, "less": Comparator.AT_LEAST}
    for rule, tape in taped():
        for _, book in BOOKS:
            limit = book.get(f"{rule}.{tape.limit}")
            if limit is not None:
                assert ways[limit.looser] is tape.comparator, (rule, tape.limit, book.id)


@pytest.mark.parametrize("book", rulebook_ids())
def test_a_look_that_asks_a_length_has_a_measure(book: str) -> None:
    """So a new rule of points whose look a tape settles declares what the tape is held against."""
    asked = 0
    for found in findings(book):
        lengths = [each.name for each in held_to(found) if each.name.endswith("_mm")]
        if lengths:
            asked += 1
            assert found.measure is not None, (found.key, lengths)
    assert asked > 40


@pytest.mark.parametrize("book", rulebook_ids())
def test_the_limit_on_an_item_is_the_one_that_its_line_says(book: str) -> None:
    for found in findings(book):
        measure = found.measure
        limits = {each.limit for each in held_to(found)}
        if measure is None or not limits:
            continue
        (limit,) = {measure.min_mm, measure.max_mm} - {None}
        assert limit in limits, found.key


@pytest.mark.parametrize("book", rulebook_ids())
def test_a_figure_that_the_rule_itself_passes_contradicts_nothing(book: str) -> None:
    """Of one part the measure and the figures agree, since both are held against one limit."""
    compared = 0
    for found in findings(book):
        points = {p.name: p for p in getattr(found.facts, "points", ())}
        tape = next((t for t in found.rule.tapes if t.limit in points), None)
        if tape is None or points[tape.limit].found is None:
            continue
        point, measure = points[tape.limit], found.measure
        compared += 1
        assert measure is not None
        assert measure.contradicted_by(point.found) is not point.holds, found.key
    assert compared > 50


def test_what_is_measured_is_no_part_of_the_fingerprint() -> None:
    found = next(each for each in findings("cec-2021") if each.rule.id == "free-conductors")
    assert "tape" not in str(found.facts)
    assert found.measure == Measure("free conductor", min_mm=150)


@pytest.mark.parametrize(
    ("measure", "mm", "says"),
    [
        (
            Measure("free conductor", 150),
            10,
            "free conductor: 3/8 in. measured, minimum 5 15/16 in.",
        ),
        (Measure("free conductor", 150), 150, ""),
        (
            Measure("free conductor", 150),
            149.999,
            "free conductor: 5 7/8 in. measured, minimum 5 15/16 in.",
        ),
        (Measure("plate", None, 6.35), 7, "plate: 5/16 in. measured, maximum 1/4 in."),
        (Measure("plate", None, 6.35), 6.35, ""),
        (Measure("plate", None, 0), 1, "plate: 1/16 in. measured, maximum 0 in."),
        (Measure("gap", 10, 20), 15, ""),
        (Measure("gap", 10, 20), 21, "gap: 7/8 in. measured, maximum 3/4 in."),
        (Measure("gap", 10, 20), None, ""),
        (Measure("gap"), 1e308, ""),
    ],
)
def test_a_figure_against_its_limit_in_words(measure: Measure, mm: float | None, says: str) -> None:
    fault = measure.fault(mm)
    assert ((fault and said(fault)) or "") == says
    assert measure.contradicted_by(mm) is bool(says)


def test_a_limit_that_asks_nothing_is_no_measure() -> None:
    class Found:
        facts = SimpleNamespace(asked=0, none=None)
        limits = ()

    at_least = Tape("gap", Comparator.AT_LEAST, "gap_mm", held_in("asked"))
    assert at_least.of(Found()) is None
    assert Tape("gap", Comparator.AT_MOST, "gap_mm", held_in("none")).of(Found()) is None
    most = Tape("gap", Comparator.AT_MOST, "gap_mm", held_in("asked")).of(Found())
    assert most == Measure("gap", max_mm=0.0)
