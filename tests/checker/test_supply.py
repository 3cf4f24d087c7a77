"""What each breaker supplies, and how far protection reaches."""

from inspections.checker.amendments import load_rulebook
from inspections.checker.asking.protection import FaultKind, Protector, Shield, reachable_nodes
from inspections.checker.site import HouseByCode
from tests.checker.build import house


def site(**parts) -> HouseByCode:
    """A small house made ready for the rules."""
    return HouseByCode(house(**parts), load_rulebook("nec-2023"))


def test_a_device_is_on_the_circuit_it_names_or_on_the_only_one_whose_cables_come() -> None:
    made = site(
        circuits=["c 15", "d 15"],
        boxes=[
            {"devices": ["receptacle", "switch:d"]},
            {"id": "x", "devices": ["receptacle", "data"]},
        ],
        cables=["14/2 P b c", "14/2 P x c", "14/2 P x d"],
    )
    supply = made.supply
    assert [(o.box.id, o.device.kind) for o in supply.devices["c"]] == [("b", "receptacle")]
    assert [(o.box.id, o.device.kind) for o in supply.devices["d"]] == [("b", "switch")]
    assert [(o.box.id, o.device.kind) for o in supply.astray] == [("x", "receptacle")]
    assert [o.device.kind for o in supply.outlets("d")] == []


def test_a_split_receptacle_is_on_two_circuits_and_once_on_a_breaker_of_two_poles() -> None:
    made = site(
        circuits=["c 15", "d 15 &c", "e 15 2p"],
        boxes=[
            {"devices": [{"kind": "receptacle", "circuit": "c", "second_circuit": "d"}]},
            {"id": "x", "devices": [{"kind": "receptacle", "circuit": "e", "second_circuit": "e"}]},
        ],
    )
    first, second = made.house.boxes
    assert made.supply.of(first, first.devices[0]) == ("c", "d")
    assert made.supply.of(second, second.devices[0]) == ("e",)
    assert len(made.supply.devices["e"]) == 1
    assert made.supply.partners["c"] == ["d"]
    assert made.supply.partners["d"] == ["c"]


def test_an_appliance_is_fed_by_the_cable_that_ends_at_it_or_by_what_it_names() -> None:
    made = site(
        circuits=["c 15", "d 15"],
        appliances=[
            {"id": "A", "room": "r", "name": "Furnace", "circuit": "c"},
            {"id": "B", "room": "r", "name": "Heater", "circuit": "d"},
            {"id": "C", "room": "r", "name": "Fan"},
        ],
        cables=["14/2 P A c"],
    )
    assert [each.id for each in made.supply.appliances["c"]] == ["A"]
    assert [each.id for each in made.supply.appliances["d"]] == ["B"]


def test_what_a_walk_reaches_it_does_not_go_on_from_a_stop() -> None:
    joined = {"a": ["a", "b"], "b": ["a", "b", "c"], "c": ["b", "c"]}
    assert reachable_nodes(joined, "a") == {"a", "b", "c"}
    assert reachable_nodes(joined, "a", {"b"}) == {"a", "b"}
    assert reachable_nodes(joined, "z") == {"z"}


def test_a_ring_is_protected_only_when_both_ways_lead_through_protection() -> None:
    first = {"kind": "receptacle", "circuit": "c", "protection": "gfci", "protects_onward": True}
    boxes = [{"devices": [first]}, {"id": "x", "devices": ["receptacle:c"]}]
    cables = ["14/2 P b c", "14/2 b x c"]
    line = site(circuits=["c 15"], boxes=boxes, cables=cables)
    ring = site(circuits=["c 15"], boxes=boxes, cables=[*cables, "14/2 P x c"])
    for made, expected in ((line, Protector.RECEPTACLE), (ring, None)):
        box = made.boxes["x"]
        assert Shield(made, FaultKind.GROUND).of(box, box.devices[0]) == expected
        assert Shield(made, FaultKind.ARC).of(box, box.devices[0]) is None
