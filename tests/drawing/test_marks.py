"""Each finding has one mark, where the facts say that it is and nowhere by guess."""

import json
from collections import Counter
from collections.abc import Iterator
from dataclasses import fields
from functools import cache
from math import hypot
from typing import get_args

import pytest

from config.messages.saying import METRIC, said
from inspections.checker.amendments import load_rulebook
from inspections.checker.asking.counters import CounterLine
from inspections.checker.asking.coverage import LineFacts
from inspections.checker.check import check
from inspections.checker.finding import Finding, Verdict, rules
from inspections.checker.geometry.plan import RoomPlan
from inspections.checker.house import House
from inspections.checker.house.fixtures import Fixture, FixtureKind
from inspections.checker.load import load_house
from inspections.checker.site import HouseByCode
from inspections.drawing.geometry import OFF_WALL
from inspections.drawing.marks import MARK_OFF, Mark, MarkKind, marks_of
from inspections.drawing.named import ROWS
from tests.checker.build import cases, findings, house
from tests.conftest import EXAMPLES

HOUSES = (
    "gannet.json",
    "marten.json",
    "quillet-corrected.json",
    "quillet-planted.json",
    "second/tamsel.json",
)
BOOKS = ("cec-2021", "nec-2023")
FRAMING = ("bored-framing", "notched-framing", "staples", "stand-offs", "communications-supports")


def example(name: str) -> House:
    return load_house((EXAMPLES / name).read_bytes())


@pytest.fixture(scope="module")
def planted() -> tuple[House, dict[str, Finding], dict[str, Mark]]:
    made = example("quillet-planted.json")
    found = check(made, load_rulebook("cec-2021"))
    return made, {each.key: each for each in found}, marks_of(made, found)


@cache
def houses_checked() -> list[tuple[House, list[Finding]]]:
    """Every example by both codes, and every case by its rulebooks."""
    checked: list[tuple[House, list[Finding]]] = []
    for name in HOUSES:
        made = example(name)
        for book in BOOKS:
            checked.append((made, check(made, load_rulebook(book))))
    for case in cases():
        for book in case.rulebooks:
            found = check(case.loaded, load_rulebook(book, case.amended(book)))
            checked.append((case.loaded, found))
    return checked


def test_every_rule_says_what_its_findings_name() -> None:
    assert set(ROWS) == set(rules())
    for name, row in ROWS.items():
        has: set[str] = set()
        for facts in get_args(rules()[name].facts) or (rules()[name].facts,):
            has |= {field.name for field in fields(facts)}
        named = (*row.boxes, *row.wrong, *row.lacking, *row.fine, *row.fixtures)
        for field in (*named, *row.cables, *row.cables_of_circuit):
            assert field.partition(".")[0] in has, (name, field)


def test_every_finding_of_every_house_has_one_mark_that_geometry_bears_out() -> None:
    kinds: Counter[MarkKind] = Counter()
    for made, found in houses_checked():
        marks = marks_of(made, found)
        assert list(marks) == [each.key for each in found]
        site = HouseByCode(made, load_rulebook("cec-2021"))
        for finding in found:
            mark = marks[finding.key]
            kinds[mark.kind] += 1
            assert mark.room == finding.spot.room
            assert bool(mark.points) is (mark.kind is MarkKind.PLACE)
            assert bool(mark.stretches) is (mark.kind is MarkKind.STRETCH)
            places = list(zip(mark.points, mark.point_rooms, strict=True))
            assert len(places) == len(set(places))
            for point, room in places:
                assert stands(site, finding, point, room), (finding.key, point)
            for (start, end), part in zip(mark.stretches, mark.walls, strict=True):
                along_wall(site.plans[mark.room], start, end, part)
    assert min(kinds[kind] for kind in MarkKind) > 100


def stands(site: HouseByCode, finding: Finding, point: tuple[float, float], room: str) -> bool:
    """Whether something that the finding is about stands there, by the checker's own plan."""
    plan, about = site.plans[room], words_of(finding)
    east, north = point[0], -point[1]
    for box in site.boxes_in[room]:
        at = plan.of(box)
        cabled = {c.id for c in site.house.cables if box.id in c.ends}
        if at and near((east, north), at, 2 * OFF_WALL) and about & {box.id, *cabled}:
            return True
        if box.place.surface in ("counter", "floor") and about & {box.id, *cabled}:
            return True
    if room != finding.spot.room:
        return False
    fixtures = [*(site.rooms[room].fixtures or ()), *in_counters(site, room)]
    for fixture in fixtures:
        beside = plan.apart((east, north), fixture)
        placed = fixture.wall is not None and fixture.at_mm is not None
        if fixture.id in about and placed and (beside is None or beside == 0):
            return True
    wall, _, number = finding.subject.partition("/")[2].rpartition(".")
    return finding.rule.id == "outside-door-lights" and bool(number) and wall in about


