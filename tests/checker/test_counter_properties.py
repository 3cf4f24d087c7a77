"""What must hold for any counter, island or peninsula."""

import json
from itertools import product
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from inspections.checker.asking.counters import NAME
from inspections.checker.finding import Finding, Verdict
from inspections.checker.rules.counter_receptacles import BehindSink
from tests.checker.build import findings, house
from tests.checker.walking import COUNTER_CELL, short_counter_spaces
from tests.lengths import examples

BOOKS = st.sampled_from(["nec-2017", "nec-2020", "nec-2023", "cec-2018", "cec-2021"])
RANK = {Verdict.SHORT: 0, Verdict.UNKNOWN: 1, Verdict.MEETS: 2}
FIXTURES = ["sink", "range", "cooktop", "refrigerator", "appliance"]
DEPTHS = [100, 320, 480]  # mm behind a fixture: under both limits, between them, over both
TOP = 900
LONGEST = 3000


@st.composite
def counters(draw: st.DrawFn) -> dict[str, Any]:
    """A counter along one wall or round a corner, with fixtures in it."""
    first, second = draw(st.integers(200, LONGEST)), draw(st.sampled_from([0, 600, 1500]))
    along = [{"wall": "a", "at_mm": LONGEST - first, "width_mm": first}]
    along += [{"wall": "b", "at_mm": 0, "width_mm": second}] if second else []
    fixtures, at = [], 0
    for _ in range(draw(st.integers(0, 2))):
        at += draw(st.integers(50, 1200))
        width = draw(st.integers(300, 900))
        if at + width > first + second:
            break
        depth = draw(st.sampled_from(DEPTHS))
        kind = draw(st.sampled_from(FIXTURES))
        fixtures.append({"kind": kind, "at_mm": at, "width_mm": width, "behind_mm": depth})
        at += width
    return {"kind": "wall", "top_mm": TOP, "along": along, "interruptions": fixtures}


PLACES = st.lists(
    st.builds(
        "{}@{}^{}".format,
        st.sampled_from("ab"),
        st.integers(0, LONGEST),
        st.sampled_from([850, 1000, 1300, 1500, "?"]),
    ),
    max_size=5,
)


def judged(counter: dict[str, Any], places: list[str], book: str) -> dict[str, Finding]:
    """The findings on one counter, by subject; what stands behind a sink left out."""
    room = {"kind": "kitchen", "closed": False, "walls": [LONGEST, LONGEST]}
    made = house(room=room, counters=[json.loads(json.dumps(counter))], receptacles=places)
    found = findings(made, book).values()
    return {
        f.subject: f for f in found if f.rule.id == NAME and not isinstance(f.facts, BehindSink)
    }


@given(counters(), PLACES, BOOKS, PLACES)
def test_another_receptacle_never_makes_a_counter_worse(counter, places, book, more) -> None:
    before, after = judged(counter, places, book), judged(counter, places + more, book)
    assert before.keys() == after.keys()
    assert all(RANK[after[key].verdict] >= RANK[before[key].verdict] for key in before)


@given(counters(), PLACES, BOOKS, st.data())
def test_a_verdict_on_missing_facts_holds_whatever_they_are(counter, places, book, data) -> None:
    fixtures = counter["interruptions"]
    hidden = data.draw(st.lists(st.sampled_from(fixtures), unique_by=id)) if fixtures else []
    for fixture in hidden:
        fixture["behind_mm"] = "missing"
    unsure = judged(counter, places, book).values()
    unmeasured = [index for index, place in enumerate(places) if place.endswith("?")]
    for depths in product(DEPTHS, repeat=len(hidden)):
        for fixture, depth in zip(hidden, depths, strict=True):
            fixture["behind_mm"] = depth
        for heights in product([850, 1000, 1500], repeat=len(unmeasured)):
            certain = list(places)
            for index, height in zip(unmeasured, heights, strict=True):
                certain[index] = places[index].replace("?", str(height))
            surely = judged(counter, certain, book).values()
            for finding in unsure:
                parts = [part for part in surely if lies_in(part, finding, counter)]
                short = [part for part in parts if part.verdict is Verdict.SHORT]
                assert not (finding.verdict is Verdict.MEETS and short)
                assert finding.verdict is not Verdict.SHORT or short


