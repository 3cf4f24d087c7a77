"""The plan of a job's page: rings by lines, counts that add up, and words that never overlap."""

from collections.abc import Iterator
from dataclasses import replace
from math import hypot
from xml.etree import ElementTree as Tree

import pytest

from config.messages.saying import ENGLISH, said
from inspections.checker.amendments import load_rulebook
from inspections.checker.check import check
from inspections.checker.finding import Finding, Verdict
from inspections.checker.geometry.plan import point_within
from inspections.checker.house import House
from inspections.checker.load import load_house
from inspections.drawing.geometry import Placing, Point, storeys_drawn
from inspections.drawing.labels import (
    COUNT_EM,
    Label,
    LabelKind,
    Rect,
    around,
    em_at,
    hull,
    overlaps,
)
from inspections.drawing.layout import (
    LETTERS_FROM,
    MOST_NUMBERS,
    RING_MM,
    STEPS,
    ring_radius,
    scales,
)
from inspections.drawing.marks import MarkKind, marks_of
from inspections.drawing.storey_drawn import StoreyDrawn
from inspections.drawing.storey_nodes import symbol_boxes
from inspections.drawing.storey_plan import PlanLine, plan_of_storey, words_of, worst_state
from tests.checker.build import house
from tests.conftest import EXAMPLES

HOUSES = (
    "gannet.json",
    "marten.json",
    "quillet-corrected.json",
    "quillet-planted.json",
    "second/tamsel.json",
)
BOOKS = ("cec-2021", "nec-2023")
OPEN = (Verdict.NOT_TO_CODE, Verdict.INFO_NEEDED)


def lines_of(made: House, found: list[Finding], verdicts=OPEN) -> list[PlanLine]:
    """Findings as open lines, numbered in walking order, their figures in inches."""
    marks = marks_of(made, found)
    lines: list[PlanLine] = []
    for finding in found:
        if finding.verdict in verdicts:
            figure = said(finding.words.figure, ENGLISH)
            lines.append(PlanLine(len(lines) + 1, marks[finding.key], finding.verdict, figure))
    return lines


def planted() -> tuple[House, list[PlanLine]]:
    made = load_house((EXAMPLES / "quillet-planted.json").read_bytes())
    return made, lines_of(made, check(made, load_rulebook("cec-2021")))


@pytest.fixture(scope="module")
def svg() -> Tree.Element:
    made, lines = planted()
    states: dict[str, Verdict] = {}
    for line in lines:
        states[line.mark.room] = worst_state([line.state, states.get(line.mark.room, Verdict.OK)])
    return Tree.fromstring(plan_of_storey(made, "main", lines, states))


def of_class(svg: Tree.Element, name: str) -> list[Tree.Element]:
    return [each for each in svg.iter() if name in (each.get("class") or "").split()]


def laid_out() -> Iterator[tuple[str, StoreyDrawn, list[Label]]]:
    """Every storey of every example by both codes, with its open lines, and with all lines."""
    for name in HOUSES:
        made = load_house((EXAMPLES / name).read_bytes())
        for book in BOOKS:
            found = check(made, load_rulebook(book))
            for verdicts in (OPEN, tuple(Verdict)):
                lines = lines_of(made, found, verdicts)
                for storey in storeys_drawn(made):
                    drawn = StoreyDrawn(made, storey.id)
                    yield f"{name} {book} {verdicts}", drawn, words_of(drawn, lines)


def test_no_two_words_overlap_at_any_zoom() -> None:
    plans = 0
    for name, drawn, words in laid_out():
        plans += 1
        letters = symbol_boxes(drawn)
        steps = scales(drawn.box[2])
        for step, scale in enumerate(steps):
            read = letters if step >= LETTERS_FROM else ()
            ends = [*steps[step + 1 :], scale * 3]
            for times in (1.0, 1.1, 1.25, 1.4, ends[0] / scale):
                found = overlaps(words, em_at(scale * times), step, read)
                assert found == [], (name, drawn.id, step, times)
    assert plans > 20


def test_a_word_that_is_too_near_another_is_found() -> None:
    one = Label(LabelKind.NAME, "a", "Kitchen", (0, 0))
    assert overlaps([one, replace(one, at=(0, 100), text="Hall")], 100, 0) == [("Kitchen", "Hall")]
    assert overlaps([one, replace(one, at=(0, 140))], 100, 0) == []
    assert overlaps([one, replace(one, first=1)], 100, 0) == []
    assert overlaps([replace(one, until=1), replace(one, first=1)], 100, 1) == []


