"""The plan puts each thing where the house says it is, and marks what is short in place."""

import json
from xml.etree import ElementTree as Tree

import pytest

from inspections.checker.amendments import load_rulebook
from inspections.checker.check import check
from inspections.checker.finding import Verdict
from inspections.checker.house.boxes import Box
from inspections.checker.house.power import Appliance, Panel
from inspections.checker.load import load_house
from inspections.drawing.geometry import OFF_WALL, Placing, storeys_drawn, wall_sides
from inspections.drawing.plan import plan_svg
from tests.checker.build import findings, house
from tests.conftest import EXAMPLES
from tests.sure import sure

SVG = "{http://www.w3.org/2000/svg}"


def drawn(made, found=(), circuit=None):
    return Tree.fromstring(plan_svg(made, "s", list(found), circuit))


def of_class(svg, name: str) -> list[Tree.Element]:
    return [e for e in svg.iter() if name in (e.get("class") or "").split()]


def measure(drawn: Tree.Element, name: str) -> float:
    return float(drawn.attrib[name])


def square(**parts):
    return house(room={"kind": "bedroom", "walls": [4000, 3000, 4000, 3000]}, **parts)


def test_walls_run_clockwise_with_north_up() -> None:
    walls = wall_sides(square().rooms[0])
    corners = {"a": (0, 0), "b": (4000, 0), "c": (4000, 3000), "d": (0, 3000)}
    for name, corner in corners.items():
        assert walls[name].left == pytest.approx(corner)
    assert walls["a"].at(1000, 500) == pytest.approx((1000, 500))
    assert walls["b"].at(1000, 500) == pytest.approx((3500, 1000))


def test_a_box_stands_by_its_wall_inside_the_room() -> None:
    made = square(receptacles=["c@1000^300"])
    assert Placing(made).points["R1"] == pytest.approx((3000, 3000 - OFF_WALL))


def test_what_has_no_place_is_spread_and_never_stacked() -> None:
    made = square(boxes=[{"place": {"surface": "ceiling"}} for _ in range(20)])
    points = [(round(x), round(y)) for x, y in Placing(made).points.values()]
    assert len(set(points)) == len(points)


def test_every_box_panel_and_appliance_of_the_storey_is_drawn_once() -> None:
    made = load_house((EXAMPLES / "quillet-corrected.json").read_bytes())
    (storey,) = storeys_drawn(made)
    svg = Tree.fromstring(plan_svg(made, storey.id))
    names = [e.attrib["data-node"] for e in of_class(svg, "node")]
    nodes: tuple[Box | Panel | Appliance, ...] = (*made.boxes, *made.panels, *made.appliances)
    assert sorted(names) == sorted(node.id for node in nodes)
    assert of_class(svg, "to-correct") == []


def test_a_box_that_is_short_is_ringed_with_its_figure() -> None:
    made = square(boxes=[{"volume_ml": 100, "devices": ["switch"], "place": "a@1000^1200"}],
                  cables=["14/2", "14/2"])  # fmt: skip
    found = findings(made, "nec-2023")
    svg = drawn(made, found.values())
    (place,) = of_class(svg, "to-correct")
    x, y = Placing(made).points["b"]
    assert place.get("transform") == f"translate({x:.0f} {y:.0f})"
    assert len(of_class(place, "mark")) == 1
    figures = [sure(e.text) for e in of_class(place, "figure")]
    there = [key for key in ("box-fill:b", "circuit-paths:box/b") if key in found]
    assert len(figures) == len(there) == 2
    assert all(figure.startswith("b: ") for figure in figures)


def test_a_staple_rings_no_box_of_the_same_id() -> None:
    made = square(
        boxes=[{"id": "F1", "devices": ["exhaust_fan"], "place": "a@1000^2300"}],
        cables=[{"awg": "14", "ends": ["P", "F1"]}, {"awg": "14", "ends": ["P", "F1"]}],
        fastenings=[{"cables": ["C1", "C2"], "listed_for": 1}],
    )
    short = [f for f in findings(made, "cec-2021").values() if f.rule.id == "staples"]
    assert [f.verdict for f in short if f.subject == "F1"] == [Verdict.NOT_TO_CODE]
    assert of_class(drawn(made, short), "place") == []


def test_the_stretch_out_of_reach_is_drawn_over_its_wall_with_its_length() -> None:
    made = square(receptacles=["c@3900^300"])
    found = [f for f in check(made, load_rulebook("cec-2021")) if f.rule.id == "wall-receptacles"]
    assert found[0].facts.gaps
    svg = drawn(made, found)
    stretches = of_class(svg, "stretch")
    gaps = found[0].facts.gaps
    assert len(stretches) >= len(gaps)
    total = sum(gap.width_mm for gap in gaps)
    lines = [line for s in stretches for line in s.iter(f"{SVG}line")]
    across = sum(
        abs(measure(e, "x2") - measure(e, "x1")) + abs(measure(e, "y2") - measure(e, "y1"))
        for e in lines
    )
    assert across == pytest.approx(total, abs=4 * len(lines))


def test_the_runs_of_a_circuit_are_drawn_on_demand_alone() -> None:
    circuits = [{"id": n, "panel": "P", "name": n, "breaker_a": 15} for n in "12"]
    cables = [
        {"awg": "14", "ends": ["P", "b"], "circuit": "1"},
        {"awg": "14", "ends": ["P", "c"], "circuit": "2"},
    ]
    made = square(boxes=[{"place": "a@500^300"}, {"id": "c", "place": "b@500^300"}],
                  circuits=circuits, cables=cables)  # fmt: skip
    assert of_class(drawn(made), "run") == []
    assert len(of_class(drawn(made, circuit="1"), "run")) == 1


def test_doors_windows_and_fixed_things_interrupt_the_wall() -> None:
    first = "4000 door 500+800 left, window 2000+900 sill 900"
    walls = [first, 3000, "4000 cabinet 0+600", 3000]
    svg = drawn(house(room={"kind": "bedroom", "walls": walls}))
    assert len(of_class(svg, "leaf")) == len(of_class(svg, "swing")) == 1
    assert len(of_class(svg, "glass")) == 3
    assert len(of_class(svg, "fixed")) == 1
    north = [e for e in of_class(svg, "wall") if e.get("y1") == e.get("y2") == "0"]
    spans = sorted((measure(e, "x1"), measure(e, "x2")) for e in north)
    assert spans == [(0, 500), (1300, 2000), (2900, 4000)]


@pytest.mark.parametrize(
    ("device", "says"),
    [
        ({"kind": "switch", "ways": 3}, ["S", "3"]),
        ({"kind": "dimmer"}, ["SD"]),
        ({"kind": "smoke_alarm"}, ["SA"]),
        ({"kind": "data"}, ["D"]),
        ({"kind": "thermostat"}, ["T"]),
        ({"kind": "receptacle"}, []),
    ],
)
def test_each_device_has_its_letters(device, says) -> None:
    svg = drawn(square(boxes=[{"devices": [device], "place": "a@500^300"}]))
    node = next(e for e in of_class(svg, "node") if e.get("data-node") == "b")
    assert [e.text for e in node.iter(f"{SVG}text")] == says


def test_markup_in_names_stays_text() -> None:
    raw = json.loads((EXAMPLES / "gannet.json").read_text("utf-8"))
    raw["rooms"][0]["name"] = "<script>alert(1)</script> & co"
    made = load_house(json.dumps(raw).encode())
    svg = plan_svg(made, storeys_drawn(made)[0].id)
    assert "<script" not in svg
    assert "&lt;script&gt;" in svg
