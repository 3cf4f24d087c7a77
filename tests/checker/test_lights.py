"""Which switch turns on which light, read off the wiring."""

from typing import Any

from inspections.checker.graph.lights import Lights, Switcher, is_light
from inspections.checker.graph.wiring import Wiring
from tests.checker.build import house


def lights(boxes: dict[str, list[Any]], *cables: str) -> Lights:
    """The lights of a house of such boxes, by name and devices, and such cables."""
    made = house(boxes=[{"id": n, "devices": d} for n, d in boxes.items()], cables=list(cables))
    return Lights(made, Wiring(made))


def by(found: Lights, light: str) -> dict[str, int | None]:
    """The switch boxes of a light and their kind of switch."""
    return {switcher.box: switcher.ways for switcher in found.switchers(light)}


LIGHT, SWITCH, DIMMER = ["luminaire"], ["switch"], ["dimmer"]
THREE, FOUR = [{"kind": "switch", "ways": 3}], [{"kind": "switch", "ways": 4}]


def test_the_feed_passes_through_the_switch() -> None:
    found = lights({"S": SWITCH, "L": LIGHT}, "14/2 P S", "14/2 S L")
    assert found.switchers("L") == [Switcher("S", 2)]
    assert found.switched_by("S") == ["L"]
    assert found.switchers("S") == []
    assert found.switched_by("L") == []


def test_a_loop_goes_from_the_light_to_its_switch() -> None:
    assert by(lights({"S": DIMMER, "L": LIGHT}, "14/2 P L", "14/2 L S"), "L") == {"S": 2}


def test_a_light_with_a_loop_is_not_switched_by_the_box_that_feeds_it() -> None:
    boxes = {"A": SWITCH, "L": LIGHT, "S": SWITCH, "M": LIGHT}
    found = lights(boxes, "14/2 P A", "14/2 A L", "14/2 L S", "14/2 A M")
    assert by(found, "L") == {"S": 2}
    assert by(found, "M") == {"A": 2}


def test_the_light_between_two_three_way_switches_is_switched_by_both() -> None:
    found = lights({"A": THREE, "L": LIGHT, "S": THREE}, "14/2 P A", "14/3 A L", "14/3 L S")
    assert by(found, "L") == {"A": 3, "S": 3}
    found = lights({"A": SWITCH, "L": LIGHT, "S": THREE}, "14/2 P A", "14/3 A L", "14/3 L S")
    assert by(found, "L") == {"S": 3}


def test_a_switch_on_the_way_to_something_else_is_no_loop() -> None:
    found = lights({"S": SWITCH, "L": LIGHT, "M": LIGHT}, "14/2 P L", "14/2 L S", "14/2 S M")
    assert by(found, "L") == {}
    assert by(found, "M") == {"S": 2}


def test_lights_and_junction_boxes_without_a_switch_between_are_one_group() -> None:
    found = lights(
        {"S": SWITCH, "L": LIGHT, "J": [], "M": LIGHT, "R": ["receptacle"], "N": LIGHT},
        *("14/2 P S", "14/2 S L", "14/2 L J", "14/2 J M", "14/2 M R", "14/2 R N"),
    )
    assert by(found, "L") == by(found, "M") == {"S": 2}
    assert by(found, "N") == {}


def test_a_light_fed_from_the_panel_has_no_switch() -> None:
    assert by(lights({"L": LIGHT}, "14/2 P L"), "L") == {}
    assert by(lights({"L": LIGHT, "R": ["receptacle"]}, "14/2 P R", "14/2 R L"), "L") == {}


def test_travellers_lead_from_three_way_to_four_way_to_three_way() -> None:
    found = lights(
        {"A": THREE, "B": FOUR, "C": THREE, "L": LIGHT},
        *("14/2 P A", "14/3 A B", "14/3 B C", "14/2 C L"),
    )
    assert by(found, "L") == {"A": 3, "B": 4, "C": 3}


def test_two_conductors_are_no_travellers() -> None:
    found = lights({"A": THREE, "C": THREE, "L": LIGHT}, "14/2 P A", "14/2 A C", "14/2 C L")
    assert by(found, "L") == {"C": 3}


def test_three_conductors_to_a_single_pole_switch_are_no_travellers() -> None:
    one_pole = lights({"A": SWITCH, "C": THREE, "L": LIGHT}, "14/2 P A", "14/3 A C", "14/2 C L")
    assert by(one_pole, "L") == {"C": 3}
    other_way = lights({"A": THREE, "C": SWITCH, "L": LIGHT}, "14/2 P A", "14/3 A C", "14/2 C L")
    assert by(other_way, "L") == {"C": 2}


def test_switches_that_differ_leave_the_kind_open() -> None:
    found = lights({"S": [*THREE, "switch"], "L": LIGHT}, "14/2 P S", "14/2 S L")
    assert by(found, "L") == {"S": None}


def test_what_was_recorded_goes_before_the_wiring() -> None:
    recorded = [{"kind": "switch", "controls": ["M", "R"]}]
    found = lights(
        {"S": recorded, "L": LIGHT, "M": LIGHT, "R": ["receptacle"]}, "14/2 P S", "14/2 S L"
    )
    assert by(found, "L") == {}
    assert by(found, "M") == by(found, "R") == {"S": 2}
    assert found.switched_by("S") == ["M", "R"]


def test_a_switch_recorded_to_turn_on_nothing_turns_on_nothing() -> None:
    found = lights({"S": [{"kind": "switch", "controls": []}], "L": LIGHT}, "14/2 S L")
    assert by(found, "L") == {}


def test_recorded_and_read_off_are_joined_box_by_box() -> None:
    pair = [{"kind": "switch", "ways": 3, "controls": ["L"]}]
    found = lights({"A": pair, "C": SWITCH, "L": LIGHT}, "14/2 P C", "14/2 C L")
    assert by(found, "L") == {"A": 3, "C": 2}


def test_a_cable_that_passes_joins_nothing() -> None:
    made = house(
        boxes=[{"id": "S", "devices": SWITCH}, {"id": "L", "devices": LIGHT}],
        cables=[{"awg": "14", "ends": ["P", "S"], "through": [{"box": "L"}]}],
    )
    assert Lights(made, Wiring(made)).switchers("L") == []


def test_a_luminaire_beside_a_switch_is_a_switch_box() -> None:
    made = house(boxes=[{"id": "S", "devices": ["switch", "luminaire"]}, {"devices": LIGHT}])
    assert [is_light(box) for box in made.boxes] == [False, True]