def test_names_stand_in_their_rooms_and_none_is_left_out_when_near() -> None:
    made, lines = planted()
    drawn = StoreyDrawn(made, "main")
    words = words_of(drawn, lines)
    names = {label.of: label for label in words if label.kind is LabelKind.NAME}
    assert set(names) == drawn.shown
    for label in names.values():
        em = em_at(scales(drawn.box[2])[label.first])
        box, floor = label.rect(em, label.first), drawn.floors[label.of]
        xs, ys = zip(*floor, strict=True)
        assert min(xs) <= box.left
        assert box.right <= max(xs)
        assert min(ys) <= box.top
        assert box.bottom <= max(ys)


def test_every_room_with_lines_has_its_count_on_the_whole_plan(svg) -> None:
    _, lines = planted()
    counts = {
        each.get("data-room"): int("".join(each.itertext())) for each in of_class(svg, "count")
    }
    rooms: dict[str, int] = {}
    for line in lines:
        rooms[line.mark.room] = rooms.get(line.mark.room, 0) + 1
    assert counts == rooms
    assert sum(counts.values()) == len(lines)
    assert all("s0" in (each.get("class") or "").split() for each in of_class(svg, "count"))


def test_a_count_covers_no_ring_where_its_room_has_space() -> None:
    made, lines = planted()
    drawn = StoreyDrawn(made, "main")
    em = em_at(scales(drawn.box[2])[0])
    rings = [around(at, ring_radius(em)) for line in lines for at in line.mark.points]
    spacious = 0
    for count in words_of(drawn, lines):
        if count.kind is LabelKind.COUNT and clear_part(drawn.floors[count.of], rings, em) > 0.02:
            spacious += 1
            assert not any(count.rect(em, 0).meets(ring) for ring in rings), count.of
    assert spacious > 6


def clear_part(floor: tuple[Point, ...], rings: list[Rect], em: float, side: int = 40) -> float:
    """The part of a floor on which a count stands clear of rings and walls."""
    whole, clear = hull(floor), 0
    for column in range(side):
        for row in range(side):
            x = whole.left + (whole.right - whole.left) * column / side
            y = whole.top + (whole.bottom - whole.top) * row / side
            box = around((x, y), COUNT_EM * em)
            within = all(point_within(corner, floor) for corner in box.corners)
            clear += within and not any(box.meets(ring) for ring in rings)
    return clear / side**2


def test_each_place_is_one_ring_with_the_numbers_of_all_its_lines(svg) -> None:
    _, lines = planted()
    wanted: dict[tuple[str, str], list[PlanLine]] = {}
    for line in lines:
        for x, y in line.mark.points:
            wanted.setdefault((f"{x:.0f}", f"{y:.0f}"), []).append(line)
    rings = {(each.get("cx"), each.get("cy")): each for each in of_class(svg, "ring")}
    assert len(rings) == len(of_class(svg, "ring"))
    assert set(rings) == set(wanted)
    for at, here in wanted.items():
        assert rings[at].get("data-lines") == " ".join(str(line.number) for line in here)
        assert rings[at].get("data-state") == worst_state(line.state for line in here)
    assert any(len(here) > 1 for here in wanted.values())


def test_a_line_without_a_place_is_neither_ringed_nor_drawn_along_a_wall(svg) -> None:
    _, lines = planted()
    shown: set[int] = set()
    for each in (*of_class(svg, "ring"), *of_class(svg, "stretch")):
        shown |= {int(number) for number in (each.get("data-lines") or "").split()}
    assert shown == {line.number for line in lines if line.mark.kind is not MarkKind.ROOM}
    stretches = [each.get("data-lines") for each in of_class(svg, "stretch")]
    along = [str(line.number) for line in lines if line.mark.kind is MarkKind.STRETCH]
    assert stretches == along


