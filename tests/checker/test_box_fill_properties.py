"""Box fill against formulas written apart from the checker, from the tables alone."""

from itertools import product
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from inspections.checker.finding import Finding, Verdict
from tests.checker.build import findings, house
from tests.lengths import examples

IN3 = {"18": 1.5, "16": 1.75, "14": 2.0, "12": 2.25, "10": 2.5, "8": 3.0, "6": 5.0}
ML = {"14": 24.6, "12": 28.7, "10": 36.9, "8": 45.1, "6": 73.7}
INCH3 = 16.387064
SIZES = st.sampled_from(list(ML))
CABLES = st.lists(
    st.fixed_dictionaries({"awg": SIZES, "insulated": st.integers(1, 4)}), min_size=1, max_size=6
)
DEVICES = st.lists(
    st.fixed_dictionaries(
        {
            "kind": st.sampled_from(["receptacle", "switch", "dimmer"]),
            "awg": SIZES,
            "depth_mm": st.integers(10, 60),
            "gangs": st.integers(1, 2),
        }
    ),
    max_size=4,
)
FITTINGS = st.fixed_dictionaries(
    {
        "clamps": st.sampled_from(["none", "internal", "external"]),
        "studs": st.integers(0, 2),
        "hickeys": st.integers(0, 1),
        "connectors": st.integers(0, 7),
        "pigtails": st.integers(0, 3),
    }
)


def box(cables: list[Any], devices: list[Any], fittings: dict[str, Any], book: str) -> Finding:
    """The finding on one box that is large enough for anything."""
    made = house(boxes=[{"volume_ml": 50_000, **fittings, "devices": devices}], cables=cables)
    return findings(made, book)["box-fill:b"]


@examples(100, 5000)
@given(CABLES, DEVICES, FITTINGS, st.sampled_from(["nec-2017", "nec-2020", "nec-2023"]))
def test_cubic_inches_by_the_table(cables, devices, fittings, book) -> None:
    sizes = [IN3[cable["awg"]] for cable in cables]
    bonds = len(cables)
    quarters = max(0, bonds - 4) if book != "nec-2017" else 0
    total = (
        sum(IN3[cable["awg"]] * cable["insulated"] for cable in cables)
        + max(sizes) * (1 + quarters / 4)
        + max(sizes) * (fittings["clamps"] == "internal")
        + max(sizes) * (fittings["studs"] + fittings["hickeys"])
        + sum(2 * device["gangs"] * IN3[device["awg"]] for device in devices)
    )
    found = box(cables, devices, fittings, book)
    assert found.verdict is Verdict.MEETS
    assert abs(found.facts.fill_ml / INCH3 - total) < 1e-4


@examples(100, 5000)
@given(CABLES, DEVICES, FITTINGS, SIZES, st.sampled_from(["cec-2018", "cec-2021"]))
def test_millilitres_by_the_table(cables, devices, fittings, awg, book) -> None:
    cables = [{**cable, "awg": awg} for cable in cables]
    posts = fittings["studs"] + fittings["hickeys"]
    counted = min(posts, 1) if book == "cec-2018" else posts
    conductors = sum(cable["insulated"] for cable in cables) + counted + fittings["connectors"] // 2
    straps = sum(
        3.2 * device["depth_mm"] if device["depth_mm"] > 25.4 else 2 * ML[device["awg"]]
        for device in devices
    )
    found = box(cables, devices, fittings, book)
    assert found.verdict is Verdict.MEETS
    assert abs(found.facts.fill_ml - conductors * ML[awg] - straps) < 1e-4


@given(CABLES, DEVICES, FITTINGS, st.sampled_from(["nec-2017", "nec-2023", "cec-2021"]))
def test_it_turns_at_the_fill_exactly(cables, devices, fittings, book) -> None:
    fill = box(cables, devices, fittings, book).facts.fill_ml
    fits = box(cables, devices, {**fittings, "volume_ml": fill}, book)
    short = box(cables, devices, {**fittings, "volume_ml": fill - 0.01}, book)
    assert (fits.verdict, short.verdict) == (Verdict.MEETS, Verdict.SHORT) or book == "cec-2021"
    assert fits.verdict is not Verdict.SHORT


@given(CABLES, DEVICES, FITTINGS, st.integers(50, 900), st.data())
def test_a_verdict_on_missing_facts_holds_whatever_they_are(
    cables, devices, fittings, volume, data
) -> None:
    book = data.draw(st.sampled_from(["nec-2017", "nec-2023", "cec-2018", "cec-2021"]))
    choices: dict[str, list[Any]] = {
        "clamps": ["none", "internal"],
        "connectors": list(range(sum(c["insulated"] + 1 for c in cables) + 1)),
    }
    fact = data.draw(st.sampled_from(sorted(choices)))
    filled = {**fittings, "pigtails": 0, "volume_ml": volume}
    unsure = box(cables, devices, {**filled, fact: "missing"}, book).verdict
    surely = {box(cables, devices, {**filled, fact: x}, book).verdict for x in choices[fact]}
    assert unsure is Verdict.UNKNOWN or surely <= {unsure, Verdict.UNKNOWN}


@examples(40, 400)
@given(CABLES, DEVICES.filter(bool), FITTINGS, st.integers(50, 900), st.data())
def test_a_device_with_missing_facts(cables, devices, fittings, volume, data) -> None:
    book = data.draw(st.sampled_from(["nec-2017", "nec-2023", "cec-2018", "cec-2021"]))
    fact = data.draw(st.sampled_from(["awg", "depth_mm"]))
    sizes = [cable["awg"] for cable in cables]
    values = {"awg": sizes, "depth_mm": [10, 25.4, 25.5, 100]}[fact]
    filled = {**fittings, "volume_ml": volume}
    unsure = box(cables, [{**d, fact: "missing"} for d in devices], filled, book).verdict
    for chosen in product(sorted(set(values), key=str), repeat=len(devices)):
        named = [{**d, fact: value} for d, value in zip(devices, chosen, strict=True)]
        sure = box(cables, named, filled, book).verdict
        assert unsure is Verdict.UNKNOWN or sure in (unsure, Verdict.UNKNOWN)
