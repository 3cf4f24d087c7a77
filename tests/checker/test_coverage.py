"""What receptacles reach, and verdicts when facts are missing."""

from inspections.checker.asking.coverage import MOST_DOUBTS, LineReceptacle, judge
from inspections.checker.finding import Verdict
from inspections.checker.geometry.floor_line import Doubt, Space

HIGH = ("high", None)


def outlet(at: float, counts: bool | None = True) -> LineReceptacle:
    """A receptacle at a place."""
    return LineReceptacle(f"R{at}", at, 300, counts, None if counts else HIGH)


def space(length: float, *doubts: tuple[float, float]) -> Space:
    """A space with stretches that may break it."""
    return Space(0, length, "a", doubts=tuple(Doubt(a, b, "sill", "a") for a, b in doubts))


def test_within_reach_everywhere_meets() -> None:
    assert judge(space(200), [outlet(100)], 100, 50) == (Verdict.OK, [])


def test_short_says_where() -> None:
    assert judge(space(250), [outlet(100)], 100, 50) == (Verdict.NOT_TO_CODE, [(200, 250)])


def test_one_that_does_not_count_is_no_help() -> None:
    assert judge(space(200), [outlet(100, False)], 100, 50) == (Verdict.NOT_TO_CODE, [(0, 200)])


def test_one_that_may_not_count_is_unknown_where_it_matters() -> None:
    assert judge(space(200), [outlet(100, None)], 100, 50) == (Verdict.INFO_NEEDED, [(0, 200)])
    assert judge(space(200), [outlet(100, None), outlet(100)], 100, 50)[0] is Verdict.OK


def test_short_with_a_missing_fact_shows_only_what_is_short_either_way() -> None:
    verdict, gaps = judge(space(250), [outlet(100, None)], 100, 50)
    assert (verdict, gaps) == (Verdict.NOT_TO_CODE, [(200, 250)])


def test_a_doubtful_break_that_matters_is_unknown() -> None:
    assert judge(space(200, (120, 140)), [outlet(100)], 100, 50)[0] is Verdict.INFO_NEEDED


def test_a_doubtful_break_with_nothing_to_ask_beyond_it_meets() -> None:
    assert judge(space(200, (120, 160)), [outlet(100)], 100, 50)[0] is Verdict.OK


def test_short_in_every_way_a_break_may_turn_out() -> None:
    assert judge(space(400, (120, 140)), [outlet(100)], 100, 50)[0] is Verdict.NOT_TO_CODE


def test_a_receptacle_in_a_doubtful_break_counts_only_without_it() -> None:
    assert judge(space(200, (90, 110)), [outlet(100)], 100, 50)[0] is Verdict.INFO_NEEDED


def test_a_ring_with_a_doubtful_break() -> None:
    ring = Space(0, 200, "a", ring=True, doubts=(Doubt(150, 160, "sill", "a"),))
    assert judge(ring, [outlet(60)], 100, 50)[0] is Verdict.OK
    assert judge(ring, [outlet(155)], 100, 50)[0] is Verdict.INFO_NEEDED
    assert judge(ring, [], 100, 50)[0] is Verdict.NOT_TO_CODE


def test_too_many_doubts_are_not_tried() -> None:
    many = [(i * 100.0, i * 100.0 + 10) for i in range(MOST_DOUBTS + 1)]
    assert judge(space(1000, *many), [], 100, 50) == (Verdict.INFO_NEEDED, [(0, 1000)])
