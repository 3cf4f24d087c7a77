"""What a house file tells a load calculation, and what it leaves in doubt."""

import pytest

from config.messages.message import Text
from config.messages.saying import said
from inspections.checker.amendments import load_rulebook
from inspections.checker.finding import Verdict
from inspections.checker.house.rooms import RoomKind
from inspections.loads import facts_of, service_load
from inspections.loads.facts import leg_of
from inspections.loads.rooms import drawn_m2, room_m2
from tests.loads.houses import house_data, made

BOOK = load_rulebook("cec-2021")


def doubts(**service) -> tuple[Text, ...]:
    return facts_of(made(house_data(**service)), BOOK).doubts


def test_a_house_that_tells_everything_leaves_no_doubt_and_passes() -> None:
    facts = facts_of(made(house_data()), BOOK)
    done = service_load(facts, BOOK)
    assert facts.doubts == ()
    assert [load.va for load in facts.loads] == [12000, 2000]
    assert done.ways[0].figure("heating") == 2000
    assert done.verdict is Verdict.MEETS
    assert (done.need_a, done.size_a) == (60, 60)


def test_a_small_house_of_60_amperes_is_enough_by_the_canadian_code_alone() -> None:
    facts = facts_of(made(house_data(rating_a=60)), BOOK)
    assert service_load(facts, BOOK).ways[1].amps == 60
    nec = load_rulebook("nec-2023")
    short = service_load(facts_of(made(house_data(rating_a=60)), nec), nec)
    assert short.verdict is Verdict.SHORT
    assert any("100 A minimum" in said(check.says) for check in short.checks)


@pytest.mark.parametrize(
    ("area", "words"),
    [
        ({"value": 1500, "unit": "m2"}, "If it was measured in square feet, set the unit to ft2."),
        ({"value": 150, "unit": "ft2"}, "If it was measured in square metres, set the unit to m2."),
        ({"value": 30, "unit": "m2"}, "the rooms as drawn have 129 sq ft"),
        ({"value": 5, "unit": "m2"}, "the rooms as drawn have 129 sq ft"),
    ],
)
def test_an_area_that_looks_like_the_other_unit_is_flagged_and_never_turned(area, words) -> None:
    found = doubts(floor_area=area)
    assert any(words in said(doubt) for doubt in found)
    facts = facts_of(made(house_data(floor_area=area)), BOOK)
    assert facts.floor is not None
    assert (facts.floor.value, facts.floor.unit) == (area["value"], area["unit"])
    assert service_load(facts, BOOK).verdict is not Verdict.MEETS


@pytest.mark.parametrize("value", [6.5, 12, 23.9])
def test_an_area_near_the_drawn_one_is_taken(value: float) -> None:
    assert doubts(floor_area={"value": value, "unit": "m2"}) == ()


def test_a_missing_area_nameplate_or_kind_is_a_doubt() -> None:
    data = house_data(floor_area=None)
    del data["appliances"][0]["volt_amperes"], data["appliances"][1]["kind"]
    found = facts_of(made(data), BOOK).doubts
    assert [said(doubt) for doubt in found] == [
        "Floor area not recorded yet.",
        "Volt-amperes of Range not recorded yet.",
        "Kind of appliance not recorded yet: Heater.",
    ]


def test_the_rating_is_that_of_the_panel_when_the_service_gives_none() -> None:
    data = house_data(rating_a=None)
    assert facts_of(made(data), BOOK).rating_a is None
    data["panels"][0] |= {"rating_a": 125, "main_a": 100}
    assert facts_of(made(data), BOOK).rating_a == 100


def test_a_single_pole_appliance_is_on_the_leg_of_its_space() -> None:
    data = house_data()
    data["circuits"].append(
        {"id": "f", "panel": "P1", "name": "Fan", "breaker_a": 15, "slots": [7]}
    )
    fan = {"id": "FA", "room": "den", "name": "Fan", "kind": "fan", "volt_amperes": 200}
    data["appliances"].append({**fan, "volts": 120, "circuit": "f"})
    assert facts_of(made(data), BOOK).loads[2].leg == "B"
    assert [leg_of(slot) for slot in (1, 2, 3, 4, 5, 6, 7)] == list("AABBAAB")


def test_a_conductor_too_thin_for_the_service_is_short_and_one_unknown_does_not_pass() -> None:
    for conductor, material, verdict in (
        ("4", "copper", Verdict.SHORT),
        ("3/0", "copper", Verdict.MEETS),
        ("2/0", "copper", Verdict.SHORT),
        ("2/0", "aluminum", Verdict.SHORT),
        ("2/0", None, Verdict.UNKNOWN),
    ):
        given = house_data(conductor=conductor, material=material, rating_a=200)
        done = service_load(facts_of(made(given), BOOK), BOOK)
        assert (
            next(x for x in done.checks if said(x.what) == "Service conductors").verdict is verdict
        )


def test_a_room_has_the_area_within_its_walls() -> None:
    house = made(house_data())
    assert room_m2(house.rooms[0]) == pytest.approx(12)
    assert drawn_m2(house) == pytest.approx(12)
    open_room = house.rooms[0].model_copy(update={"closed": False})
    assert room_m2(open_room) == 0
    assert drawn_m2(house.model_copy(update={"rooms": (*house.rooms, open_room)})) == 0
    garage = open_room.model_copy(update={"kind": RoomKind.GARAGE})
    assert drawn_m2(house.model_copy(update={"rooms": (*house.rooms, garage)})) == pytest.approx(12)


def test_conductors_are_sized_by_what_is_there_only_where_its_metal_is_known() -> None:
    nec = load_rulebook("nec-2023")

    def electrode(**service) -> set[str]:
        done = service_load(facts_of(made(house_data(**service)), nec), nec)
        return {each.size for each in done.sized if "electrode" in said(each.what)}

    assert electrode(conductor="4/0", material="copper") == {"2"}
    assert electrode(conductor="4/0", material=None) == {"8"}
    assert electrode(conductor=None, material="copper") == {"8"}