@st.composite
def in_cells(draw: st.DrawFn) -> dict[str, Any]:
    """A counter whose lengths are whole cells, longer than most."""
    counter = draw(counters())
    for part in (*counter["along"], *counter["interruptions"]):
        for key in ("at_mm", "width_mm"):
            part[key] = part[key] // COUNTER_CELL * COUNTER_CELL
    first = counter["along"][0]
    first["at_mm"] = LONGEST - first["width_mm"]
    whole, at, fixtures = sum(part["width_mm"] for part in counter["along"]), 0, []
    for fixture in counter["interruptions"]:
        fixture["at_mm"] = at = max(at, fixture["at_mm"])
        at += fixture["width_mm"]
        fixtures += [fixture] if at <= whole else []
    return {**counter, "interruptions": fixtures}


@examples(200, 5000)
@given(in_cells(), BOOKS, st.data())
def test_it_agrees_with_walking_the_counter_step_by_step(counter, book, data) -> None:
    heights = st.sampled_from([-50, 100, 400, 600])
    whole = sum(part["width_mm"] for part in counter["along"])
    cells = st.integers(0, whole // COUNTER_CELL).map(lambda cell: cell * COUNTER_CELL)
    places = data.draw(st.lists(st.tuples(cells, heights), max_size=5))
    first = counter["along"][0]["width_mm"]
    words = [
        f"a@{LONGEST - first + at}^{TOP + above}"
        if at <= first
        else f"b@{at - first}^{TOP + above}"
        for at, above in places
    ]
    short = [f for f in judged(counter, words, book).values() if f.verdict is Verdict.SHORT]
    assert len(short) == short_counter_spaces(counter, places, book[:3])


def lies_in(part: Finding, whole: Finding, counter: dict[str, Any]) -> bool:
    """Whether a counter space lies within another."""
    (a, a_end), (b, b_end) = (span(finding, counter) for finding in (part, whole))
    return b - 0.1 <= a and a_end <= b_end + 0.1


def span(finding: Finding, counter: dict[str, Any]) -> tuple[float, float]:
    """From and to along the counter."""
    facts, first = finding.facts, counter["along"][0]
    start = facts.at_mm + first["width_mm"]
    if facts.wall == "a":
        start = facts.at_mm - first["at_mm"]
    return start, start + facts.space_mm


ISLANDS = st.fixed_dictionaries(
    {
        "kind": st.sampled_from(["island", "peninsula"]),
        "length_mm": st.integers(200, 4000),
        "depth_mm": st.integers(200, 2000),
        "provision": st.booleans(),
    }
)
AT_ISLAND = st.fixed_dictionaries(
    {
        "at_mm": st.integers(0, 4000),
        "above_top_mm": st.sampled_from([-400, -100, 0, 100, 600]),
        "overhang_mm": st.sampled_from([0, 200]),
    }
)
FACTS: dict[str, list[int]] = {
    "length_mm": [1, 620, 4000],
    "depth_mm": [1, 310, 4000],
    "provision": [True, False],
}
PLACE_FACTS = {"at_mm": [0, 4000], "above_top_mm": [-400, -100, 0, 100, 600]}
PLACE_FACTS["overhang_mm"] = [0, 200]


def island(counter: dict[str, Any], places: list[dict[str, Any]], book: str) -> Verdict:
    """The verdict on an island; meets where nothing is asked."""
    boxes = [
        {"id": f"I{i}", "place": {"surface": "counter", "counter": "K", **place}}
        | {"devices": ["receptacle"]}
        for i, place in enumerate(places)
    ]
    made = house(room={"kind": "kitchen"}, counters=[counter], boxes=boxes)
    finding = findings(made, book).get("counter-receptacles:K")
    return finding.verdict if finding else Verdict.MEETS


@given(ISLANDS, st.lists(AT_ISLAND, max_size=3), BOOKS, AT_ISLAND)
def test_another_receptacle_never_makes_an_island_worse(counter, places, book, more) -> None:
    assert RANK[island(counter, [*places, more], book)] >= RANK[island(counter, places, book)]


@given(ISLANDS, st.lists(AT_ISLAND, max_size=2), BOOKS, st.sampled_from(sorted(FACTS)))
def test_an_island_with_a_missing_fact(counter, places, book, fact) -> None:
    unsure = island({**counter, fact: "missing"}, places, book)
    certain = {island({**counter, fact: value}, places, book) for value in FACTS[fact]}
    assert unsure is Verdict.UNKNOWN or certain == {unsure}


@given(ISLANDS, AT_ISLAND, BOOKS, st.sampled_from(sorted(PLACE_FACTS)))
def test_a_receptacle_at_an_island_with_a_missing_fact(counter, place, book, fact) -> None:
    unsure = island(counter, [{**place, fact: "missing"}], book)
    certain = {island(counter, [{**place, fact: value}], book) for value in PLACE_FACTS[fact]}
    assert unsure is Verdict.UNKNOWN or certain == {unsure}
