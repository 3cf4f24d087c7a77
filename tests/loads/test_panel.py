"""A panel by its house: circuits, conductors, spaces, legs, directory, best arrangement."""

import json
from typing import Any

import pytest

from config.messages.saying import said
from inspections.checker.amendments import load_rulebook
from inspections.checker.finding import Verdict
from inspections.checker.load import load_house
from inspections.checker.rulebook import Rulebook
from inspections.loads.directory import directory
from inspections.loads.facts import leg_of
from inspections.loads.panel import PanelSchedule, panels
from tests.conftest import EXAMPLES
from tests.loads.houses import house_data, made

CEC, NEC = load_rulebook("cec-2021"), load_rulebook("nec-2023")


def panel_data(**panel: Any) -> dict[str, Any]:
    data = house_data()
    data["panels"][0] |= {"rating_a": 100, "spaces": 24, **panel}
    data["cables"][0]["length_mm"] = 9000
    data["cables"] += [
        run("2", "14", "T1"),
        run("r", "8", "RA"),
        run("h", "12", "HE"),
    ]
    return data


def run(circuit: str, awg: str, to: str) -> dict[str, Any]:
    name = {"id": f"run-{circuit}", "kind": "nm", "awg": awg, "circuit": circuit}
    return {**name, "ends": ["P1", to], "length_mm": 8000}


def schedule(data: dict[str, Any], book: Rulebook = CEC) -> PanelSchedule:
    (found,) = panels(made(data), book)
    return found


def verdicts(found: PanelSchedule) -> dict[str, Verdict]:
    return {said(check.what): check.verdict for check in found.checks}


def checks_of(found: PanelSchedule, circuit: str) -> dict[str, tuple[Verdict, str]]:
    branch = next(x for x in found.branches if x.circuit.id == circuit)
    return {said(check.what): (check.verdict, said(check.says)) for check in branch.checks}


def test_a_panel_that_is_as_it_should_be_meets() -> None:
    found = schedule(panel_data())
    assert found.verdict is Verdict.OK
    assert found.free == 18
    # the range and heater on both legs, and circuits 1 and 2 at 80 % of 15 A on leg A
    assert found.a_va == 4000 + 1000 + 2 * 1440
    assert found.b_va == 5000


def test_a_300_ampere_breaker_on_14_awg_is_short_and_says_what_to_do() -> None:
    data = panel_data()
    data["circuits"][0]["breaker_a"] = 300
    found = schedule(data)
    verdict, says = checks_of(found, "1")["Conductor"]
    assert verdict is Verdict.NOT_TO_CODE
    assert says == (
        "A 300 A breaker on 14 AWG copper; 15 A maximum. Install larger conductors or a 15 A "
        "breaker."
    )
    assert verdicts(found)["Bus rating"] is Verdict.NOT_TO_CODE
    assert found.verdict is Verdict.NOT_TO_CODE


@pytest.mark.parametrize(
    ("awg", "breaker", "verdict"),
    [
        ("8", 40, Verdict.OK),
        ("8", 45, Verdict.NOT_TO_CODE),
        ("6", 60, Verdict.OK),
        ("6", 70, Verdict.NOT_TO_CODE),
    ],
)
def test_the_next_standard_breaker_above_an_ampacity_will_do(awg, breaker, verdict) -> None:
    data = panel_data()
    data["circuits"][2]["breaker_a"] = breaker
    data["cables"][-2]["awg"] = awg
    assert checks_of(schedule(data), "r")["Conductor"][0] is verdict


def test_many_cables_in_one_hole_derate_the_thinnest_of_them() -> None:
    data = panel_data()
    names = ["C1", "run-2", "run-h"]
    data["cables"] += [
        {**run("1", "14", "T1"), "id": f"more{i}", "length_mm": 10} for i in range(3)
    ]
    names += [f"more{i}" for i in range(3)]
    data["holes"] = [{"id": "H9", "room": "den", "member": "plate", "cables": names}]
    _, says = checks_of(schedule(data, NEC), "1")["Conductor"]
    assert "× 50% for 12 conductors together" in says
    assert "(hole H9)" in says
    assert checks_of(schedule(data, NEC), "1")["Conductor"][0] is Verdict.NOT_TO_CODE
    assert checks_of(schedule(data, CEC), "1")["Conductor"][0] is Verdict.OK


