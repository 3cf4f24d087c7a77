"""Fixtures and the boxes near them: how far apart, and what is missing to say so."""

from collections.abc import Collection
from dataclasses import dataclass
from enum import StrEnum

from config.messages.message import Value, message
from inspections.checker.asking.lines import HEIGHT, of_boxes
from inspections.checker.asking.visual import natural
from inspections.checker.geometry.plan import missing_of
from inspections.checker.house.boxes import Box, OnCounter, OnFloor, OnWall
from inspections.checker.house.fixtures import Fixture, FixtureKind
from inspections.checker.house.nouns import noun
from inspections.checker.house.rooms import Counter, Interruption, Room
from inspections.checker.site import HouseByCode
from inspections.checker.spot import Spot

USUAL_DEPTH_MM = 600.0
"""How far what stands in a counter is taken to reach out where the counter is not measured yet."""
ALL_FROM = 2
"""With more of its facts missing, a fixture is measured as a whole."""

FIXTURE = message("place.fixture", "{kind} {fixture}")


class PlaceFact(StrEnum):
    """What of the place of a fixture or a box is not recorded yet."""

    WALL = "wall"
    PLACE = "place"
    WIDTH = "width"
    DEPTH = "depth"
    TOP = "top"
    ON_PLAN = "on-plan"
    HEIGHT = "height"


@dataclass(frozen=True, slots=True)
class PlaceLacking:
    """A missing fact of a place; without a kind the part is a box."""

    what: PlaceFact
    part: str
    kind: FixtureKind | None = None


@dataclass(frozen=True, slots=True)
class Apart:
    """How far a box is from a fixture of its room, or what is missing to say so."""

    distance_mm: float | None
    walled_off: bool = False
    """Whether a wall stands between them."""
    missing: tuple[PlaceLacking, ...] = ()


OF_FIXTURE = {
    PlaceFact.WALL: message("missing.fixture-wall", "which wall {fixture} is on"),
    PlaceFact.PLACE: message("missing.fixture-place", "where along its wall {fixture} is"),
    PlaceFact.WIDTH: message("missing.fixture-width", "the width of {fixture}"),
    PlaceFact.DEPTH: message("missing.fixture-depth", "the depth of {fixture}"),
    PlaceFact.TOP: message("missing.fixture-top", "the height of {fixture}"),
}
ALL_OF_FIXTURE = message("missing.fixture", "the place and size of {fixture}")
OF_BOX = {
    PlaceFact.ON_PLAN: message("missing.on-plan", "the place {of_boxes} on the plan"),
    PlaceFact.HEIGHT: HEIGHT,
}


def place_words(missing: Collection[PlaceLacking]) -> list[Value]:
    """What of places is not recorded yet, fixture by fixture, then the boxes together."""
    said: list[Value] = []
    fixtures = {(each.part, each.kind) for each in missing if each.kind}
    for part, kind in sorted(fixtures, key=lambda each: natural(each[0])):
        lacking = {each.what for each in missing if each.part == part and each.kind}
        said += _of_fixture(FIXTURE(kind=noun(kind), fixture=part) if kind else part, lacking)
    for what, boxed in OF_BOX.items():
        boxes = [each.part for each in missing if each.what is what]
        if boxes:
            said.append(boxed(of_boxes=of_boxes(boxes)))
    return said


def _of_fixture(name: Value, lacking: Collection[PlaceFact]) -> list[Value]:
    if len(lacking) > ALL_FROM:
        return [ALL_OF_FIXTURE(fixture=name)]
    said: list[Value] = []
    for what, words in OF_FIXTURE.items():
        if what in lacking:
            said.append(words(fixture=name))
    return said


def apart(site: HouseByCode, room: Room, box: Box, fixture: Fixture) -> Apart:
    """How far a box is from a fixture of its room on the plan."""
    missing = []
    for fact in missing_of(fixture):
        missing.append(PlaceLacking(PlaceFact(fact), fixture.id, fixture.kind))
    plan = site.plans[room.id] if room.walls else None
    point = plan.of(box) if plan else None
    if point is None:
        missing.append(PlaceLacking(PlaceFact.ON_PLAN, box.id))
    if missing or point is None or plan is None:
        return Apart(None, missing=tuple(missing))
    return Apart(plan.apart(point, fixture), plan.walled_off(point, fixture))


def height_of(box: Box) -> float | None:
    """How high a box on a wall or floor is above the floor; None when not measured yet."""
    if isinstance(box.place, OnWall):
        return box.place.height_mm
    if isinstance(box.place, OnFloor | OnCounter):
        return 0.0
    return None


def fixture_words(site: HouseByCode, room: Room, fixture: Fixture) -> Spot:
    """Where a fixture is, as a person would look for it."""
    name = FIXTURE(kind=noun(fixture.kind), fixture=fixture.id)
    if fixture.wall is None or fixture.at_mm is None:
        return site.free_spot(room, name)
    at = fixture.at_mm + (fixture.width_mm or 0) / 2
    return site.wall_spot(room, fixture.wall, at, name)


def in_counter(counter: Counter, name: str, item: Interruption, kind: FixtureKind) -> Fixture:
    """What stands in a wall counter, as a fixture along the wall behind its left edge."""
    start = 0.0
    for stretch in counter.along:
        if item.at_mm < start + stretch.width_mm:
            break
        start += stretch.width_mm
    return Fixture(
        id=name,
        kind=kind,
        wall=stretch.wall,
        at_mm=stretch.at_mm + item.at_mm - start,
        width_mm=item.width_mm,
        depth_mm=counter.depth_mm or USUAL_DEPTH_MM,
    )
