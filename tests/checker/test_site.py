"""Where things are, and the order in which a person meets them."""

from typing import Any

from inspections.checker.amendments import load_rulebook
from inspections.checker.site import HouseByCode
from tests.checker.build import findings, house


def words(box: dict[str, Any], book: str = "cec-2021", **parts) -> str:
    """The words for where a box is."""
    room = {"name": "Kitchen", "walls": [4000, 3000, 4000, 3000]}
    made = house(room=room, boxes=[box], **parts)
    return HouseByCode(made, load_rulebook(book)).box_spot(made.boxes[0]).words


def test_a_box_on_a_wall() -> None:
    box = {"place": "a@1200^1100", "name": "by the sink"}
    expected = "Main floor, Kitchen, wall a, 1,200 mm from its left end, 1,100 mm up, by the sink"
    assert words(box) == expected


def test_a_box_on_a_wall_in_feet_and_inches() -> None:
    assert words({"place": "a@4ft^18in"}, "nec-2023") == (
        "Main floor, Kitchen, wall a, 4 ft from its left end, 1 ft 6 in. up, box b"
    )


def test_inches_point_at_a_place_without_a_sixteenth() -> None:
    assert words({"place": "a@1200^300"}, "nec-2023").endswith(
        "wall a, 3 ft 11 in. from its left end, 1 ft up, box b"
    )


def test_a_height_nobody_measured_is_left_out() -> None:
    assert words({"place": "b@500^?"}).endswith("wall b, 500 mm from its left end, box b")


def test_boxes_elsewhere() -> None:
    assert words({"place": {"surface": "ceiling"}}).endswith("Kitchen, ceiling, box b")
    assert words({"place": {"surface": "space"}}).endswith("Kitchen, out of sight, box b")
    assert words({"place": "a@700_300"}).endswith(
        "floor by wall a, 700 mm from its left end, box b"
    )
    island = {"kind": "island", "length_mm": 900, "depth_mm": 900}
    assert words({"place": "K@0=50"}, counters=[island]).endswith("Kitchen, counter K, box b")


def test_a_walk_goes_clockwise_from_the_door_low_to_high_then_up_and_out() -> None:
    places = {
        "before-door": "b@200^300",
        "after-door-high": "b@2000^1200",
        "after-door-low": "b@2000^300",
        "next-wall": "c@100^300",
        "first-wall": "a@3900^300",
        "ceiling": {"surface": "ceiling"},
        "counter": "K@10=50",
    }
    made = house(
        room={"walls": [4000, "3000 door 800+800", 4000, 3000]},
        counters=[{"kind": "island"}],
        boxes=[{"id": name, "gangs": 3, "place": place} for name, place in places.items()],
    )
    walked = [f.subject for f in findings(made, "nec-2023").values() if "wide" in f.rule.id]
    assert walked == [
        *("after-door-low", "after-door-high", "next-wall"),
        *("first-wall", "before-door", "counter", "ceiling"),
    ]


def test_areas_and_rooms_come_in_the_order_of_the_file() -> None:
    made = house(
        areas=[{"id": "area", "name": "Area"}, {"id": "two", "name": "Two"}],
        rooms=[{"id": "r", "area": "two"}, {"id": "q"}, {"id": "p"}],
        boxes=[
            {"id": name, "room": room, "gangs": 3}
            for name, room in [("one", "r"), ("two", "p"), ("three", "q")]
        ],
    )
    found = findings(made, "nec-2023").values()
    assert [f.subject for f in found if "wide" in f.rule.id] == ["three", "two", "one"]


def test_a_box_concealed_by_another_area_belongs_to_it() -> None:
    made = house(
        areas=[{"id": "area", "name": "Area"}, {"id": "two", "name": "Two"}],
        boxes=[{"gangs": 3, "area": "two"}],
    )
    spot = findings(made, "nec-2023")["wide-box-support:b"].spot
    assert (spot.area, spot.room) == ("two", "r")


def test_a_cable_is_where_it_ends_or_where_it_was_seen() -> None:
    made = house(
        rooms=[{}, {"id": "q"}],
        boxes=[{}, {"id": "c", "room": "q"}],
        cables=["14/2 P b", {"kind": "data", "ends": ["P", "c"]}, {"kind": "coax"}],
        separations=[{"cables": ["C1", "C3"], "room": "q", "distance_mm": 1}],
    )
    found = findings(made, "cec-2021")
    assert found["communications-separation:C2"].spot.room == "q"
    assert found["communications-separation:C3/C1/q"].spot.room == "q"