def test_a_hot_attic_derates_and_one_past_the_table_is_unknown() -> None:
    for celsius, verdict in ((45, Verdict.OK), (61, Verdict.INFO_NEEDED)):
        data = panel_data()
        data["service"]["ambient_c"] = celsius
        assert checks_of(schedule(data), "1")["Conductor"][0] is verdict


def test_a_continuous_load_takes_five_quarters_of_itself() -> None:
    data = panel_data()
    data["appliances"][1]["volt_amperes"] = 3840
    assert checks_of(schedule(data), "h")["Load"][0] is Verdict.OK
    data["appliances"][1]["volt_amperes"] = 3850
    verdict, says = checks_of(schedule(data), "h")["Load"]
    assert verdict is Verdict.NOT_TO_CODE
    assert "125% of 3,850 VA continuous" in says
    del data["appliances"][1]["volt_amperes"]
    found = next(x for x in schedule(data).branches if x.circuit.id == "h")
    assert found.verdict is Verdict.INFO_NEEDED


def test_a_long_run_is_short_where_it_is_a_rule_and_told_where_it_is_advice() -> None:
    data = panel_data()
    data["cables"][0]["length_mm"] = 60_000
    verdict, says = checks_of(schedule(data, CEC), "1")["Voltage drop"]
    assert verdict is Verdict.VERIFY
    assert says.endswith("3% maximum. The load is assumed: verify it.")
    known = {"id": "PU", "room": "den", "name": "Pump", "kind": "pump", "volt_amperes": 1200}
    data["appliances"].append({**known, "volts": 120, "circuit": "1"})
    verdict, says = checks_of(schedule(data, CEC), "1")["Voltage drop"]
    assert verdict is Verdict.NOT_TO_CODE
    assert says.endswith("; 3% maximum")
    verdict, says = checks_of(schedule(data, NEC), "1")["Voltage drop"]
    assert verdict is Verdict.OK
    assert says.endswith("; 3% is advised, not required")
    del data["cables"][0]["length_mm"]
    assert checks_of(schedule(data, CEC), "1")["Voltage drop"][0] is Verdict.INFO_NEEDED
    assert "Voltage drop" not in checks_of(schedule(data, NEC), "1")


def test_a_tandem_breaker_belongs_where_the_label_lets_it() -> None:
    data = panel_data(tandem_spaces=[7])
    data["circuits"][0] |= {"slots": [7], "half": "a"}
    data["circuits"][1] |= {"slots": [7], "half": "b"}
    found = schedule(data)
    assert verdicts(found)["Tandem breakers"] is Verdict.OK
    assert [place.half for place in found.places if place.slot == 7] == ["a", "b"]
    data["panels"][0]["tandem_spaces"] = [8]
    assert verdicts(schedule(data))["Tandem breakers"] is Verdict.NOT_TO_CODE


def test_two_poles_sit_above_one_another() -> None:
    data = panel_data()
    data["circuits"][2]["slots"] = [3, 8]
    assert verdicts(schedule(data))["Two-pole breakers"] is Verdict.NOT_TO_CODE


def test_a_shared_neutral_wants_opposite_legs_and_the_arrangement_gives_them() -> None:
    data = panel_data()
    data["circuits"][0]["shares_neutral_with"] = "2"
    found = schedule(data)
    assert verdicts(found)["Shared neutral"] is Verdict.NOT_TO_CODE
    assert found.best is not None
    assert found.best.legs["1"] != found.best.legs["2"]
    assert found.best.moved == ("1",) or found.best.moved == ("2",)
    data["circuits"][1]["slots"] = [8]
    assert verdicts(schedule(data))["Shared neutral"] is Verdict.OK


