"""Receptacles and box fill in words: the thing, the figure, the limit, and what to do."""

from typing import Any

import pytest

from config.messages.message import Value
from config.messages.saying import ENGLISH, METRIC, said
from inspections.checker.finding import Finding, Verdict
from tests.checker.build import findings, house

BATH = {"kind": "bathroom", "closed": False, "walls": [6000]}
ELL = [{"length_mm": 2000}, {"length_mm": 500, "turn_deg": -90},
       {"length_mm": 400, "turn_deg": -90}, 900]  # fmt: skip
GARAGE = {"kind": "garage", "closed": False, "walls": [9000], "vehicle_bays": 1}
ISLAND = {"kind": "island", "length_mm": 1200, "depth_mm": 600}


def one(book: str, key: str, **parts: Any) -> Finding:
    """One finding on a small house."""
    return findings(house(**parts), book)[key]


def says(finding: Finding) -> str:
    """Its sentence, in the units of its code."""
    return spoken(finding, finding.words.says)


def does(finding: Finding) -> str:
    """What to do, in the units of its code."""
    return spoken(finding, finding.words.remedy)


def spoken(finding: Finding, value: Value) -> str:
    """A part of its words as they are read."""
    return said(value, ENGLISH if finding.imperial else METRIC)


def working(finding: Finding) -> list[str]:
    """Its working, line by line."""
    return [spoken(finding, line) for line in finding.words.working]


def test_a_sink_whose_receptacle_is_too_far() -> None:
    room = BATH | {"fixtures": ["basin B a@1000+600x500^850"]}
    found = one("cec-2021", "bathroom-receptacles:r", room=room, receptacles=["a@2700^1100"])
    assert says(found) == "The nearest receptacle is 1,100 mm from sink B; 1,000 mm maximum."
    assert spoken(found, found.words.figure) == "1,100 mm"
    assert spoken(found, found.words.limit) == "1,000 mm"
    assert working(found) == ["Receptacle R1: 1,100 mm from sink B, too far."]
    assert does(found) == "Add or move one beside the sink."


def test_a_sink_whose_receptacle_is_too_low() -> None:
    room = BATH | {"fixtures": ["basin B a@1000+600x500^34in"]}
    found = one("nec-2023", "bathroom-receptacles:r/B", room=room, receptacles=["a@1700^12in"])
    assert says(found) == "Receptacle R1 is 1 ft 10 in. below the top of sink B; 1 ft maximum."
    assert does(found) == "Raise it, or add one higher."


def test_two_sinks_without_any_receptacle() -> None:
    room = BATH | {"fixtures": ["basin B a@1000+600x500^850", "basin C a@3000+600x500^850"]}
    found = one("cec-2021", "bathroom-receptacles:r", room=room)
    assert says(found) == "No receptacle within 1,000 mm of sinks B and C."
    assert working(found) == ["No receptacle for general use in this room."]


def test_a_sink_round_a_wall_and_one_that_nobody_measured() -> None:
    room = BATH | {"walls": ELL, "fixtures": ["basin B a@1300+600x450^850"]}
    found = one("cec-2021", "bathroom-receptacles:r", room=room, receptacles=["d@400^1100"])
    assert says(found) == "Receptacle R1 is within 1,000 mm of sink B around the wall."
    assert does(found) == "Measure as a cord runs, not through the wall."
    assert working(found)[-1].endswith("from sink B straight through a wall.")
    room = BATH | {"fixtures": ["basin B a@1000+?x500"]}
    found = one("cec-2021", "bathroom-receptacles:r", room=room, receptacles=["a@2700^1100"])
    assert says(found) == "Not recorded yet: the width of sink B."
    assert found.words.figure == ""


def test_an_opener_out_of_reach() -> None:
    room = GARAGE | {"fixtures": ["door_opener O a@3000+400x3000"]}
    receptacle = {
        "id": "R",
        "place": "ceiling@4500x-2000",
        "devices": [{"kind": "receptacle"}],
    }
    found = one("cec-2021", "appliance-receptacles:r/O", room=room, boxes=[receptacle])
    assert says(found) == (
        "The nearest receptacle is 1,100 mm from the door opener; 1,000 mm maximum."
    )
    assert working(found)[-1] == "Receptacle R: 1,100 mm away, too far."


@pytest.mark.parametrize(
    ("count", "expected"),
    [
        (1, "The washer has receptacle R1 within reach."),
        (2, "The washer has receptacles R1 and R2 within reach."),
        (4, "The washer has 4 receptacles within reach."),
    ],
)
def test_more_than_three_ids_are_a_count(count: int, expected: str) -> None:
    room = {"kind": "laundry", "closed": False, "walls": [6000], "fixtures": ["washer W"]}
    places = [f"a@{1000 * n}^1000" for n in range(1, count + 1)]
    found = one("cec-2021", "appliance-receptacles:r/W", room=room, receptacles=places)
    assert says(found) == expected


def test_many_missing_facts_are_counted_and_stand_in_the_working() -> None:
    room = BATH | {"fixtures": ["basin B", "basin C", "basin D", "basin E"]}
    found = one("cec-2021", "bathroom-receptacles:r", room=room, receptacles=["a@2700^1100"])
    assert says(found) == "Not recorded yet: 4 facts, each in the working."
    assert len(working(found)) == 4


