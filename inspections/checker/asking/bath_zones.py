"""Boxes near tubs and showers: what a rule on the space around them has to know."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import inf
from typing import NamedTuple

from inspections.checker.asking.visual import natural
from inspections.checker.finding import Verdict
from inspections.checker.geometry.intervals import EPSILON
from inspections.checker.geometry.plan import missing_of
from inspections.checker.house.boxes import Box
from inspections.checker.house.fixtures import Fixture, FixtureKind
from inspections.checker.house.rooms import Room, RoomKind
from inspections.checker.site import HouseByCode

BATHING = (FixtureKind.TUB, FixtureKind.SHOWER)


class BathGap(StrEnum):
    """A fact that is missing to say where a box is to a tub or shower."""

    WALL = "wall"
    PLACE = "place"
    WIDTH = "width"
    DEPTH = "depth"
    RIM = "rim"
    BOX_PLACE = "box_place"
    BOX_HEIGHT = "box_height"


class BathZone(StrEnum):
    """Where a box is to the space around one tub or shower, and what is left to say of it."""

    NEAR = "near"
    UNKNOWN = "unknown"
    SMALL_ROOM = "small_room"
    """Too near, in a room where nothing is far enough away."""
    UNPROTECTED = "unprotected"
    """Far enough behind ground-fault protection only, of which none is recorded."""
    UNPROTECTED_THROUGH_WALL = "unprotected_through_wall"
    THROUGH_WALL = "through_wall"
    """Too near on the plan, with a wall between."""
    FARTHER = "farther"
    """Far enough, and less than the code would rather have."""
    FARTHER_THROUGH_WALL = "farther_through_wall"
    CLEAR = "clear"
    ABOVE = "above"
    BELOW = "below"


MET = (BathZone.CLEAR, BathZone.ABOVE, BathZone.BELOW)
SEVEREST = (Verdict.NOT_TO_CODE, Verdict.INFO_NEEDED, Verdict.VERIFY, Verdict.OK)


@dataclass(frozen=True, slots=True)
class BesideTub:
    """A tub or shower of the room that a box is in, and where the box is to it.

    `rim_mm` and `farthest_mm`, the corner of the room farthest from it, are there where the zone
    rests on them.
    """

    fixture: str
    kind: FixtureKind
    away_mm: float | None
    zone: BathZone
    missing: frozenset[BathGap]
    rim_mm: float | None = None
    farthest_mm: float | None = None

    @property
    def verdict(self) -> Verdict:
        """What its zone comes to."""
        if self.zone is BathZone.NEAR:
            return Verdict.NOT_TO_CODE
        if self.zone is BathZone.UNKNOWN:
            return Verdict.INFO_NEEDED
        if self.zone in MET:
            return Verdict.OK
        return Verdict.VERIFY


@dataclass(frozen=True, slots=True)
class NoTubFacts:
    """A bathroom whose tub or shower is not recorded yet."""

    room: str


class Near(NamedTuple):
    """A box and one tub or shower of its room."""

    fixture: Fixture
    distance: float | None
    walled_off: bool
    missing: frozenset[BathGap]

    def within(self, limit: float) -> BathZone:
        """Whether the box keeps so far away."""
        if self.distance is None:
            return BathZone.UNKNOWN
        if self.distance > EPSILON and self.distance >= limit - EPSILON:
            return BathZone.CLEAR
        if self.walled_off:
            return BathZone.THROUGH_WALL
        return BathZone.NEAR

    def beside(
        self,
        zone: BathZone,
        *gaps: BathGap,
        rim_mm: float | None = None,
        farthest_mm: float | None = None,
    ) -> BesideTub:
        """What a finding keeps of it."""
        away = None
        if self.distance is not None:
            away = round(self.distance, 3)
        missing = self.missing | frozenset(gaps)
        name, kind = self.fixture.id, self.fixture.kind
        return BesideTub(name, kind, away, zone, missing, rim_mm, farthest_mm)

    def by_height(self, height: float | None, up: float, from_floor: bool) -> BesideTub:
        """Where a box is that is too near on the plan, in a space that ends so far up.

        The space is counted from the rim of the tub or the threshold of the shower; `from_floor`
        takes what is below the rim in.
        """
        if height is None:
            return self.beside(BathZone.UNKNOWN, BathGap.BOX_HEIGHT)
        if from_floor and height <= up + EPSILON:
            return self.beside(BathZone.NEAR)
        rim = self.fixture.top_mm
        if rim is None:
            return self.beside(BathZone.UNKNOWN, BathGap.RIM)
        zone = BathZone.NEAR
        if height > rim + up + EPSILON:
            zone = BathZone.ABOVE
        elif height < rim - EPSILON and not from_floor:
            zone = BathZone.BELOW
        return self.beside(zone, rim_mm=rim)


def rooms_to_bathe(site: HouseByCode) -> Iterator[tuple[Room, list[Fixture] | None]]:
    """Each room with a tub or shower and these; None for a bathroom whose fixtures
    are not recorded yet."""
    for room in site.house.rooms:
        if room.fixtures is None:
            if room.kind is RoomKind.BATHROOM:
                yield room, None
        else:
            bathing = []
            for each in room.fixtures:
                if each.kind in BATHING:
                    bathing.append(each)
            if bathing:
                yield room, bathing


def near(site: HouseByCode, room: Room, box: Box, fixtures: Iterable[Fixture]) -> list[Near]:
    """The box and each of them."""
    point = None
    if room.walls:
        plan = site.plans[room.id]
        point = plan.of(box)
    distances: list[Near] = []
    for each in fixtures:
        gaps = {BathGap(name) for name in missing_of(each)}
        if point is None:
            gaps.add(BathGap.BOX_PLACE)
        if gaps or point is None:
            distances.append(Near(each, None, False, frozenset(gaps)))
        else:
            apart, walled_off = plan.apart(point, each), plan.walled_off(point, each)
            distances.append(Near(each, apart, walled_off, frozenset()))
    return distances


def severest(all_beside: Iterable[BesideTub]) -> Verdict:
    """The verdict on a box that is beside several."""
    return min((each.verdict for each in all_beside), key=SEVEREST.index)


def nearest_first(all_beside: Iterable[BesideTub]) -> Sequence[BesideTub]:
    """Tubs and showers by how far they are; those not measured yet last."""

    def far(each: BesideTub) -> tuple[float, list[tuple[int, str]]]:
        away = each.away_mm
        if away is None:
            away = inf
        return away, natural(each.fixture)

    return sorted(all_beside, key=far)


def deciding_zone(all_beside: Iterable[BesideTub], verdict: Verdict) -> BesideTub:
    """The nearest one that the verdict on the box comes from."""
    for each in nearest_first(all_beside):
        if each.verdict is verdict:
            return each
    raise ValueError(f"none of them says {verdict}")
