"""Boxes near tubs and showers: what a rule on the space around them has to know."""

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from inspections.checker.asking.fixtures import placed
from inspections.checker.finding import Verdict
from inspections.checker.geometry.intervals import EPSILON
from inspections.checker.house.boxes import Box
from inspections.checker.house.fixtures import Fixture, FixtureKind
from inspections.checker.house.rooms import Room, RoomKind
from inspections.checker.site import HouseByCode
from inspections.checker.words import length

BATHING = (FixtureKind.TUB, FixtureKind.SHOWER)


class Near(NamedTuple):
    """A box and one tub or shower of its room."""

    fixture: Fixture
    distance: float | None
    walled_off: bool
    missing: list[str]

    @property
    def name(self) -> str:
        """The fixture as a person would call it."""
        return f"{self.fixture.kind.value} {self.fixture.id}"

    @property
    def line(self) -> tuple[str, float | None]:
        """What a finding keeps of it."""
        return self.name, None if self.distance is None else round(self.distance, 3)

    def within(self, limit: float) -> Verdict:
        """Whether the box keeps so far away: look where only a wall lies between them."""
        if self.distance is None:
            return Verdict.UNKNOWN
        if self.distance > EPSILON and self.distance >= limit - EPSILON:
            return Verdict.MEETS
        if self.walled_off:
            return Verdict.LOOK
        return Verdict.SHORT


def rooms_to_bathe(site: HouseByCode) -> Iterator[tuple[Room, list[Fixture] | None]]:
    """Each room with a tub or shower and these; None for a bathroom of which nobody recorded
    what is in it."""
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


def near_words(lines: Iterable[tuple[str, float | None]], imperial: bool) -> Iterator[str]:
    """How far away each fixture of a finding's `near` is, in words."""
    for name, at in lines:
        yield f"{name}: {'not recorded' if at is None else length(at, imperial)} away on the plan"


def lines_and_missing(
    all_near: Iterable[Near],
) -> tuple[list[tuple[str, float | None]], list[str]]:
    """How far away each fixture is, and what is not recorded of any, once each."""
    lines = []
    missing: dict[str, bool] = {}
    for each in all_near:
        lines.append(each.line)
        missing |= dict.fromkeys(each.missing, True)
    return lines, list(missing)


def near(site: HouseByCode, room: Room, box: Box, fixtures: list[Fixture]) -> list[Near]:
    """The box and each of them."""
    distances: list[Near] = []
    for each in fixtures:
        distances.append(Near(each, *placed(site, room, box, each)))
    return distances


SEVEREST = (Verdict.SHORT, Verdict.UNKNOWN, Verdict.LOOK, Verdict.MEETS)


def severest(verdicts: list[Verdict]) -> Verdict:
    """The verdict that stands when several are given on one subject."""
    return min(verdicts, key=SEVEREST.index)