def test_an_overfilled_box_shows_the_whole_sum() -> None:
    box = {"volume_ml": 150, "connectors": 2, "devices": [{"kind": "switch", "depth_mm": 22}]}
    found = one("cec-2021", "box-fill:b", boxes=[box], cables=["14/2", "14/2"])
    assert says(found) == "Box b is overfilled: 172.2 mL; 150 mL maximum."
    assert working(found) == [
        "14 AWG conductors that end here: 4 × 24.6 mL = 98.4 mL",
        "strap (switch), at 14 AWG: 2 × 24.6 mL = 49.2 mL",
        "pairs of wire connectors, at 14 AWG: 1 × 24.6 mL = 24.6 mL",
        "Fill: 172.2 mL.",
        "The box holds 150 mL.",
    ]
    assert found.section == "Table 22, 12-3034 2) c), 12-3034 2) b)"
    assert found.known == "memory"


def test_a_box_a_hair_too_small_never_reads_as_large_enough() -> None:
    box = {"volume_ml": 172.19, "connectors": 2, "devices": [{"kind": "switch", "depth_mm": 22}]}
    found = one("cec-2021", "box-fill:b", boxes=[box], cables=["14/2", "14/2"])
    assert found.verdict is Verdict.NOT_TO_CODE
    assert says(found) == "Box b is overfilled: 172.2 mL; 172.1 mL maximum."


def test_equal_straps_are_one_line_with_their_number() -> None:
    switch = {"kind": "switch", "depth_mm": 22}
    box = {"volume_ml": 900, "connectors": 0, "devices": [switch, switch, switch]}
    found = one("cec-2021", "box-fill:b", boxes=[box], cables=["14/2", "14/2"])
    assert "3 straps (switch), at 14 AWG: 6 × 24.6 mL = 147.6 mL" in working(found)


def test_a_second_device_of_unknown_depth_is_another_fact() -> None:
    def with_depths(*depths: Any) -> Finding:
        devices = [{"kind": "receptacle", "depth_mm": depth} for depth in depths]
        box = {"volume_ml": 900, "connectors": 0, "devices": devices}
        return one("cec-2021", "box-fill:b", boxes=[box], cables=["14/2"])

    both, first = with_depths("missing", "missing"), with_depths(22, "missing")
    assert says(both) == "Not recorded yet: the depth of 2 devices (receptacle)."
    assert says(first) == "Not recorded yet: the depth of the receptacle."
    assert both.fingerprint != first.fingerprint


@pytest.mark.parametrize(
    ("book", "conductors"),
    [("nec-2023", "equipment grounding conductors"), ("nec-2017", "equipment grounding")],
)
def test_conductors_are_called_as_the_code_calls_them(book: str, conductors: str) -> None:
    found = one(book, "box-fill:b", boxes=[{"volume_ml": 900}], cables=["14/2"])
    assert any(line.startswith(conductors) for line in working(found))


def test_a_wall_out_of_reach_says_how_much_and_where_to_add_one() -> None:
    found = one(
        "nec-2023",
        "wall-receptacles:r/a.1",
        room={"closed": False, "walls": ["20ft"]},
        receptacles=["a@6ft^300", "a@7ft^6ft"],
    )
    assert says(found) == "8 ft of wall with no receptacle within 6 ft."
    assert spoken(found, found.words.figure) == "8 ft"
    assert spoken(found, found.words.limit) == "6 ft"
    assert does(found) == (
        "Add a receptacle for the stretch that starts on wall a, 12 ft from its left end."
    )
    assert "Receptacle R2 is 6 ft up: too high to count." in working(found)


def test_a_missing_fact_that_makes_no_difference_is_said_to() -> None:
    found = one(
        "nec-2023",
        "wall-receptacles:r/a.1",
        room={"closed": False, "walls": ["6ft"]},
        receptacles=["a@3ft^?", "a@3ft"],
    )
    assert found.verdict is Verdict.OK
    assert "not recorded yet: the height of box R1; the same either way" in working(found)


def test_an_island_has_so_many_and_needs_so_many() -> None:
    found = one("cec-2021", "counter-receptacles:K", room={"kind": "kitchen"}, counters=[ISLAND])
    assert says(found) == "No receptacle serves this island; 1 required."
    assert does(found) == "Add a receptacle that serves it."


def test_a_receptacle_in_a_cupboard_is_for_general_use_or_for_one_appliance() -> None:
    def inside(**more: Any) -> Finding:
        device = {"kind": "receptacle", "in_cabinet": True, **more}
        return one("cec-2021", "cabinet-receptacles:b", boxes=[{"devices": [device]}])

    assert says(inside()) == "Receptacle b in the cupboard is for general use."
    kept = inside(dedicated_to="Microwave, brand of the shop")
    assert says(kept) == "Receptacle b in the cupboard is for the microwave."
    other = inside(dedicated_to="Aquarium")
    assert says(other) == "Receptacle b in the cupboard is there for one appliance."


def test_a_hallway_without_one_says_its_length() -> None:
    room = {"kind": "hallway", "walls": ["12ft", "3ft", "12ft", "3ft"]}
    found = one("nec-2023", "hallway-receptacles:r", room=room)
    assert says(found) == "This hallway is 12 ft long and has no receptacle; 1 required from 10 ft."
    assert does(found) == "Add one."