def in_counters(site: HouseByCode, room: str) -> Iterator[Fixture]:
    """What parts the counters of a room, as it stands along their walls."""
    for counter in site.counters_in[room]:
        line = CounterLine(counter, site.rulebook)
        for number, item in enumerate(counter.interruptions, 1):
            if counter.along:
                wall, at = line.wall_at(item.at_mm)
                yield Fixture(
                    id=f"{counter.id}.{number}",
                    kind=FixtureKind.RANGE,
                    wall=wall,
                    at_mm=at,
                    width_mm=item.width_mm,
                    depth_mm=counter.depth_mm,
                )


def words_of(finding: Finding) -> set[str]:
    """Every id in the subject and the facts of a finding."""
    found: set[str] = set(finding.subject.split("/"))
    if finding.rule.id == "outside-door-lights":
        found |= {each.rpartition(".")[0] for each in found}

    def gather(value) -> None:
        if isinstance(value, str):
            found.add(value)
        elif isinstance(value, dict):
            for each in value.values():
                gather(each)
        elif isinstance(value, list):
            for each in value:
                gather(each)

    gather(finding.facts_as_json)
    return found


def near(a: tuple[float, float], b: tuple[float, float], within: float) -> bool:
    return hypot(a[0] - b[0], a[1] - b[1]) <= within + 1


def along_wall(plan: RoomPlan, start, end, part) -> None:
    """A stretch lies on one wall, as long as it says, a stroke off it into the room."""
    wall = next(each for each in plan.room.walls if each.id == part.wall)
    assert part.at_mm >= -0.01
    assert part.at_mm + part.width_mm <= wall.length_mm + 0.01
    for drawn, at in ((start, part.at_mm), (end, part.at_mm + part.width_mm)):
        east, north = plan.at(part.wall, at, MARK_OFF)
        assert drawn == pytest.approx((east, -north), abs=0.01)


def test_stretches_of_a_line_add_up_to_what_is_out_of_reach() -> None:
    several = 0
    for made, found in houses_checked():
        marks = marks_of(made, found)
        for finding in found:
            mark, facts = marks[finding.key], finding.facts
            if not isinstance(facts, LineFacts) or mark.kind is MarkKind.PLACE:
                continue
            wanted = sum(gap.width_mm for gap in facts.gaps) or facts.space_mm
            assert sum(part.width_mm for part in mark.walls) == pytest.approx(wanted, abs=0.1)
            several += len(mark.walls) > len(facts.gaps) > 0
            if finding.verdict is Verdict.NOT_TO_CODE:
                assert mark.kind is MarkKind.STRETCH
    assert several > 5


def test_a_stretch_round_a_corner_is_one_on_each_wall(planted) -> None:
    _, _, marks = planted
    corner = marks["wall-receptacles:living/e.1"]
    assert [(part.wall, part.at_mm, part.width_mm) for part in corner.walls] == [
        ("e", 2600.0, 200.0),
        ("s", 0.0, 1300.0),
    ]
    first, second = corner.stretches
    assert first == (pytest.approx((5520, -200)), pytest.approx((5520, 0)))
    assert second == (pytest.approx((5600, -80)), pytest.approx((4300, -80)))
    counter = marks["counter-receptacles:K1.2"]
    assert [(part.wall, part.width_mm) for part in counter.walls] == [("w", 185.0), ("n", 400.0)]


def test_the_words_of_a_stretch_round_a_corner_name_each_wall_with_its_length(planted) -> None:
    _, found, _ = planted
    corner = found["wall-receptacles:living/e.1"]
    says = said(corner.words.says, METRIC)
    assert says.endswith("1,800 mm: wall e 200 mm and wall s 1,300 mm.")
    assert says.startswith("1,500 mm of wall")
    straight = found["wall-receptacles:living/w.1"]
    assert said(straight.words.says, METRIC).endswith("within 1,800 mm.")