def test_what_is_drawn_by_guess_is_loose_and_bears_no_ring(svg) -> None:
    made, _ = planted()
    recorded = Placing(made).boxes
    loose = {each.get("data-node") for each in of_class(svg, "loose")}
    nodes = {each.get("data-node") for each in of_class(svg, "node")}
    assert loose == nodes - set(recorded) > {"P1", "R13"}
    for ring in of_class(svg, "ring"):
        at = float(ring.attrib["cx"]), float(ring.attrib["cy"])
        for each in of_class(svg, "loose"):
            apart = hypot(at[0] - float(each.attrib["x"]), at[1] - float(each.attrib["y"]))
            assert apart > RING_MM, each.get("data-node")


def test_every_place_says_its_numbers_when_near_and_more_than_a_few_as_a_count() -> None:
    made, lines = planted()
    drawn = StoreyDrawn(made, "main")
    last = len(STEPS) - 1
    said_near = {
        w.of for w in words_of(drawn, lines) if w.kind is LabelKind.LINES and w.shown(last)
    }
    places: dict[tuple[float, float], list[int]] = {}
    for line in lines:
        for point in line.mark.points:
            places.setdefault(point, []).append(line.number)
    wanted = {" ".join(str(number) for number in here) for here in places.values()}
    assert wanted <= said_near
    one = next(line for line in lines if line.mark.kind is MarkKind.PLACE)
    many = [replace(one, number=number) for number in range(1, MOST_NUMBERS + 2)]
    words = [each for each in words_of(drawn, many) if each.kind is LabelKind.LINES]
    assert [each.words(last) for each in words] == [f"×{len(many)}"] * len(one.mark.points)


def test_the_state_of_a_room_is_on_its_floor(svg) -> None:
    made, lines = planted()
    states = {each.get("data-room"): each.get("data-state") for each in of_class(svg, "room")}
    assert set(states) == {room.id for room in made.rooms}
    assert states["bath"] == "not_to_code"
    assert states["back"] is None
    assert any(line.state is Verdict.INFO_NEEDED for line in lines if line.mark.room == "kitchen")
    assert states["kitchen"] == "not_to_code"


def test_the_planted_house_is_small_enough_to_send() -> None:
    made, lines = planted()
    text = plan_of_storey(made, "main", lines, {})
    assert len(text.encode()) < 60_000
    assert len(list(Tree.fromstring(text).iter())) < 1_200


def test_a_place_of_another_storey_is_not_drawn_here() -> None:
    made = house(
        storeys=[{"id": "s", "name": "Main"}, {"id": "u", "name": "Upper"}],
        rooms=[
            {"walls": [4000, 3000, 4000, 3000]},
            {"id": "up", "name": "Up", "storey": "u", "walls": [4000, 3000, 4000, 3000]},
        ],
        boxes=[{"room": "up", "volume_ml": 50, "devices": ["switch"], "place": "a@900^1200"}],
        cables=["14/2", "14/2"],
    )
    lines = lines_of(made, check(made, load_rulebook("nec-2023")))
    above = Tree.fromstring(plan_of_storey(made, "u", lines, {}))
    below = Tree.fromstring(plan_of_storey(made, "s", lines, {}))
    assert len(of_class(above, "ring")) == 1
    assert of_class(below, "ring") == []


@pytest.mark.parametrize(("verdicts", "counted"), [(OPEN, "elsewhere"), (tuple(Verdict), "behind")])
def test_a_ring_opens_a_line_of_its_room_or_says_where_its_line_is_listed(
    verdicts, counted
) -> None:
    made = load_house((EXAMPLES / "quillet-planted.json").read_bytes())
    lines = lines_of(made, list(check(made, load_rulebook("cec-2021"))), verdicts)
    # Lines that are listed elsewhere first, so that some stand before those of the room.
    lines.sort(key=lambda line: set(line.mark.point_rooms) <= {line.mark.room})
    rooms = {line.number: line.mark.room for line in lines}
    svg = Tree.fromstring(plan_of_storey(made, "main", lines, {}))
    seen = {"elsewhere": 0, "behind": 0}
    for ring in svg.iter():
        if ring.get("class") != "ring":
            continue
        numbers = [int(each) for each in (ring.get("data-lines") or "").split()]
        own = [number for number in numbers if rooms[number] == ring.get("data-room")]
        opened = int(ring.get("data-opens") or numbers[0])
        assert opened in numbers
        assert opened in own or not own
        assert rooms[opened] == (ring.get("data-in") or ring.get("data-room"))
        seen["elsewhere"] += not own
        seen["behind"] += bool(own) and opened != numbers[0]
    assert seen[counted]
