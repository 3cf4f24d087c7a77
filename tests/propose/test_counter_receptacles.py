"""Receptacles proposed along counters: enough, as few as can be, and never behind a fixture."""

import json
from typing import Any

from hypothesis import given

from config.messages.saying import said
from inspections.checker.amendments import load_rulebook
from inspections.checker.asking.counters import NAME, CounterLine
from inspections.checker.check import check
from inspections.checker.finding import Verdict
from inspections.checker.house import House
from inspections.checker.rules.counter_receptacles import BehindSink
from inspections.propose.counter_receptacles import (
    ABOVE_MM,
    counter_places,
    propose_counter_receptacles,
)
from inspections.propose.places import anywhere, beside_studs
from inspections.propose.proposal import Proposal, Unsolved, with_proposals
from tests.checker.build import house
from tests.checker.test_counter_properties import BOOKS, LONGEST, PLACES, TOP, counters
from tests.lengths import examples

from .independent import smallest


def made_of(counter: dict[str, Any], places: list[str]) -> House:
    """A kitchen of two walls with that counter and those receptacles."""
    room = {"kind": "kitchen", "closed": False, "walls": [LONGEST, LONGEST]}
    return house(room=room, counters=[json.loads(json.dumps(counter))], receptacles=places)


def short(made: House, book: str) -> set[str]:
    """The counter spaces that are short, but for what stands behind sinks already."""
    found = check(made, load_rulebook(book))
    short = (f for f in found if f.rule.id == NAME and f.verdict is Verdict.NOT_TO_CODE)
    return {f.subject for f in short if not isinstance(f.facts, BehindSink)}


@examples(60, 2000)
@given(counters(), PLACES, BOOKS)
def test_the_fewest_are_added_and_nothing_is_short_afterwards(counter, places, book) -> None:
    made, rules = made_of(counter, places), load_rulebook(book)
    proposals = propose_counter_receptacles(made, rules)
    solved = {each.subject: each for each in proposals if isinstance(each, Proposal)}
    unsolved = {each.subject for each in proposals if isinstance(each, Unsolved)}
    assert set(solved) | unsolved == short(made, book)
    after = with_proposals(made, solved.values())
    assert short(after, book) == unsolved
    added = {box.id for box in after.boxes} - {box.id for box in made.boxes}
    behind = {f.facts.box for f in check(after, rules) if isinstance(f.facts, BehindSink)}
    assert not behind & added
    (room,), (top,) = made.rooms, made.counters
    line = CounterLine(top, rules)
    outlets = list(line.outlets(list(made.boxes)))
    reach = rules.value(f"{NAME}.reach_mm")
    for space in line.spaces():
        subject = f"{top.id}.{space.number}"
        if space.length < rules.value(f"{NAME}.min_width_mm") - 0.01:
            continue
        there = [
            o.at - space.start
            for o in outlets
            if o.counts is not False and space.start - 0.01 <= o.at <= space.end + 0.01
        ]
        fewest = None
        for way in (lambda wall: beside_studs(wall, 406.4), anywhere):
            found = counter_places(room, top, space, TOP + ABOVE_MM, way)
            from_start = [at - space.start for at in found]
            fewest = smallest(space.length, False, there, from_start, reach)
            if fewest is not None:
                break
        given_ = len(solved[subject].boxes) if subject in solved else 0
        assert fewest == (None if subject in unsolved else given_), subject


def test_without_the_height_of_the_top_it_says_what_to_record() -> None:
    counter = {"kind": "wall", "along": [{"wall": "a", "at_mm": 0, "width_mm": 2400}]}
    (told,) = propose_counter_receptacles(made_of(counter, []), load_rulebook("nec-2023"))
    assert isinstance(told, Unsolved)
    assert said(told.why) == "Height of the counter's top not recorded yet. Record it first."