def test_where_the_planted_faults_are_marked(planted) -> None:
    _, _, marks = planted
    rings: dict[str, list[tuple[float, float]]] = {
        "box-flush:R22": [(850, -3810)],
        "box-loads:L10": [(5757.5, -7365)],
        "cable-bends:C30": [(1680, -3810), (700, -2900)],
        "cable-support:C35": [(11505, -8750)],
        "bathroom-receptacles:bath": [(10960, -7875)],
        "outside-door-lights:dining/n.1": [(5815, -9210)],
        "counter-receptacles:K1.1": [(190, -6215)],
    }
    for key, points in rings.items():
        assert marks[key].kind is MarkKind.PLACE
        assert len(marks[key].points) == len(points)
        for point, wanted in zip(sorted(marks[key].points), sorted(points), strict=True):
            assert point == pytest.approx(wanted, abs=1), key
    in_room = {
        "communications-supports:F2": "living",
        "staples:F1": "living",
        "bored-framing:H11": "utility",
        "bundling:B2/C14": "utility",
        "panel-handles:P1": "utility",
        "counter-receptacles:K2": "kitchen",
        "smoke-alarms:bed3": "bed3",
    }
    for key, room in in_room.items():
        assert (marks[key].kind, marks[key].room) == (MarkKind.ROOM, room), key


def test_no_fault_of_the_planted_house_is_ringed_in_another_room(planted) -> None:
    """But what is checked at the panel: the receptacles of a circuit, and its cables."""
    _, found, marks = planted
    elsewhere = set()
    for key, mark in marks.items():
        if found[key].verdict is Verdict.NOT_TO_CODE and set(mark.point_rooms) - {mark.room}:
            elsewhere.add(found[key].rule.id)
    assert elsewhere == {
        "bonding-conductors",
        "circuit-paths",
        "conductor-and-breaker",
        "receptacle-ratings",
    }


def renamed(given: bytes) -> House:
    """The same house with every cable and every part of framing named like a box."""
    raw = json.loads(given)
    boxes = [box["id"] for box in raw["boxes"]]
    cables = {cable["id"]: boxes[-1 - i % len(boxes)] for i, cable in enumerate(raw["cables"])}
    spare = len(raw["cables"]) - len(boxes)
    for cable in raw["cables"][:spare] if spare > 0 else ():
        cables[cable["id"]] = cable["id"]
    for cable in raw["cables"]:
        cable["id"] = cables[cable["id"]]
    for kind in ("holes", "notches", "fastenings", "bundles"):
        for each, box in zip(raw.get(kind, ()), boxes, strict=False):
            each["id"] = box
            each["cables"] = [cables[cable] for cable in each["cables"]]
    for each in raw.get("separations", ()):
        each["cables"] = [cables[cable] for cable in each["cables"]]
    for each in (*raw.get("heat_gaps", ()), *raw.get("crossings", ())):
        each["cable"] = cables[each["cable"]]
    return load_house(json.dumps(raw).encode())


def test_an_id_that_two_kinds_share_moves_no_ring() -> None:
    given = (EXAMPLES / "quillet-planted.json").read_bytes()
    plain, shared = load_house(given), renamed(given)
    book = load_rulebook("cec-2021")
    assert drawn_at(plain, check(plain, book)) == drawn_at(shared, check(shared, book))


def drawn_at(made: House, found: list[Finding]) -> Counter[tuple[object, ...]]:
    marks = marks_of(made, found)
    drawn: Counter[tuple[object, ...]] = Counter()
    for finding in found:
        if finding.rule.id == "conductor-and-breaker":
            continue  # of several cables alike it names the first by its id
        mark = marks[finding.key]
        where = (mark.room, mark.kind, frozenset(mark.points), mark.stretches)
        drawn[finding.rule.id, finding.verdict, where] += 1
    return drawn


def test_what_has_no_recorded_place_is_in_its_room() -> None:
    made = house(
        room={"kind": "bedroom", "walls": [4000, 3000, 4000, 3000]},
        boxes=[{"volume_ml": 100, "devices": ["luminaire"], "place": {"surface": "ceiling"}}],
        cables=["14/2", "14/2"],
    )
    found = findings(made, "nec-2023")
    mark = marks_of(made, found.values())["box-fill:b"]
    assert (mark.kind, mark.room, mark.points) == (MarkKind.ROOM, "r", ())


def test_framing_and_what_holds_cables_is_ringed_nowhere() -> None:
    seen: set[str] = set()
    for made, found in houses_checked():
        marks = marks_of(made, found)
        for finding in found:
            if finding.rule.id in FRAMING:
                seen.add(finding.rule.id)
                assert marks[finding.key].kind is MarkKind.ROOM
    assert seen == set(FRAMING)
