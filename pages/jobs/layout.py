"""Reads put in the order that a page shows them."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby

from django.utils import timezone

from config.messages.message import Text
from inspections.conclusions.signs import area_sign
from inspections.models import CONCEALING, Happening, Inspection, InspectionEvent
from inspections.overview.as_drawn import Checks, checks_of, seen_ok, waits_as_drawn
from inspections.overview.cover import cover_of
from inspections.overview.inspections import inspection_now, inspection_state
from inspections.selectors import ChecklistLine
from inspections.standing.age import Sign
from inspections.standing.cover_layers import Start
from inspections.standing.holds import Standing
from inspections.standing.inspection_states import FOLLOWS, InspectionState
from jobs.models import Area, Job


@dataclass(frozen=True, slots=True)
class RoomSection:
    """The lines of one room: what is still to do, what waits as drawn, and what has passed."""

    name: str
    to_do: Sequence[ChecklistLine]
    passed: Sequence[ChecklistLine]
    as_drawn: Sequence[ChecklistLine] = ()
    """OK on plan, and confirmed together once somebody on site has seen them."""

    @property
    def checks(self) -> Sequence[Checks]:
        """What waits as drawn, rule by rule."""
        return checks_of(self.as_drawn)

    @property
    def on_site(self) -> int:
        """How many somebody on site has confirmed."""
        return sum(seen_ok(line) for line in self.passed)

    @property
    def not_applicable(self) -> int:
        """How many somebody on site said do not apply, each with its reason."""
        return sum(line.not_applicable for line in self.passed)

    @property
    def on_plan(self) -> int:
        """How many are OK by their figures alone; nothing is required on site."""
        return len(self.passed) - self.on_site - self.not_applicable

    @property
    def known_at(self) -> datetime:
        """As of when somebody who is shown what waits as drawn knows what was seen of it."""
        return max(line.known_at for line in self.as_drawn)


@dataclass(frozen=True, slots=True)
class CoverLine:
    """An area as a builder sees it: which layers of the cover may start."""

    area: Area
    sign: Sign
    starts: Sequence[Start]


def cover_lines(job: Job) -> list[CoverLine]:
    """The areas of a job, each with what may be put over it."""
    lines: list[CoverLine] = []
    for area, starts in cover_of(job):
        lines.append(CoverLine(area, area_sign(area), starts))
    return lines


@dataclass(frozen=True, slots=True)
class InspectionLine:
    """An inspection with where it stands, and what may be recorded of it now."""

    inspection: Inspection
    state: Text
    window: InspectionEvent | None
    happenings: Sequence[tuple[str, str]]
    """What can be recorded of it now, short of its being held."""
    may_answer: bool
    answer_from: datetime | None
    """When its answer can be recorded, where it is only too early for that."""
    areas: Sequence[Area]
    """The areas in which something may be called at it."""


def inspection_lines(job: Job, inspections: Iterable[Inspection]) -> list[InspectionLine]:
    """The inspections of a job, the latest first."""
    everywhere, now = list(job.areas.all()), timezone.now()
    lines = []
    for inspection in inspections:
        lines.append(_inspection_line(inspection, everywhere, now))
    return lines[::-1]


def _inspection_line(
    inspection: Inspection, everywhere: list[Area], now: datetime
) -> InspectionLine:
    events = list(inspection.events.all())
    stands = inspection_now(inspection)
    may_be = stands.may_be(now)
    booked = InspectionState.HELD in FOLLOWS[stands.state]
    may_answer = InspectionState.HELD in may_be
    pairs = []
    for each in may_be:
        if each != InspectionState.HELD:
            pairs.append((each, Happening(each).label))
    return InspectionLine(
        inspection,
        inspection_state(inspection),
        next((event for event in reversed(events) if event.starts_at), None),
        pairs,
        may_answer,
        stands.starts if booked and not may_answer else None,
        list(inspection.areas.all()) if inspection.kind in CONCEALING else everywhere,
    )


def by_room(
    lines: Sequence[ChecklistLine], names: Mapping[str, str], photo_rules: Collection[str]
) -> list[RoomSection]:
    """The lines of a checklist parted by room, in the order they come; rooms named by their ids.

    Items of `photo_rules` need a photograph, so none of them is confirmed with its room before.
    """
    groups = groupby(lines, lambda line: str(line.item.finding["room"]))
    rooms: list[RoomSection] = []
    for room, group in groups:
        rooms.append(_room(names.get(room, room), list(group), photo_rules))
    return rooms


def _room(name: str, lines: list[ChecklistLine], photo_rules: Collection[str]) -> RoomSection:
    to_do, passed, as_drawn = [], [], []
    for line in lines:
        if waits_as_drawn(line, photo_rules):
            as_drawn.append(line)
        elif line.standing is Standing.OK:
            passed.append(line)
        else:
            to_do.append(line)
    return RoomSection(name, to_do, passed, as_drawn)
