"""Building models become houses: rooms by use and area, openings, outlets, what was not read."""

import json

import pytest

from config.languages import say
from inspections.building.reading import ModelUnreadable, read_model
from inspections.building.uses import use_of
from inspections.checker.amendments import load_rulebook
from inspections.checker.load import load_house
from inspections.checker.site import HouseByCode
from inspections.propose.finish import finish_house
from inspections.propose.proposal import Unsolved

from .models import FEET, Written, drawing, two_storeys


@pytest.mark.parametrize("schema", ["IFC2X3", "IFC4"])
@pytest.mark.parametrize("unit", [1.0, 0.001, FEET])
def test_rooms_have_the_areas_that_the_file_states(schema, unit) -> None:
    read = read_model("haus.ifc", two_storeys(schema, unit).content())
    assert [name for name, *_ in read.areas] == ["Wohnzimmer", "Küche", "Bad"]
    for _, drawn, stated in read.areas:
        assert drawn == pytest.approx(stated, rel=0.01)
    house = load_house(json.dumps(read.house).encode())
    site = HouseByCode(house, load_rulebook("nec-2023"))
    assert [round(site.lines[r.id].area_m2, 2) for r in house.rooms] == [20.0, 12.0, 5.0]
    assert [room.kind for room in house.rooms] == ["living", "kitchen", "bathroom"]
    assert [storey.name for storey in house.storeys] == ["Erdgeschoss", "Obergeschoss"]
    assert [len(room.walls) for room in house.rooms] == [4, 6, 4]


@pytest.mark.parametrize("schema", ["IFC2X3", "IFC4"])
def test_doors_and_windows_lie_in_the_walls_they_are_in(schema) -> None:
    house = read_model("h.ifc", two_storeys(schema, 0.001).content()).house
    living, kitchen, bath = house["rooms"]
    openings = {
        room["id"]: [(o["kind"], o["width_mm"]) for w in room["walls"] for o in w["openings"]]
        for room in house["rooms"]
    }
    assert sorted(openings[living["id"]]) == [("door", 900), ("door", 900), ("window", 1200)]
    assert openings[kitchen["id"]] == [("door", 900)]
    assert openings[bath["id"]] == []
    south = next(w for w in living["walls"] if any(o["kind"] == "window" for o in w["openings"]))
    assert south["outside"]
    window = next(o for o in south["openings"] if o["kind"] == "window")
    assert window["sill_mm"] == pytest.approx(900, abs=1)
    assert not next(w for w in kitchen["walls"] if w["openings"])["outside"]


def test_outlets_and_luminaires_become_boxes_and_strange_ones_are_told() -> None:
    model = two_storeys("IFC4", 0.001)
    ground = model.file.by_type("IfcBuildingStorey")[0]
    power = {"PredefinedType": "POWEROUTLET"}
    model.element(ground, "IfcOutlet", "socket", (2.0, 3.95, 0.3, 0.1, 0.05, 0.1), **power)
    model.element(ground, "IfcLightFixture", "lamp", (2.4, 1.9, 2.3, 0.2, 0.2, 0.1))
    model.element(ground, "IfcOutlet", "odd", (1.0, 3.95, 0.3, 0.1, 0.05, 0.1))
    read = read_model("h.ifc", model.content())
    socket, lamp = read.house["boxes"]
    assert socket["devices"] == [{"kind": "receptacle"}]
    assert socket["place"]["surface"] == "wall"
    assert socket["place"]["height_mm"] == pytest.approx(350, abs=1)
    assert lamp["place"] == {"surface": "ceiling", "x_mm": 2500.0, "y_mm": 2000.0}
    assert any("odd" in each and "is not an outlet" in each for each in map(say, read.unread))
    load_house(json.dumps(read.house).encode())


def test_a_model_is_finished_by_proposals() -> None:
    house = read_model("h.ifc", two_storeys().content()).house
    house["panels"] = [{"id": "P", "room": "r1", "rating_a": 200, "spaces": 60}]
    done = finish_house(load_house(json.dumps(house).encode()), load_rulebook("cec-2021"))
    asked = {say(each.why) for each in done.found if isinstance(each, Unsolved)}
    assert {finding.rule.id for finding in done.short} == {"wall-receptacles"}
    assert all("swing" in each and "Record it first." in each for each in asked)


@pytest.mark.parametrize("unit", [4, 6, 1, 2])
def test_closed_polylines_become_rooms_and_lines_lie_beneath(tmp_path, unit) -> None:
    read = read_model("plan.dxf", drawing(tmp_path / "plan.dxf", unit))
    bed, bath = read.house["rooms"]
    assert (bed["name"], bed["kind"]) == ("BEDROOM 1", "bedroom")
    assert (bath["name"], bath["kind"]) == ("Salle de bain", "bathroom")
    assert sorted(w["length_mm"] for w in bed["walls"]) == pytest.approx([3000, 3000, 4000, 4000])
    assert any("POINT" in each for each in map(say, read.unread))
    assert any(line == pytest.approx([0, 0, 1000, 1000]) for line in read.lines)
    load_house(json.dumps(read.house).encode())


def test_a_drawing_without_a_unit_says_what_was_taken(tmp_path) -> None:
    read = read_model("plan.dxf", drawing(tmp_path / "plan.dxf", 0))
    assert any("names no unit" in each for each in map(say, read.unread))


def test_names_in_several_tongues_tell_the_use() -> None:
    told = {"Schlafzimmer 2": "bedroom", "Cuisine": "kitchen", "Baño": "bathroom", "WC": "washroom"}
    told |= {
        "Salle à manger": "dining",
        "Flur OG": "hallway",
        "Master Bedroom": "bedroom",
        "Buero": "den",
        "Waschkueche": "laundry",
    }
    assert {name: use_of(name) for name in told} == told
    assert use_of("Raum 12", "寝室") is None


def test_what_the_library_misses_is_said(monkeypatch) -> None:
    monkeypatch.setenv("PYTHONPATH", "")
    monkeypatch.setattr("config.child_process.sys.executable", "/bin/echo")
    with pytest.raises(ModelUnreadable, match=r"cannot be read"):
        read_model("h.ifc", two_storeys().content())


def test_a_space_without_shape_or_storey_is_told_by_its_number() -> None:
    model = Written()
    ground = model.storey("Ground")
    model.space(ground, "1", "Bedroom", [(0, 0), (4, 0), (4, 3), (0, 3)])
    bare = model._make("IfcSpace", "lost")
    read = read_model("h.ifc", model.content())
    assert len(read.house["rooms"]) == 1
    assert list(map(say, read.unread)) == [f"IfcSpace #{bare.id()} lost: is on no storey"]
