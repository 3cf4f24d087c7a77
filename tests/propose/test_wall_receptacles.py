"""Receptacles proposed along walls: enough, as few as can be, and only added."""

import json
from typing import Any

from hypothesis import assume, given
from hypothesis import strategies as st

from config.messages.saying import said
from inspections.checker.amendments import load_rulebook
from inspections.checker.check import check
from inspections.checker.finding import Verdict
from inspections.checker.geometry.floor_line import FloorLine
from inspections.checker.house import House
from inspections.checker.house.boxes import OnWall
from inspections.checker.house.rooms import Room
from inspections.checker.load import HouseFaults, load_house
from inspections.checker.rules.wall_receptacles import NAME, wall_spaces
from inspections.checker.site import HouseByCode
from inspections.propose.proposal import Proposal, Unsolved, with_proposals
from inspections.propose.wall_receptacles import free_places, propose_wall_receptacles, stud_places
from inspections.propose.wants import Wants
from tests.checker.build import house
from tests.checker.drawn_houses import drawn_house
from tests.checker.drawn_rooms import fitted
from tests.lengths import examples
from tests.sure import of_kind, sure

from .independent import smallest

BOOKS = st.sampled_from(["nec-2017", "nec-2023", "cec-2018", "cec-2021"])
SPACINGS = st.sampled_from([304.8, 406.4, 609.6, 400.0])


def made_of(room: dict[str, Any], at: list[tuple[str, int]]) -> House:
    """A house of that one room with receptacles at those places."""
    receptacles = [f"{wall}@{x}^300" for wall, x in at]
    return house(room=json.loads(json.dumps(room)), receptacles=receptacles)


def short(made: House, book: str) -> set[str]:
    """The wall spaces that are short."""
    found = check(made, load_rulebook(book))
    return {f.subject for f in found if f.rule.id == NAME and f.verdict is Verdict.NOT_TO_CODE}


@examples(60, 2000)
@given(fitted(), BOOKS, SPACINGS)
def test_the_fewest_are_added_and_nothing_is_short_afterwards(drawn, book, spacing) -> None:
    made = made_of(*drawn)
    rules = load_rulebook(book)
    before = short(made, book)
    proposals = propose_wall_receptacles(made, rules, Wants(spacing))
    solved = {each.subject: each for each in proposals if isinstance(each, Proposal)}
    unsolved = {each.subject for each in proposals if isinstance(each, Unsolved)}
    assert set(solved) | unsolved == before
    after = with_proposals(made, solved.values())
    assert short(after, book) == unsolved
    assert after.boxes[: len(made.boxes)] == made.boxes
    site = HouseByCode(made, rules)
    for room in made.rooms:
        spaces = wall_spaces(site, room) if room.kind in rules.value(f"{NAME}.rooms") else ()
        for space, here in spaces:
            subject = f"{room.id}/{space.wall}.{space.number}"
            there = [o.at - space.start for o in here if o.counts is not False]
            fewest = _independently(site.lines[room.id], space, there, rules, spacing)
            given_ = len(solved[subject].boxes) if subject in solved else 0
            assert fewest == (None if subject in unsolved else given_), subject


def _independently(line: FloorLine, space, there: list[float], rules, spacing: float) -> int | None:
    reach = rules.value(f"{NAME}.reach_mm")
    for places in (stud_places(line, space, spacing, 300), free_places(line, space, 300)):
        from_start = [place - space.start for place in places]
        found = smallest(space.length, space.ring, there, from_start, reach)
        if found is not None:
            return found
    return None


@examples(30, 2000)
@given(st.integers(0, 2**48), BOOKS)
def test_in_whole_houses_only_what_cannot_be_known_or_reached_stays_short(seed, book) -> None:
    try:
        made = load_house(json.dumps(drawn_house(seed)).encode())
    except HouseFaults:
        assume(False)
    proposals = propose_wall_receptacles(made, load_rulebook(book))
    unsolved = {each.subject for each in proposals if isinstance(each, Unsolved)}
    after = with_proposals(made, [each for each in proposals if isinstance(each, Proposal)])
    assert short(after, book) <= unsolved
    assert load_house(after.model_dump_json().encode()) == after
    again = propose_wall_receptacles(after, load_rulebook(book))
    assert all(isinstance(each, Unsolved) for each in again)


@given(fitted(), BOOKS)
def test_no_box_is_put_into_a_door_or_off_its_wall(drawn, book) -> None:
    made = made_of(*drawn)
    rooms: dict[str, Room] = {room.id: room for room in made.rooms}
    for each in propose_wall_receptacles(made, load_rulebook(book)):
        for box in each.boxes if isinstance(each, Proposal) else ():
            place = of_kind(OnWall, box.place)
            at = sure(place.at_mm)
            wall = next(w for w in rooms[box.room].walls if w.id == place.wall)
            assert 29 <= at <= wall.length_mm - 29
            for opening in wall.openings:
                left, right = opening.at_mm - 100, opening.at_mm + opening.width_mm + 100
                high = opening.kind == "window" and (opening.sill_mm or 0) > 400
                assert high or not left < at < right


def test_a_bare_room_is_told_where_and_why() -> None:
    walls = [{"id": n, "length_mm": x} for n, x in zip("nesw", (5000, 3500) * 2, strict=True)]
    made = house(room={"kind": "living", "walls": walls})
    (found,) = propose_wall_receptacles(made, load_rulebook("nec-2023"))
    proposal = of_kind(Proposal, found)
    assert len(proposal.boxes) == 5  # 17,000 mm round, 3,658 mm each
    assert said(proposal.says).startswith("5 more receptacles: wall n, ")
    assert "needs 5 receptacles." in said(proposal.proof)
