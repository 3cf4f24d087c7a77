"""Receptacles, lights and switches in words: what is said, by what working, and what to do."""

from typing import Any

from inspections.checker.finding import Finding, FindingWords
from tests.checker.build import findings, house

BATH = {"kind": "bathroom", "closed": False, "walls": [6000]}
TUB = BATH | {"fixtures": ["tub T a@2000+1500x750^500"]}
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


def test_a_receptacle_near_a_tub_names_the_tub_and_what_would_be_better() -> None:
    found = words("cec-2021", "tub-receptacles:R1", room=TUB, receptacles=["a@1400^1100"])
    assert found.figure == "600 mm"
    assert found.limit == "at least 500 mm"
    assert found.working == ("tub T: 600 mm away on the plan",)
    assert found.remedy == (
        "See whether it could stand farther away. At least 1,000 mm where the room allows it."
    )
    found = words("cec-2021", "tub-receptacles:R1", room=TUB, receptacles=["a@1600^1100"])
    assert found.says == "The receptacle is too near tub T."
    assert found.remedy == "Move it out of the space around the tub or shower."


def test_a_tub_round_a_wall_is_measured_round_it() -> None:
    room = BATH | {"walls": ELL, "fixtures": ["tub T a@1300+600x450"]}
    found = words("cec-2021", "tub-receptacles:R1", room=room, receptacles=["d@400^1100"])
    assert found.remedy.startswith("Measure round the wall.")
    switch = box("S1", "d@400^1100", "switch")
    found = words("cec-2021", "tub-switches:S1", room=room, boxes=[switch])
    assert found.remedy == "Measure round the wall, flat, to the edge of the tub or shower."


def test_above_and_below_the_space_over_a_tub() -> None:
    low = words("nec-2020", "tub-receptacles:R1", room=TUB, receptacles=["a@1800^300"])
    assert "it stands below the rim of tub T, where this edition does not ask" in low.working
    high = words("nec-2020", "tub-receptacles:R1", room=TUB, receptacles=["a@1800^3000"])
    assert "it stands above the space over tub T" in high.working


def test_a_small_bathroom_has_its_exception() -> None:
    room = BATH | {"walls": ["5ft"], "fixtures": ["tub T a@0+2.1ftx5ft^20in"]}
    found = words("nec-2023", "tub-receptacles:R1", room=room, receptacles=["a@4ft^44in"])
    assert found.working[-1] == "no corner of the room is 914.4 mm (3 ft 0 in) away"
    assert found.remedy.startswith("A bathroom this small may have it on the wall opposite")


def test_a_switch_within_reach_asks_for_protection() -> None:
    found = words("cec-2021", "tub-switches:S1", room=TUB, boxes=[box("S1", "a@1400", "switch")])
    assert found.working[-1] == (
        "1,000 mm asked, or 500 mm behind a ground-fault interrupter; the breaker is without one"
    )
    assert found.remedy.startswith("See that a Class A ground-fault interrupter protects it")


def test_a_light_and_its_switch() -> None:
    light, switch = box("L", "ceiling", "luminaire"), box("S", "ceiling", "switch")
    cables = ["14/2 P S", "14/2 S L"]
    lit = words("nec-2023", "lighting-outlets:r", boxes=[light, switch], cables=cables)
    assert lit.says == "A wall switch turns on a light in this room."
    assert lit.working[0] == "L: switched at S"
    dark = words("nec-2023", "lighting-outlets:r", boxes=[light], cables=["14/2 P L"])
    assert dark.says == "No light of this room has a wall switch."
    assert dark.working[0] == "L: no wall switch"
    assert words("nec-2023", "lighting-outlets:r").says == "This room has no lighting outlet."


def test_a_loop_without_a_neutral() -> None:
    light, switch = box("L", "ceiling", "luminaire"), box("S", "ceiling", "switch")
    cables = ["14/2 P L", "14/2 L S"]
    found = words("nec-2023", "switch-neutrals:S", boxes=[light, switch], cables=cables)
    assert found.figure == "a loop of 2 insulated conductors; 3 with a neutral"
    assert found.remedy == "Run a cable with 3 insulated conductors."


def test_a_stair_with_a_switch_at_one_end() -> None:
    storeys = [{"id": "s", "name": "Main floor"}, {"id": "u", "name": "Upper floor"}]
    rooms = [
        {"kind": "stair", "risers": 14, "joins": ["h", "up"]},
        {"id": "h", "name": "Hall", "kind": "hallway"},
        {"id": "up", "name": "Landing", "kind": "hallway", "storey": "u"},
    ]
    boxes = [box("S", "ceiling", "switch", room="h"), box("L", "ceiling", "luminaire")]
    cables = ["14/2 P S", "14/2 S L"]
    found = words(
        "nec-2023", "stair-switches:r", storeys=storeys, rooms=rooms, boxes=boxes, cables=cables
    )
    assert found == FindingWords(
        "No switch turns on this stair's light at Landing.",
        "Hall",
        "a switch at each level from 6 risers up",
        ("risers: 14", "light L: switched at S", "at Hall: a switch", "at Landing: no switch"),
        "Add a three-way switch at each level, with travellers between them.",
    )


def test_a_closet_light_near_storage() -> None:
    device = {"kind": "luminaire", "mounting": "surface", "lamp": "led", "from_storage_in": 11}
    closet = {"kind": "closet"}
    found = words(
        "nec-2023", "closet-luminaires:L", room=closet, boxes=[box("L", "ceiling", device)]
    )
    assert found.says == "The light is too near what is kept in the closet."
    assert found.limit == "at least 304.8 mm (1 ft 0 in)"
    look = words(
        "nec-2023", "closet-luminaires:room:r", room=closet,
        boxes=[box("L", "ceiling", "luminaire")],
    )  # fmt: skip
    assert "152.4 mm (6 in) (surface fluorescent)" in look.limit
