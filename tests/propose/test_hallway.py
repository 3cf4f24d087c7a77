"""Receptacles of a hallway: as many as its reach asks, and never a proposal of none."""

import json

import pytest

from inspections.checker.amendments import load_rulebook
from inspections.checker.load import load_house
from inspections.propose.proposal import Found, Proposal, Unsolved
from inspections.propose.room_receptacles import propose_room_receptacles
from inspections.propose.wants import Wants

pytestmark = pytest.mark.any_database


def _found(long_mm: float, wide_mm: float, book: str, wants: Wants) -> list[Found]:
    sides = (long_mm, wide_mm, long_mm, wide_mm)
    walls = [{"id": f"w{n}", "length_mm": side} for n, side in enumerate(sides, 1)]
    hall = {"id": "h", "name": "Hall", "kind": "hallway", "area": "a", "storey": "s"}
    house = {
        "format": "studbay-house-1",
        "name": "Hall",
        "storeys": [{"id": "s", "name": "Main"}],
        "areas": [{"id": "a", "name": "All"}],
        "rooms": [hall | {"walls": walls}],
    }
    return propose_room_receptacles(
        load_house(json.dumps(house).encode()), load_rulebook(book), wants
    )


def test_a_large_hall_gets_as_many_as_its_reach_asks() -> None:
    (made,) = _found(11_400, 9_400, "cec-2021", Wants())
    assert isinstance(made, Proposal)
    assert 2 < len(made.boxes) <= 4


def test_where_none_counts_nothing_is_proposed() -> None:
    (made,) = _found(6_000, 1_200, "nec-2023", Wants(receptacle_height_mm=2_000))
    assert isinstance(made, Unsolved)
