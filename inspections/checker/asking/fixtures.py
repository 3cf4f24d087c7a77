"""Fixtures and the boxes near them: how far apart, and what is missing to say so."""

from config.messages.message import message
from inspections.checker.finding import FindingWords
from inspections.checker.geometry.plan import missing_of
from inspections.checker.house.boxes import Box, OnCounter, OnFloor, OnWall
from inspections.checker.house.fixtures import Fixture, FixtureKind
from inspections.checker.house.rooms import Counter, Interruption, Room
from inspections.checker.nouns import noun
from inspections.checker.site import HouseByCode
from inspections.checker.spot import Spot

USUAL_DEPTH_MM = 600.0
"""How far what stands in a counter is taken to reach out where nobody measured the counter."""


FIXTURE = message("place.fixture", "{kind} {fixture}")


def placed(
    site: HouseByCode, room: Room, box: Box, fixture: Fixture
) -> tuple[float | None, bool, list[str]]:
    """How far a box is from a fixture of its room, whether a wall stands between them, and the
    facts that are missing to say so."""
    kind = fixture.kind.value.replace("_", " ")
    missing = []
    for fact in missing_of(fixture):
        missing.append(f"the {fact} of {kind} {fixture.id}")
    point = None
    if room.walls:
        point = site.plans[room.id].of(box)
    if point is None:
        missing.append(f"where box {box.id} is on the plan")
    if missing or point is None:
        return None, False, missing
    plan = site.plans[room.id]
    return plan.apart(point, fixture), plan.walled_off(point, fixture), []


def height_of(box: Box) -> float | None:
    """How high a box on a wall or floor is above the floor; None when nobody measured."""
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


def room_missing(what: str) -> FindingWords:
    """Nobody recorded the fixtures of a room where the rule asks about them."""
    return FindingWords(
        f"Nobody recorded the {what} of this room.",
        "not recorded",
        working=(f"a room of this kind has {what}, or has none; nothing is recorded",),
        remedy=f"Record the {what}, or that there are none.",
    )


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
