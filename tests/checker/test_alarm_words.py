"""What findings on alarms and protection say of why, of what is missing, and where they are."""

import pytest

from config.messages.saying import ENGLISH, METRIC, said
from inspections.checker.asking.lines import named_or_counted
from inspections.checker.finding import Finding, Verdict
from inspections.checker.rules.alarm_circuits import AlarmCircuitFault
from inspections.checker.rules.alarm_distances import AlarmDistanceMissing
from inspections.checker.rules.arc_fault_protection import BARE, BARE_COUNT
from inspections.checker.rules.carbon_monoxide_alarms import (
    CarbonMonoxideReason,
    CarbonMonoxideSource,
)
from tests.checker.build import findings, house

HALL = {"kind": "hallway", "closed": False, "walls": [20000]}
BEDROOM = {
    **{"id": "x", "name": "Bedroom", "kind": "bedroom", "closed": False},
    "walls": ["20000 door 5000+1000 none"],
}
GARAGE = {"id": "g", "name": "Garage", "kind": "garage"}
FURNACE = {"id": "F", "room": "r", "name": "Furnace"}
BY_BOOK = (("cec-2024", "x"), ("nec-2023", "outside/s"))


def found(book: str, **parts) -> dict[str, Finding]:
    """Every finding on a small house, by key."""
    return findings(house(**parts), book)


@pytest.mark.parametrize(("book", "subject"), BY_BOOK)
def test_fuel_that_is_not_recorded_is_what_is_missing(book: str, subject: str) -> None:
    made = found(book, rooms=[HALL, BEDROOM], appliances=[FURNACE])
    finding = made[f"carbon-monoxide-alarms:{subject}"]
    assert finding.verdict is Verdict.INFO_NEEDED
    assert finding.facts.fuel_missing == {"F"}
    words = finding.words
    assert said(words.says) == "Not recorded yet: whether appliance F burns fuel."
    assert said(words.remedy) == "Record it, or add an alarm."


@pytest.mark.parametrize(("book", "subject"), BY_BOOK)
def test_a_garage_is_the_reason_and_fuel_no_longer_matters(book: str, subject: str) -> None:
    made = found(book, rooms=[HALL, BEDROOM, GARAGE], appliances=[FURNACE])
    finding = made[f"carbon-monoxide-alarms:{subject}"]
    assert finding.verdict is Verdict.NOT_TO_CODE
    assert finding.facts.why == {CarbonMonoxideReason(CarbonMonoxideSource.GARAGE, "g")}
    assert finding.facts.fuel_missing == frozenset()
    assert said(finding.words.working[0]) == "Required because of a garage (g)."


def test_the_name_of_a_room_is_in_no_fact() -> None:
    for book, subject in BY_BOOK:
        rooms = [HALL, BEDROOM, GARAGE]
        renamed = [HALL, BEDROOM | {"name": "Den"}, GARAGE | {"name": "Shop"}]
        key = f"carbon-monoxide-alarms:{subject}"
        assert found(book, rooms=rooms)[key].fingerprint == (
            found(book, rooms=renamed)[key].fingerprint
        )


def test_an_alarm_of_unknown_place_is_what_is_missing() -> None:
    boxes = [{"place": {"surface": "ceiling"}, "devices": ["co_alarm"]}]
    made = found("cec-2024", rooms=[HALL, BEDROOM, GARAGE], boxes=boxes)
    finding = made["carbon-monoxide-alarms:x"]
    assert finding.facts.place_missing == {"b"}
    assert said(finding.words.says) == "Not recorded yet: where alarm b is."
    assert "carbon-monoxide-alarms:r" not in made


def test_outside_is_in_the_hallway_where_there_is_one() -> None:
    made = found("nec-2023", rooms=[BEDROOM, HALL, GARAGE])
    for rule in ("smoke-alarms", "carbon-monoxide-alarms"):
        assert made[f"{rule}:outside/s"].spot.room == "r"
    without = found("nec-2023", rooms=[BEDROOM, GARAGE], panels=[])
    assert without["carbon-monoxide-alarms:outside/s"].spot.room == "x"


def test_an_alarm_on_a_protected_circuit_says_what_is_wrong_in_the_terms_of_the_code() -> None:
    alarm = {"kind": "smoke_alarm", "circuit": "c", "battery": False}
    made = found("cec-2024", circuits=["c 15 afci"], boxes=[{"devices": [alarm]}])
    finding = made["alarm-circuits:b"]
    assert finding.facts.faults == {AlarmCircuitFault.NO_LIGHTS, AlarmCircuitFault.NO_BATTERY}
    assert said(finding.words.says) == (
        "Alarm b is on circuit c, which feeds no lights. "
        "Alarm b is behind Class A GFCI or AFCI protection and has no battery."
    )


def test_a_sensor_of_both_kinds_is_recorded_and_its_listing_is_not() -> None:
    cooker = {"id": "G", "kind": "range", "wall": "a", "at_mm": 0}
    kitchen = {
        **{"kind": "kitchen", "closed": True, "walls": [8000, 8000, 8000, 8000]},
        "fixtures": [cooker | {"width_mm": 760, "depth_mm": 700}],
    }
    place = {"surface": "ceiling", "x_mm": 4000, "y_mm": 300}
    for sensor, missing in (
        ("both", AlarmDistanceMissing.LISTING),
        (None, AlarmDistanceMissing.SENSOR),
    ):
        alarm = {"kind": "smoke_alarm", "circuit": "c"}
        if sensor:
            alarm["sensor"] = sensor
        boxes = [{"place": place, "devices": [alarm]}]
        made = found("nec-2023", rooms=[kitchen], circuits=["c 15"], boxes=boxes)
        assert made["alarm-distances:b"].facts.missing == {missing}


def test_up_to_three_boxes_are_named_and_more_are_counted() -> None:
    def words(*ids: str) -> str:
        return said(named_or_counted(BARE, BARE_COUNT, ids, circuit="c"))

    assert words("R10") == "Circuit c has no AFCI protection at box R10."
    assert words("R10", "R2", "R1") == (
        "Circuit c has no AFCI protection at boxes R1, R2, and R10."
    )
    assert words("R1", "R2", "R3", "R4") == "Circuit c has no AFCI protection at 4 boxes."


def test_a_distance_to_water_is_said_in_the_units_of_the_reader() -> None:
    basin = {"id": "W", "kind": "basin", "wall": "a", "at_mm": 0}
    bath = {
        **{"kind": "bedroom", "closed": True, "walls": [4000, 3000, 4000, 3000]},
        "fixtures": [basin | {"width_mm": 500, "depth_mm": 400}],
    }
    place = {"surface": "wall", "wall": "a", "at_mm": 1500, "height_mm": 300}
    boxes = [{"place": place, "devices": ["receptacle:c"]}]
    finding = found("nec-2023", rooms=[bath], circuits=["c 15"], boxes=boxes)[
        "ground-fault-protection:b"
    ]
    says = finding.words.says
    assert said(says, METRIC).endswith("1,000 mm from sink W, required within 1,829 mm.")
    assert said(says, ENGLISH).endswith("3 ft 3 5/16 in. from sink W, required within 6 ft.")
