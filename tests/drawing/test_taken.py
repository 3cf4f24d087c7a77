"""Where a photograph lies on the plan: at a place, a stretch, else its room."""

import pytest

from inspections.checker.check import check
from inspections.drawing.marks import Mark, MarkKind, marks_of
from inspections.drawing.storey_drawn import StoreyDrawn
from inspections.drawing.taken import taken_at
from tests.fixes import planted


@pytest.fixture(scope="module")
def drawn() -> StoreyDrawn:
    return StoreyDrawn(planted.house(), "main")


def test_what_has_a_place_lies_there(drawn) -> None:
    marks = marks_of(planted.house(), check(planted.house(), planted.book()))
    kinds = set()
    for mark in marks.values():
        at = taken_at(drawn, mark)
        assert at is not None
        kinds.add(mark.kind)
        left, top, width, height = drawn.box
        assert left <= at[0] <= left + width
        assert top <= at[1] <= top + height
        if mark.kind is MarkKind.PLACE:
            assert at == mark.points[0]
    assert kinds == set(MarkKind)


def test_a_stretch_has_it_in_its_middle_and_a_room_in_its_own(drawn) -> None:
    stretch = Mark("x:y", "living", MarkKind.STRETCH, stretches=(((0.0, 0.0), (100.0, 50.0)),))
    assert taken_at(drawn, stretch) == (50.0, 25.0)
    at = taken_at(drawn, Mark("x:y", "living", MarkKind.ROOM))
    corners = drawn.floors["living"]
    assert at is not None
    assert min(x for x, _ in corners) < at[0] < max(x for x, _ in corners)


def test_what_is_on_another_storey_is_not_on_this_one(drawn) -> None:
    assert taken_at(drawn, Mark("x:y", "attic", MarkKind.ROOM)) is None
    above = Mark("x:y", "attic", MarkKind.PLACE, ((1.0, 2.0),), point_rooms=("attic",))
    assert taken_at(drawn, above) is None
