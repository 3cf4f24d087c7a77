"""Lights, switches and what is near a tub in words: what is said, by what working, what to do."""

import dataclasses
from typing import Any, NamedTuple

from config.messages.saying import ENGLISH, METRIC, Reader, said
from inspections.checker.finding import Finding, Verdict
from inspections.checker.rules.outside_door_lights import DoorLightGap
from tests.checker.build import findings, house

BATH = {"kind": "bathroom", "closed": False, "walls": [6000]}
TUB = BATH | {"fixtures": ["tub T a@2000+1500x750^500"]}
ELL = [{"length_mm": 2000}, {"length_mm": 500, "turn_deg": -90},
       {"length_mm": 400, "turn_deg": -90}, 900]  # fmt: skip
LED = {"kind": "luminaire", "mounting": "surface", "lamp": "led"}


class Spoken(NamedTuple):
    """A finding as its reader hears it."""

    says: str
    figure: str
    limit: str
    working: tuple[str, ...]
    remedy: str


def one(book: str, key: str, **parts: Any) -> Finding:
    """One finding on a small house."""
    return findings(house(**parts), book)[key]


def spoken(finding: Finding, reader: Reader | None = None) -> Spoken:
    """One finding in English, in the units of its code unless a reader has others."""
    if reader is None:
        reader = ENGLISH if finding.code == "NEC" else METRIC
    words = finding.words
    return Spoken(
        said(words.says, reader),
        said(words.figure, reader),
        said(words.limit, reader),
        tuple(said(line, reader) for line in words.working),
        said(words.remedy, reader),
    )


def words(book: str, key: str, **parts: Any) -> Spoken:
    """What is said of a part of a small house."""
    return spoken(one(book, key, **parts))


def box(name: str, place: str, *devices: Any, **more: Any) -> dict[str, Any]:
    """A box with devices at a place."""
    return {"id": name, "place": place, "devices": list(devices), **more}


def test_a_receptacle_near_a_tub_names_the_tub_and_what_would_be_better() -> None:
    found = words("cec-2021", "tub-receptacles:R1", room=TUB, receptacles=["a@1400^1100"])
    assert found == Spoken(
        "Receptacle R1 is 600 mm from tub T; 500 mm minimum, 1,000 mm where practicable.",
        "600 mm",
        "500 mm",
        ("tub T: 600 mm away on the plan",),
        "Verify that it cannot go farther away.",
    )
    found = words("cec-2021", "tub-receptacles:R1", room=TUB, receptacles=["a@1600^1100"])
    assert found.says == "Receptacle R1 is 400 mm from tub T; 500 mm minimum."
    assert found.remedy == "Move it farther away."


def test_a_distance_is_rounded_to_its_own_side_in_any_unit() -> None:
    def inches(at: str) -> str:
        finding = one("cec-2021", "tub-receptacles:R1", room=TUB, receptacles=[f"a@{at}^1100"])
        return spoken(finding, ENGLISH).says

    limit = "1 ft 7 11/16 in. minimum"
    assert inches("1500.5").startswith("Receptacle R1 is 1 ft 7 5/8 in. from tub T; " + limit)
    assert inches("1500").startswith("Receptacle R1 is 1 ft 7 11/16 in. from tub T; " + limit)
    assert "3 ft 3 5/16 in. from" in inches("1000.5")


def test_the_sentence_is_about_the_tub_that_decides() -> None:
    room = BATH | {"fixtures": ["tub T a@2000+1500x750^500", "shower W a@4000+900x900"]}
    found = words("cec-2021", "tub-receptacles:R1", room=room, receptacles=["a@3700^1100"])
    assert found.says == "Receptacle R1 is 200 mm from tub T; 500 mm minimum."
    assert found.working == ("tub T: 200 mm away on the plan", "shower W: 300 mm away on the plan")
    beyond = BATH | {"fixtures": ["tub T a@2000+1500x750^500", "shower W a@4000+?x900"]}
    found = words("cec-2021", "tub-receptacles:R1", room=beyond, receptacles=["a@3700^1100"])
    assert found.working[-1] == "not recorded yet: the width of shower W; the same either way"
    found = words("cec-2021", "tub-receptacles:R1", room=beyond, receptacles=["a@900^1100"])
    assert found.says == "Not recorded yet: the width of shower W."


def test_a_tub_round_a_wall_is_measured_round_it() -> None:
    room = BATH | {"walls": ELL, "fixtures": ["tub T a@1300+600x450"]}
    found = words("cec-2021", "tub-receptacles:R1", room=room, receptacles=["d@400^1100"])
    assert found.says == "Receptacle R1 is 500 mm from tub T on the plan, through a wall."
    assert found.remedy == "Measure around the wall: 1,000 mm where practicable."
    switch = box("S1", "d@400^1100", "switch")
    found = words("cec-2021", "tub-switches:S1", room=room, boxes=[switch])
    assert found.remedy == "Measure around the wall: 1,000 mm minimum."


