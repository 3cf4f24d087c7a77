"""What findings on alarms say of why, of what is missing, and where they stand."""

from inspections.checker.finding import Finding
from tests.checker.build import findings, house

HALL = {"kind": "hallway", "closed": False, "walls": [20000]}
BEDROOM = {
    **{"id": "x", "name": "Bedroom", "kind": "bedroom", "closed": False},
    "walls": ["20000 door 5000+1000 none"],
}
GARAGE = {"id": "g", "name": "Garage", "kind": "garage"}
FURNACE = {"id": "F", "room": "r", "name": "Furnace"}


def found(book: str, **parts) -> dict[str, Finding]:
    """Every finding on a small house, by key."""
    return findings(house(**parts), book)


def test_fuel_that_nobody_recorded_is_what_is_missing() -> None:
    for book, subject in (("cec-2024", "x"), ("nec-2023", "outside/s")):
        made = found(book, rooms=[HALL, BEDROOM], appliances=[FURNACE])
        words = made[f"carbon-monoxide-alarms:{subject}"].words
        assert words.says.endswith("and nobody recorded whether the furnace burns fuel.")
        assert words.remedy == "Record whether the furnace burns fuel, or add an alarm."


def test_a_garage_is_the_reason_and_fuel_no_longer_matters() -> None:
    rooms, appliances = [HALL, BEDROOM, GARAGE], [FURNACE]
    for book, subject in (("cec-2024", "x"), ("nec-2023", "outside/s")):
        finding = found(book, rooms=rooms, appliances=appliances)[
            f"carbon-monoxide-alarms:{subject}"
        ]
        assert finding.facts["missing"] == []
        assert finding.words.working[0] == "asked for because of Garage"


def test_an_alarm_of_unknown_place_is_what_is_missing() -> None:
    boxes = [{"place": {"surface": "ceiling"}, "devices": ["co_alarm"]}]
    made = found("cec-2024", rooms=[HALL, BEDROOM, GARAGE], boxes=boxes)
    assert made["carbon-monoxide-alarms:x"].data["missing"] == ["where alarm b is"]
    assert "carbon-monoxide-alarms:r" not in made


def test_outside_stands_in_the_hallway_where_there_is_one() -> None:
    made = found("nec-2023", rooms=[BEDROOM, HALL, GARAGE])
    for rule in ("smoke-alarms", "carbon-monoxide-alarms"):
        assert made[f"{rule}:outside/s"].spot.room == "r"
    without = found("nec-2023", rooms=[BEDROOM, GARAGE], panels=[])
    assert without["carbon-monoxide-alarms:outside/s"].spot.room == "x"


def test_an_alarm_on_a_protected_circuit_says_what_is_at_fault() -> None:
    alarm = {"kind": "smoke_alarm", "circuit": "c", "battery": False}
    made = found("cec-2024", circuits=["c 15 afci"], boxes=[{"devices": [alarm]}])
    assert made["alarm-circuits:b"].data["faults"] == [
        "is on a circuit without lights",
        "is on a protected circuit and has no battery",
    ]