def test_the_best_arrangement_moves_to_a_free_space_of_the_other_leg() -> None:
    found = schedule(panel_data())
    assert found.best is not None
    assert found.best.imbalance_va == 0
    ((name, spaces),) = found.best_places.items()
    assert name in found.best.moved
    assert [leg_of(slot) for slot in spaces] == ["B"]
    taken = {place.slot for place in found.places if place.circuit}
    assert not set(spaces) & taken


def test_breakers_without_a_space_are_placed_two_poles_above_one_another() -> None:
    data = panel_data()
    for circuit in data["circuits"]:
        del circuit["slots"]
    found = schedule(data)
    assert verdicts(found)["Spaces"] is Verdict.INFO_NEEDED
    assert found.best_places["r"] == (1, 3)
    assert found.best_places["h"] == (2, 4)
    assert found.best_places["1"] != found.best_places["2"]
    used = [slot for spaces in found.best_places.values() for slot in spaces]
    assert len(used) == len(set(used)) == 6


def test_what_nobody_recorded_of_a_panel_is_unknown() -> None:
    data = panel_data()
    del data["panels"][0]["spaces"], data["panels"][0]["rating_a"]
    found = schedule(data)
    assert found.free is None
    assert found.best is None
    told = verdicts(found)
    assert {told["Balance"], told["Bus rating"], told["Positions"]} == {Verdict.INFO_NEEDED}


def test_a_main_breaker_above_the_bus_is_short() -> None:
    assert verdicts(schedule(panel_data()))["Bus rating"] is Verdict.OK
    found = schedule(panel_data(main_a=125))
    rated = [each.verdict for each in found.checks if said(each.what) == "Bus rating"]
    assert Verdict.NOT_TO_CODE in rated


def test_a_feeder_panel_tells_the_conductors_that_feed_it() -> None:
    data = panel_data(kind="feeder", rating_a=60, main_a=60)
    sized = {said(each.what): each.size for each in schedule(data).sized}
    assert sized == {"Feeder, copper": "6", "Bonding conductor, copper": "10"}
    del data["service"]["material"]
    assert {said(each.what): each.size for each in schedule(data).sized}["Feeder, aluminum"] == "4"
    assert schedule(panel_data()).sized == ()


def test_the_card_names_appliances_and_rooms_and_no_one() -> None:
    house = load_house((EXAMPLES / "quillet-corrected.json").read_bytes())
    card = {circuit: said(words) for circuit, words in directory(house).items()}
    assert card["furnace"] == "Furnace (Utility room)"
    assert card["bed2"] == "Receptacles: Bedroom 2"
    assert card["lit3"].startswith("Lights: Bedroom 2, Bedroom 3, Main bedroom")
    assert card["range"] == "Range (Kitchen)"
    assert card["heater"] == "Water heater (Utility room)"
    assert card["fridge"] == "Refrigerator: Kitchen"
    assert set(card) == {circuit.id for circuit in house.circuits}


def test_a_circuit_that_feeds_nothing_yet_keeps_its_name() -> None:
    assert said(directory(made(panel_data()))["2"]) == "Bar"


def test_a_box_of_one_circuit_lends_it_to_its_devices() -> None:
    data = panel_data()
    data["boxes"][0]["devices"] = [{"kind": "receptacle"}, {"kind": "switch"}]
    assert said(directory(made(data))["1"]) == "Receptacles: Den"


def test_every_example_has_a_schedule_whose_places_add_up() -> None:
    for path in sorted(EXAMPLES.glob("*.json")):
        if path.name != "house.schema.json":
            house = load_house(path.read_bytes())
            book = load_rulebook(json.loads(path.read_text())["rulebook"])
            for found in panels(house, book):
                taken = sum(bool(place.circuit) for place in found.places)
                assert taken == sum(x.circuit.poles for x in found.branches)
                assert found.best is not None
                assert found.best.imbalance_va <= abs(found.a_va - found.b_va)