def test_above_and_below_the_space_over_a_tub() -> None:
    low = words("nec-2020", "tub-receptacles:R1", room=TUB, receptacles=["a@1800^300"])
    assert low.says.startswith("Receptacle R1 is below the rim of tub T;")
    assert (low.figure, low.limit, low.remedy) == ("", "", "")
    high = words("nec-2020", "tub-receptacles:R1", room=TUB, receptacles=["a@1800^120in"])
    assert high.says.endswith("above the rim of tub T; the space ends at 8 ft.")
    assert high.limit == "8 ft"
    assert high.working[1].startswith("10 ft − 1 ft 7 11/16 in. = 8 ft 4 5/16 in. above the rim")
    assert high.working[2] == "the space ends 3 ft out and 8 ft above the rim"


def test_a_small_bathroom_has_its_exception() -> None:
    room = BATH | {"walls": ["5ft"], "fixtures": ["tub T a@0+2.1ftx5ft^20in"]}
    found = words("nec-2023", "tub-receptacles:R1", room=room, receptacles=["a@4ft^44in"])
    assert found.says.endswith("from tub T; this bathroom has no room for 3 ft.")
    assert found.working[-1].startswith("farthest corner: ")
    assert found.remedy == "Verify that it is on the farthest wall, across from the rim."


def test_a_switch_within_reach_needs_protection() -> None:
    finding = one("cec-2021", "tub-switches:S1", room=TUB, boxes=[box("S1", "a@1400", "switch")])
    assert finding.facts.wants_protection
    assert spoken(finding) == Spoken(
        "Switch S1 is 600 mm from tub T; 1,000 mm minimum without a Class A GFCI.",
        "600 mm",
        "1,000 mm",
        (
            "tub T: 600 mm away on the plan",
            "1,000 mm minimum; 500 mm behind a Class A GFCI",
            "no Class A GFCI recorded at its breaker",
        ),
        "Verify its GFCI protection, or move it.",
    )


def test_a_fan_over_a_tub_is_told_by_its_height_where_that_decides() -> None:
    room = TUB | {"ceiling_mm": 2600}
    fan = box("F", "ceiling@2500x-300", "ceiling_fan")
    found = words("nec-2023", "tub-luminaires:F", room=room, boxes=[fan])
    assert found.says == (
        "Ceiling fan F is 6 ft 10 11/16 in. above the rim of tub T; more than 8 ft required."
    )
    assert (found.figure, found.limit) == ("6 ft 10 11/16 in.", "8 ft")
    unmeasured = TUB | {"ceiling_mm": 2400, "fixtures": ["tub T a@2000+1500x750"]}
    found = words("nec-2023", "tub-luminaires:F", room=unmeasured, boxes=[fan])
    assert found.says == "Ceiling fan F is over tub T."


def test_the_height_of_a_ceiling_is_no_fact_of_a_light_beside_the_tub() -> None:
    pendant = box("L", "ceiling@200x-300", LED | {"mounting": "pendant"})
    prints = set()
    for ceiling in (2400, 2600):
        room = TUB | {"ceiling_mm": ceiling}
        prints.add(one("nec-2023", "tub-luminaires:L", room=room, boxes=[pendant]).fingerprint)
    assert len(prints) == 1


def test_a_light_and_its_switch() -> None:
    light, switch = box("L", "ceiling", "luminaire"), box("S", "ceiling", "switch")
    cables = ["14/2 P S", "14/2 S L"]
    lit = words("nec-2023", "lighting-outlets:r", boxes=[light, switch], cables=cables)
    assert lit.says == "1 light here has a wall switch; 1 required."
    assert lit.working == ("light L: switched at S",)
    dark = words("nec-2023", "lighting-outlets:r", boxes=[light], cables=["14/2 P L"])
    assert dark.says == "1 light here has no wall switch."
    assert dark.working[0] == "light L: no wall switch"
    assert dark.remedy == "Wire it to a switch on the wall. Or switch a receptacle."
    none = words("nec-2023", "lighting-outlets:r")
    assert none.says == "No lighting outlet here; 1 required."


