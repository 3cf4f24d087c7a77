"""Receptacles in words: what is said, by what working, and what to do."""

from typing import Any

from inspections.checker.finding import Finding, FindingWords
from tests.checker.build import findings, house

BATH = {"kind": "bathroom", "closed": False, "walls": [6000]}
ELL = [{"length_mm": 2000}, {"length_mm": 500, "turn_deg": -90},
       {"length_mm": 400, "turn_deg": -90}, 900]  # fmt: skip


def one(book: str, key: str, **parts: Any) -> Finding:
    """One finding on a small house."""
    return findings(house(**parts), book)[key]


def words(book: str, key: str, **parts: Any) -> FindingWords:
    """One finding in words."""
    return one(book, key, **parts).words


def box(name: str, place: str, *devices: Any, **more: Any) -> dict[str, Any]:
    """A box with devices at a place."""
    return {"id": name, "place": place, "devices": list(devices), **more}


def test_a_receptacle_too_far_from_the_basin() -> None:
    room = BATH | {"fixtures": ["basin B a@1000+600x500^850"]}
    found = words("cec-2021", "bathroom-receptacles:r", room=room, receptacles=["a@2700^1100"])
    assert found == FindingWords(
        "No receptacle is within 1,000 mm of basin B.",
        "1,100 mm",
        "within 1,000 mm",
        ("basins: B", "receptacle R1: 1,100 mm from basin B, too far"),
        "Add or move a receptacle beside the basin.",
    )


def test_a_receptacle_too_low_for_the_basin() -> None:
    room = BATH | {"fixtures": ["basin B a@1000+600x500^34in"]}
    found = words("nec-2023", "bathroom-receptacles:r/B", room=room, receptacles=["a@1700^12in"])
    assert found.says == "The receptacle near basin B is too low to serve it."
    assert found.working[-1] == (
        "receptacle R1 does not count: 558.8 mm (1 ft 10 in) below the basin's top"
    )


def test_a_basin_round_a_wall_and_one_that_nobody_measured() -> None:
    room = BATH | {"walls": ELL, "fixtures": ["basin B a@1300+600x450^850"]}
    found = words("cec-2021", "bathroom-receptacles:r", room=room, receptacles=["d@400^1100"])
    assert found.says == "A wall stands between basin B and the nearest receptacle."
    assert found.remedy == "Measure round the wall, as a cord would run."
    assert found.working[-1].endswith("from basin B through a wall")
    room = BATH | {"fixtures": ["basin B a@1000+?x500"]}
    found = words("cec-2021", "bathroom-receptacles:r", room=room, receptacles=["a@2700^1100"])
    assert found.says == "Nobody recorded the width of basin B."
    assert found.figure == "none measured"


def test_places_count_their_receptacles() -> None:
    garage = {"kind": "garage", "closed": False, "walls": ["30ft"], "vehicle_bays": 3}
    boxes = [box(f"R{n}", "a@2ft^4ft", "receptacle", bay=1) for n in (1, 2, 3)]
    found = words("nec-2023", "garage-receptacles:r", room=garage, boxes=boxes)
    assert found.remedy == "Add a receptacle in bay 2 and 3."
    assert "no receptacle in bay 2 and 3" in found.working
    laundry = words("cec-2021", "laundry-receptacles:r", room={"kind": "laundry"})
    assert laundry.says == "This laundry has 0 receptacles that count; at least 1 receptacle asked."
    assert "up to 2 receptacles asked, by what is not recorded" in laundry.working
    assert "places plumbed for a washing machine: not recorded" in laundry.working


def test_what_does_not_count_says_why() -> None:
    room = {"kind": "basement", "closed": False, "walls": ["30ft"]}
    boxes = [
        box("R1", "a@2ft^6ft", "receptacle"),
        box("R2", "ceiling", "receptacle"),
        box("R3", "a@2ft^1ft", {"kind": "receptacle", "dedicated_to": "pump"}),
    ]
    found = words("nec-2023", "utility-receptacles:r", room=room, boxes=boxes)
    assert found.working[1:] == (
        "counted up to 1,676.4 mm (5 ft 6 in) high",
        "receptacle R1 does not count: it stands 1,828.8 mm (6 ft 0 in) up",
        "receptacle R2 does not count: it is in the ceiling",
        "receptacle R3 does not count: it is not for general use",
    )


def test_a_receptacle_that_nobody_reaches_from_the_ground() -> None:
    room = {"kind": "outdoors", "closed": False, "walls": ["30ft"], "from_grade": False}
    found = words("cec-2021", "outdoor-receptacles:house", room=room, receptacles=["a@1ft^1ft"])
    assert found.says.startswith("This house's outside has 0 receptacles that count")
    assert "receptacle R1 does not count: nobody reaches it from the ground" in found.working


def test_an_opener_out_of_reach() -> None:
    room = {"kind": "garage", "closed": False, "walls": [9000], "vehicle_bays": 1,
            "fixtures": ["door_opener O a@3000+400x3000"]}  # fmt: skip
    receptacle = box("R", "ceiling@4500x-2000", "receptacle")
    found = words("cec-2021", "appliance-receptacles:r/O", room=room, boxes=[receptacle])
    assert found.says == "Nothing serves the door opener here."
    assert found.working[-1] == "receptacle R: 1,100 mm away, too far"
    assert found.limit == "a receptacle within 1,000 mm"
