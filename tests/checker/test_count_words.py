"""Receptacles that a place is to have, and circuits of one use, in words and as facts."""

from typing import Any

from config.messages.message import Value
from config.messages.saying import ENGLISH, METRIC, said
from inspections.checker.asking.on_circuit import CircuitLoad
from inspections.checker.finding import Finding
from inspections.checker.house.boxes import DeviceKind
from tests.checker.build import findings, house

Words = tuple[str, str, tuple[str, ...]]
"""What is said, what to do, and the working."""


def one(book: str, key: str, **parts: Any) -> Finding:
    """One finding on a small house."""
    return findings(house(**parts), book)[key]


def words(book: str, key: str, **parts: Any) -> Words:
    """The same in English, in the units of its code."""
    finding = one(book, key, **parts)
    reader = ENGLISH if finding.code == "NEC" else METRIC

    def spoken(value: Value) -> str:
        return said(value, reader)

    told = finding.words
    return spoken(told.says), spoken(told.remedy), tuple(map(spoken, told.working))


def box(name: str, place: str, *devices: Any, **more: Any) -> dict[str, Any]:
    """A box with devices at a place."""
    return {"id": name, "place": place, "devices": list(devices), **more}


def test_bays_without_a_receptacle_are_named() -> None:
    garage = {"kind": "garage", "closed": False, "walls": ["30ft"], "vehicle_bays": 3}
    boxes = [box(f"R{n}", "a@2ft^4ft", "receptacle", bay=1) for n in (1, 2, 3)]
    says, remedy, working = words("nec-2023", "garage-receptacles:r", room=garage, boxes=boxes)
    assert says == "Bays 2 and 3 have no receptacle; 1 required in each."
    assert remedy == "Add one there. No higher than 5 ft 6 in."
    assert "receptacles in bay 2: 0" in working
    boxes[1]["bay"] = 2
    says, _, _ = words("nec-2023", "garage-receptacles:r", room=garage, boxes=boxes)
    assert says == "Bay 3 has no receptacle; 1 required in each."


def test_a_laundry_says_what_more_may_be_required() -> None:
    says, remedy, working = words("cec-2021", "laundry-receptacles:r", room={"kind": "laundry"})
    assert says == "Laundry: no receptacle; 1 required."
    assert remedy == "Add one for laundry equipment."
    assert working == (
        "no receptacle is recorded here",
        "as many as 2 may be required",
        "not recorded yet: where washers will stand; the same either way",
    )


def test_what_does_not_count_says_why() -> None:
    room = {"kind": "basement", "closed": False, "walls": ["30ft"]}
    boxes = [
        box("R1", "a@2ft^6ft", "receptacle"),
        box("R2", "ceiling", "receptacle"),
        box("R3", "a@2ft^1ft", {"kind": "receptacle", "dedicated_to": "pump"}),
    ]
    says, remedy, working = words("nec-2023", "utility-receptacles:r", room=room, boxes=boxes)
    assert says == "Unfinished basement: no receptacle that counts; 1 required."
    assert remedy == "Add one for general use. No higher than 5 ft 6 in."
    assert working == (
        "receptacles count up to 5 ft 6 in. high",
        "R1 does not count: 6 ft up",
        "R2 does not count: in the ceiling",
        "R3 does not count: not for general use",
    )


def test_a_height_a_hair_too_great_never_reads_as_the_limit() -> None:
    room = {"kind": "basement", "closed": False, "walls": ["30ft"]}
    boxes = [box("R1", "a@2ft^1676.5", "receptacle")]
    _, _, working = words("nec-2023", "utility-receptacles:r", room=room, boxes=boxes)
    assert working[-1] == "R1 does not count: 5 ft 6 1/16 in. up"


def test_more_than_three_heights_are_a_count() -> None:
    room = {"kind": "basement", "closed": False, "walls": ["30ft"]}
    boxes = [box(f"R{n}", f"a@{n}ft^?", "receptacle") for n in (10, 2, 1)]
    says, remedy, _ = words("nec-2023", "utility-receptacles:r", room=room, boxes=boxes)
    assert says == "Not recorded yet: how high boxes R1, R2, and R10 are."
    assert remedy == "Measure it; 5 ft 6 in. maximum."
    boxes.append(box("R4", "a@4ft^?", "receptacle"))
    says, _, _ = words("nec-2023", "utility-receptacles:r", room=room, boxes=boxes)
    assert says == "Not recorded yet: how high 4 boxes are."


def test_a_receptacle_out_of_reach_from_the_ground() -> None:
    room = {"kind": "outdoors", "closed": False, "walls": ["30ft"], "from_grade": False}
    says, remedy, working = words(
        "cec-2021", "outdoor-receptacles:house", room=room, receptacles=["a@1ft^1ft"]
    )
    assert says == "Outside: no receptacle that counts; 1 required."
    assert remedy == "Add one that can be reached from the ground."
    assert working == ("R1 does not count: out of reach from the ground",)


