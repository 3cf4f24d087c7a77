"""What holds for every house: more load never asks for less, but where a rule says so."""

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from inspections.checker.amendments import load_rulebook
from inspections.checker.finding import Verdict
from inspections.checker.house.service import ApplianceKind, FloorArea, HeatControl
from inspections.checker.rulebook import rulebook_ids
from inspections.loads import Load, LoadFacts, WayRole, service_load
from inspections.loads.check_messages import NO_FLOOR_AREA
from inspections.loads.service import ways_of

BOOKS = [load_rulebook(name) for name in rulebook_ids()]
LOADS = st.builds(
    Load,
    id=st.sampled_from(["one", "another", "a third"]),
    kind=st.sampled_from(ApplianceKind),
    va=st.integers(0, 25_000).map(float),
    volts=st.sampled_from([120.0, 240.0]),
    motor=st.booleans(),
)
HOUSES = st.builds(
    LoadFacts,
    floor=st.floats(20, 600).map(lambda m2: FloorArea(value=m2, unit="m2")),
    loads=st.lists(LOADS, max_size=9).map(tuple),
    heat_control=st.sampled_from([None, *HeatControl]),
    interlocked=st.sampled_from([None, True, False]),
    supplementary_together=st.sampled_from([None, True, False]),
    manufactured=st.booleans(),
    rating_a=st.sampled_from([None, 60.0, 100.0, 150.0, 200.0, 400.0]),
    small_appliance_circuits=st.sampled_from([None, 2, 5]),
    laundry_circuits=st.sampled_from([None, 1, 2]),
)


@settings(max_examples=300, deadline=None)
@given(facts=HOUSES, more=LOADS, book=st.sampled_from(BOOKS))
def test_more_load_never_lowers_the_demand_but_by_a_rule_that_is_named(facts, more, book) -> None:
    grown = replace(facts, loads=(*facts.loads, more))
    for before, after in zip(ways_of(facts, book), ways_of(grown, book), strict=True):
        if after.before_larger_va < before.before_larger_va - 1e-6:
            assert after.steps, f"{before.id}: {more} lowers the demand and no rule says why"
        elif after.total_va < before.total_va - 1e-6:
            left_out = [line for line in (*before.lines, *after.lines) if line.left_out]
            assert left_out
            assert all(line.why for line in left_out)


@settings(max_examples=200, deadline=None)
@given(facts=HOUSES, more=st.floats(1, 5000), book=st.sampled_from(BOOKS))
def test_a_larger_nameplate_never_asks_for_less(facts, more, book) -> None:
    if not facts.loads:
        return
    first = replace(facts.loads[0], va=facts.loads[0].va + more)
    grown = replace(facts, loads=(first, *facts.loads[1:]))
    for before, after in zip(ways_of(facts, book), ways_of(grown, book), strict=True):
        if not after.steps:
            assert after.before_larger_va >= before.before_larger_va - 1e-6


@settings(max_examples=200, deadline=None)
@given(facts=HOUSES, book=st.sampled_from(BOOKS))
def test_a_service_passes_only_if_every_required_way_passes(facts, book) -> None:
    done = service_load(facts, book)
    if done.verdict is Verdict.OK:
        assert facts.rating_a is not None
        required = [way for way in done.ways if way.role is WayRole.REQUIRED]
        assert all(way.amps <= facts.rating_a + 1e-6 for way in required)
        assert facts.rating_a >= done.need_a - 1e-6
    if facts.rating_a is None:
        assert done.verdict is Verdict.INFO_NEEDED


@settings(max_examples=150, deadline=None)
@given(facts=HOUSES, book=st.sampled_from(BOOKS))
def test_a_line_that_was_left_out_was_not_the_larger(facts, book) -> None:
    for way in ways_of(facts, book):
        for line in way.lines:
            if line.left_out:
                rivals = [x for x in way.lines if x.why and x.counts]
                assert any(rival.va >= line.va for rival in rivals)


@settings(max_examples=100, deadline=None)
@given(
    facts=HOUSES,
    together=st.booleans(),
    book=st.sampled_from([b for b in BOOKS if b.code == "NEC"]),
)
def test_what_is_taken_for_an_unknown_fact_is_never_the_smaller(facts, together, book) -> None:
    unknown = replace(facts, supplementary_together=None, heat_control=None)
    known = replace(unknown, supplementary_together=together)
    for open_way, told in zip(ways_of(unknown, book), ways_of(known, book), strict=True):
        assert open_way.total_va >= told.total_va - 1e-6


def test_a_house_with_a_doubt_does_not_pass_however_large_its_service() -> None:
    facts = LoadFacts(
        floor=FloorArea(value=100, unit="m2"), rating_a=400, doubts=(NO_FLOOR_AREA(),)
    )
    for book in BOOKS:
        assert service_load(facts, book).verdict is Verdict.INFO_NEEDED
