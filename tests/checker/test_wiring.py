"""The wiring as a graph."""

from inspections.checker.graph.wiring import Wiring
from tests.checker.build import house

MADE = house(
    boxes=[{}, {"id": "c"}, {"id": "d"}],
    cables=[
        "14/2 P b",
        "12/2 b c",
        {"awg": "14", "ends": ["P", "d"], "through": [{"box": "b", "loop_mm": 310}]},
        {"kind": "data", "ends": ["P", "b"]},
    ],
)


def at(node: str, power: bool = False) -> list[tuple[str, bool, float]]:
    """Cables at a node: name, whether it passes, its loop."""
    wiring = Wiring(MADE)
    entries = wiring.power_at(node) if power else wiring.at(node)
    return sorted((entry.cable.id, entry.passes, entry.loop_mm) for entry in entries)


def test_cables_end_and_pass_at_boxes() -> None:
    assert at("b", power=True) == [("C1", False, 0), ("C2", False, 0), ("C3", True, 310)]
    assert at("c") == [("C2", False, 0)]


def test_communication_cables_are_kept_apart() -> None:
    assert at("b") == [("C1", False, 0), ("C2", False, 0), ("C3", True, 310), ("C4", False, 0)]


def test_panels_are_nodes_too() -> None:
    assert [name for name, *_ in at("P")] == ["C1", "C3", "C4"]


def test_nothing_is_at_a_node_without_cables() -> None:
    assert at("nowhere") == []


def test_a_cable_with_both_ends_at_a_box_is_there_twice() -> None:
    looped = house(boxes=[{}], cables=["14/2 b b"])
    assert len(Wiring(looped).power_at("b")) == 2