LAUNDRY = {"kind": "laundry", "closed": False, "walls": ["30ft"]}


def on(circuit: str, name: str, *kinds: str) -> dict[str, Any]:
    """A box with devices on a circuit."""
    devices = [{"kind": kind, "circuit": circuit} for kind in kinds]
    return box(name, "ceiling", *devices)


def test_a_circuit_of_the_laundry_names_what_else_is_on_it() -> None:
    parts: dict[str, Any] = {
        "room": LAUNDRY,
        "circuits": [{"id": "c", "breaker_a": 20}],
        "boxes": [on("c", "R1", "receptacle"), on("c", "L1", "luminaire")],
    }
    says, remedy, working = words("nec-2023", "laundry-circuit:r", **parts)
    assert says == "Circuit c also feeds light L1; not allowed."
    assert remedy == "Move it to another circuit."
    assert working[-1] == "circuit c, 20 A: also light L1"
    facts = one("nec-2023", "laundry-circuit:r", **parts).facts
    (circuit,) = facts.circuits
    assert circuit.others == {CircuitLoad(DeviceKind.LUMINAIRE, "L1")}
    parts["boxes"] += [on("c", f"L{n}", "luminaire") for n in (2, 3, 10)]
    says, remedy, working = words("nec-2023", "laundry-circuit:r", **parts)
    assert says == "Circuit c also feeds 4 other loads; not allowed."
    assert remedy == "Move them to another circuit."
    assert working[-1].endswith("light L1, light L2, light L3, and light L10")


def test_a_small_breaker_and_no_circuit_that_will_do() -> None:
    parts: dict[str, Any] = {
        "room": LAUNDRY,
        "circuits": [{"id": "c", "breaker_a": 15}, {"id": "d", "breaker_a": 15}],
        "boxes": [on("c", "R1", "receptacle")],
    }
    says, remedy, _ = words("nec-2023", "laundry-circuit:r", **parts)
    assert says == "Circuit c is 15 A; 20 A minimum."
    assert remedy == "Feed the receptacles from a larger circuit."
    parts["boxes"].append(on("d", "R2", "receptacle"))
    says, remedy, _ = words("nec-2023", "laundry-circuit:r", **parts)
    assert says == "No 20 A circuit is reserved for the laundry receptacles here."
    assert remedy == "Feed them from one with nothing else on it."


def test_a_part_of_an_outlet_is_none() -> None:
    boxes = [on("c", "R1", *["receptacle"] * 7)]
    circuits = [{"id": "c", "breaker_a": 7.5, "continuous_percent": 80}]
    finding = one("cec-2024", "outlets-per-circuit:c", boxes=boxes, circuits=circuits)
    assert (finding.facts.most, finding.facts.whole) == (6.0, 6)
    circuits = [{"id": "c", "breaker_a": 8.5, "continuous_percent": 80}]
    says, remedy, working = words(
        "cec-2024", "outlets-per-circuit:c", boxes=boxes, circuits=circuits
    )
    assert says == "This circuit has 7 outlets; 6 maximum."
    assert remedy == "Move one of them to another circuit."
    assert working[-1] == "8.5 A × 80% ÷ 1 A an outlet: 6 outlets"


def test_a_typed_name_is_no_fact_of_an_appliance_circuit() -> None:
    parts: dict[str, Any] = {
        "circuits": [{"id": "c", "name": "Furnace", "breaker_a": 15}],
        "appliances": [{"id": "A", "room": "r", "name": "Furnace", "circuit": "c"}],
        "boxes": [on("c", "L1", "luminaire")],
    }
    finding = one("nec-2023", "own-circuits:A", **parts)
    assert said(finding.words.says) == ("The furnace shares circuit c with light L1; none allowed.")
    parts["appliances"][0]["name"] = "Gas furnace"
    parts["circuits"][0]["name"] = "Heat"
    assert one("nec-2023", "own-circuits:A", **parts).fingerprint == finding.fingerprint
    parts["boxes"][0]["id"] = "L2"
    assert one("nec-2023", "own-circuits:A", **parts).fingerprint != finding.fingerprint


def test_each_wrong_rating_is_in_the_working() -> None:
    boxes = [
        box(f"R{n}", "ceiling", {"kind": "receptacle", "circuit": "c", "amperes": 15})
        for n in (1, 2, 10, 3)
    ]
    circuits = [{"id": "c", "breaker_a": 20}]
    says, remedy, _ = words("cec-2024", "receptacle-ratings:c", boxes=boxes[:1], circuits=circuits)
    assert says == "Receptacle R1 is rated 15 A; 20 A minimum on a 20 A breaker."
    assert remedy == "Fit a receptacle of 20 A or more."
    says, remedy, working = words(
        "cec-2024", "receptacle-ratings:c", boxes=boxes, circuits=circuits
    )
    assert says == "4 receptacles do not suit the 20 A breaker."
    assert remedy == "Fit receptacles of 20 A or more."
    assert working[1:] == tuple(f"receptacle R{n}: 15 A" for n in (1, 2, 3, 10))
