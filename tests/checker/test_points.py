"""Points: how single things asked of a part are judged together, and how they read."""

import pytest

from config.messages.message import Length, Mass, Percent, Ratio
from config.messages.saying import METRIC, said
from inspections.checker.asking.points import (
    Point,
    PointsFacts,
    at_least,
    at_most,
    is_so,
    judged,
    quantity,
)
from inspections.checker.finding import Verdict
from tests.checker.build import findings, house

HOLDS = Point("a", 1, 1, True)
FAILS = Point("b", 1, 2, False)
LOOK = Point("c", None, 2, None)
MISSING = Point("d", None, 2, None)


@pytest.mark.parametrize(
    ("points", "verdict"),
    [
        ((HOLDS,), Verdict.OK),
        ((HOLDS, FAILS, LOOK, MISSING), Verdict.NOT_TO_CODE),
        ((HOLDS, LOOK), Verdict.VERIFY),
        ((LOOK, MISSING), Verdict.INFO_NEEDED),
        ((HOLDS, MISSING), Verdict.INFO_NEEDED),
    ],
)
def test_points_are_judged_together(points: tuple[Point, ...], verdict: Verdict) -> None:
    facts = PointsFacts("part", points)
    assert judged(facts, not_by_eye=("d",)) == (verdict, facts)


def test_nothing_required_is_no_finding() -> None:
    assert judged(PointsFacts("part", ())) is None


def test_a_measure_holds_to_a_hundredth() -> None:
    assert [at_least("x", m, 6).holds for m in (6, 5.99, 5.98, None)] == [True, True, False, None]
    assert [at_most("x", m, 6).holds for m in (6, 6.01, 6.02, None)] == [True, True, False, None]
    assert [is_so("x", fact, False).holds for fact in (False, True, None)] == [True, False, None]
    assert [is_so("x", fact).holds for fact in (False, True, None)] == [False, True, None]


def test_a_figure_has_the_unit_that_its_name_ends_with() -> None:
    assert quantity("x_mm", 150) == Length(150)
    assert quantity("x_kg", 23) == Mass(23)
    assert quantity("x_percent", 33.3) == Percent(33.3)
    assert quantity("times", 1.8) == Ratio(1.8)
    assert quantity("x", 2.5) == 2.5
    assert [quantity("x", fact) for fact in (True, False, None)] == ["", "", ""]


def test_a_short_point_is_told_alone_and_a_look_says_only_what_is_missing() -> None:
    made = house(
        boxes=[
            {"free_mm": 160, "outside_mm": 50},
            {"id": "c", "free_mm": 160},
            {"id": "d", "free_mm": 170},
        ],
        cables=["14/2 P b", "14/2 P c", "14/2 P d"],
    )
    found = findings(made, "nec-2023")
    short = found["free-conductors:b"].words
    assert said(short.says) == "Conductors reach 1 15/16 in. outside box b; 3 in. minimum."
    assert said(short.figure) == "1 15/16 in."
    assert said(short.working[0]).startswith("Box b has 6 5/16 in. of free conductor")
    look = found["free-conductors:room:r"]
    assert said(look.words.says) == (
        "Conductors reach 3 in. or more outside small openings. (2 boxes here)"
    )
    assert said(look.words.working[0]) == "not recorded yet: 2 boxes (c and d)"


def test_a_look_opens_again_when_its_box_moves_and_not_otherwise() -> None:
    def print_of(at: str, name: str) -> str:
        boxes = [{"place": at, "name": name}, {"id": "c", "place": "a@900^300", "fixed": True}]
        made = house(room={"closed": False, "walls": [3000]}, boxes=boxes)
        return findings(made, "cec-2021")["box-support:room:r"].fingerprint

    assert print_of("a@500^300", "By the door") == print_of("a@500^300", "Near the door")
    assert print_of("a@500^300", "x") != print_of("a@600^300", "x")


def test_a_line_for_many_parts_counts_them_and_its_working_names_all() -> None:
    def told(count: int) -> tuple[str, str]:
        boxes = [{"id": f"b{number}"} for number in range(1, count + 1)]
        words = findings(house(boxes=boxes), "cec-2021")["box-support:room:r"].words
        return said(words.says, METRIC), said(words.working[0], METRIC)

    assert told(1) == (
        "Every box is secured to framing and does not move. (1 box here)",
        "not recorded yet: box b1",
    )
    says, parts = told(11)
    assert says == "Every box is secured to framing and does not move. (11 boxes here)"
    assert parts.startswith("not recorded yet: 11 boxes (b1, b2,")
    assert parts.endswith("b10 and b11)")


def test_a_part_that_waits_at_two_places_of_a_room_is_counted_once() -> None:
    gaps = [{"cable": "C1", "source": source} for source in ("duct", "pipe")]
    made = house(boxes=[{}], cables=["14/2"], heat_gaps=gaps)
    finding = findings(made, "cec-2021")["cable-heat:room:r"]
    assert len(finding.facts.parts) == 2
    assert said(finding.words.says, METRIC).endswith("(1 cable here)")
    assert said(finding.words.working[0], METRIC) == "not recorded yet: cable C1"


def test_what_is_not_to_be_is_told_as_not() -> None:
    made = house(
        boxes=[{}],
        cables=["14/2"],
        fastenings=[{"cables": ["C1"], "on_edge": True}, {"cables": ["C1"], "on_edge": False}],
    )
    found = findings(made, "cec-2021")
    short, meets = found["staples:F1"].words, found["staples:F2"].words
    assert said(short.says) == "Staple F1 holds a flat cable on edge."
    assert (short.figure, short.limit) == ("", "")
    assert said(meets.says) == (
        "The cable under staple F2 lies flat. Staple F2 holds 1 cable; 1 allowed."
    )
    assert (meets.figure, meets.limit) == (1, 1)


def test_what_is_missing_is_told_in_place_of_what_holds() -> None:
    made = house(boxes=[{"setback_mm": 3, "place": "a@100^300"}], room={"walls": [900],
                 "closed": False})  # fmt: skip
    words = findings(made, "cec-2021")["box-flush:b"].words
    assert said(words.says) == "Not recorded yet: whether the surface around box b is combustible."
    assert said(words.remedy) == "Measure or check it on site, and record it."


def test_a_longer_cable_is_looked_at_where_it_ends_and_not_where_it_comes_from() -> None:
    def prints(length: int) -> list[str]:
        cable = {"awg": "14", "ends": ["P", "b"], "length_mm": length}
        made = house(rooms=[{}, {"id": "t"}], boxes=[{"room": "t"}], cables=[cable])
        found = findings(made, "cec-2021")
        return [found[f"cable-damage:room:{room}"].fingerprint for room in ("r", "t")]

    short, long = prints(3000), prints(9000)
    assert short[0] == long[0]
    assert short[1] != long[1]
