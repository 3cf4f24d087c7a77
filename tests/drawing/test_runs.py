"""The runs of a circuit join its boxes, on the storey that is drawn and no other."""

from inspections.checker.house import House
from inspections.checker.load import load_house
from inspections.drawing.geometry import Placing
from inspections.drawing.runs import runs_of
from inspections.drawing.storey_drawn import StoreyDrawn
from tests.checker.build import house
from tests.conftest import EXAMPLES


def circuits(*names: str) -> list[dict[str, object]]:
    return [{"id": name, "panel": "P", "name": name, "breaker_a": 15} for name in names]


def two_storeys() -> House:
    walls = [4000, 3000, 4000, 3000]
    return house(
        storeys=[{"id": "s", "name": "Main"}, {"id": "u", "name": "Upper"}],
        rooms=[{"walls": walls}, {"id": "up", "name": "Up", "storey": "u", "walls": walls}],
        boxes=[
            {"place": "a@500^300"},
            {"id": "c", "place": "a@1500^300"},
            {"id": "d", "room": "up", "place": "a@900^300"},
        ],
        circuits=circuits("1", "2"),
        cables=[
            {"awg": "14", "ends": ["P", "b"], "circuit": "1"},
            {"awg": "14", "ends": ["b", "c"], "circuit": "1"},
            {"awg": "14", "ends": ["P", "d"], "circuit": "2"},
        ],
    )


def test_a_run_goes_from_node_to_node() -> None:
    made = two_storeys()
    runs = runs_of(StoreyDrawn(made, "s"))
    x, y = (round(each) for each in Placing(made).points["P"])
    assert runs["1"].nodes == ("P", "b", "c")
    assert runs["1"].path == f"M{x} {y}L500 190M500 190H1500"


def test_nothing_is_drawn_to_another_storey() -> None:
    made = two_storeys()
    assert runs_of(StoreyDrawn(made, "s"))["2"].path == ""
    above = runs_of(StoreyDrawn(made, "u"))
    assert list(above) == ["2"]
    assert above["2"].nodes == ("d",)


def test_every_circuit_of_the_planted_house_is_found_by_its_boxes() -> None:
    made = load_house((EXAMPLES / "quillet-planted.json").read_bytes())
    runs = runs_of(StoreyDrawn(made, "main"))
    for cable in made.cables:
        if cable.circuit:
            assert {*cable.ends} <= {*runs[cable.circuit].nodes}
    assert sum(len(each.path) for each in runs.values()) < 4_000