def test_lights_without_cables_are_counted_from_four_on() -> None:
    boxes = [box(f"L{number}", "ceiling", "luminaire") for number in (1, 2, 3, 10)]
    found = words("nec-2023", "lighting-outlets:r", boxes=boxes[:3])
    assert found.says.startswith("Not recorded yet: what switches light L1, what switches light L2")
    found = words("nec-2023", "lighting-outlets:r", boxes=boxes)
    assert found.says == "Not recorded yet: what switches 4 lights."
    assert "not recorded yet: what switches light L10" in found.working


def test_a_loop_without_a_neutral() -> None:
    light, switch = box("L", "ceiling", "luminaire"), box("S", "ceiling", "switch")
    cables = ["14/2 P L", "14/2 L S"]
    found = words("nec-2023", "switch-neutrals:S", boxes=[light, switch], cables=cables)
    assert found.says == "No neutral at switch box S: 2 insulated conductors, 3 required."
    assert (found.figure, found.limit) == ("2", "3")
    assert found.remedy == "Pull a cable with a neutral."


def test_a_stair_with_a_switch_at_one_end() -> None:
    storeys = [{"id": "s", "name": "Main floor"}, {"id": "u", "name": "Upper floor"}]
    rooms: list[dict[str, Any]] = [
        {"kind": "stair", "risers": 14, "joins": ["h", "up"]},
        {"id": "h", "name": "Hall", "kind": "hallway"},
        {"id": "up", "name": "Landing", "kind": "hallway", "storey": "u"},
    ]
    boxes = [box("S", "ceiling", "switch", room="h"), box("L", "ceiling", "luminaire")]
    cables = ["14/2 P S", "14/2 S L"]
    parts = {"storeys": storeys, "rooms": rooms, "boxes": boxes, "cables": cables}
    finding = one("nec-2023", "stair-switches:r", **parts)
    assert spoken(finding) == Spoken(
        "Light L has no switch at hallway up; one required at each level.",
        "1",
        "2",
        (
            "14 risers; a switch at each level required from 6",
            "light L: switched at S",
            "hallway h: a switch",
            "hallway up: no switch",
        ),
        "Install three-way switches, with travellers between.",
    )
    rooms[2]["name"] = "Upper hall"
    assert one("nec-2023", "stair-switches:r", **parts).fingerprint == finding.fingerprint


def test_a_door_without_a_light_and_one_of_which_nobody_recorded_it() -> None:
    door = {"kind": "door", "at_mm": 1000, "width_mm": 900, "to_grade": True}
    wall = {"length_mm": 4000, "outside": True, "openings": [door]}
    room = {"kind": "entry", "closed": False, "walls": [wall]}
    finding = one("nec-2023", "outside-door-lights:r/a.1", room=room)
    assert finding.facts.none_outdoors
    found = spoken(finding)
    assert found.says == "No light outside this door."
    assert found.remedy == "Add one with a wall switch inside."
    del door["to_grade"]
    finding = one("nec-2023", "outside-door-lights:r/a.1", room=room)
    assert finding.verdict is Verdict.INFO_NEEDED
    assert finding.facts.missing == {DoorLightGap.GRADE}


def test_a_basement_by_its_area() -> None:
    room = {"kind": "basement", "walls": [9000, 7000, 9000, 7000]}
    light = box("L", "ceiling", "luminaire")
    found = words("cec-2021", "storage-lighting:r", room=room, boxes=[light])
    assert found.says == "1 light here; 3 required."
    assert found.working[-1] == "63 m² of floor, a light for each 30 m²: 3 required"
    assert found.remedy == "Add a light, switched where you come in."


def test_a_closet_light_near_storage() -> None:
    closet = {"kind": "closet"}
    near = box("L", "ceiling", LED | {"from_storage_in": 11})
    found = words("nec-2023", "closet-luminaires:L", room=closet, boxes=[near])
    assert found == Spoken(
        "Light L is 11 in. from the storage space; 1 ft minimum.",
        "11 in.",
        "1 ft",
        ("surface-mounted LED: 1 ft minimum",),
        "Move it farther from the shelves and the rod.",
    )
    unmeasured = box("L", "ceiling", "luminaire")
    finding = one("nec-2023", "closet-luminaires:room:r", room=closet, boxes=[unmeasured])
    assert finding.measure is not None
    assert finding.measure.min_mm == 152.4
    found = spoken(finding)
    assert found.limit == "1 ft; 6 in."
    assert "Minimum to the storage space: 1 ft for surface-mounted incandescent and" in found.says


def test_no_typed_word_and_no_list_is_a_fact() -> None:
    parts = {"room": TUB | {"name": "Ensuite"}, "receptacles": ["a@1400^1100"]}
    facts = one("cec-2021", "tub-receptacles:R1", **parts).facts
    assert "Ensuite" not in repr(dataclasses.asdict(facts))
