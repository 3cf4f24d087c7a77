"""The rooms of a job as rows: what each has open, and its lines once somebody asks for them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby
from uuid import UUID

from django.http import QueryDict
from django.urls import reverse
from django.utils.http import urlencode

from config.languages import say
from inspections.conclusions.signs import area_sign
from inspections.models import Item
from inspections.overview.line_states import LineState, line_state, state_counts
from inspections.overview.open_lines import open_lines
from inspections.selectors import ChecklistLine
from inspections.standing.age import Sign
from jobs.models import Job
from pages.jobs.layout import RoomSection, by_room

MOST_SHOWN = 100
"""So many lines that somebody searched for are shown at once; of more, room by room."""
ORDER = list(LineState)


@dataclass(frozen=True, slots=True)
class LinesWanted:
    """Which lines the address of a page asks for."""

    show: LineState | None = None
    topic: str = ""
    words: str = ""
    stage: str = ""
    """That of the room, where it is not the rough-in."""
    room: str = ""
    """The room whose lines are shown."""
    item: str = ""
    """The item whose line is opened in it."""

    @property
    def filters(self) -> bool:
        """Whether some lines are left out."""
        return bool(self.show or self.topic or self.words)

    def address(self, **other: str | int | None) -> str:
        """The same as a query, with what is given in the place of it."""
        query: dict[str, str | int | None] = {
            "show": self.show,
            "topic": self.topic,
            "q": self.words,
            "stage": self.stage,
            "room": self.room,
            "item": self.item,
        }
        query |= other
        given = {}
        for name, value in query.items():
            if value:
                given[name] = value
        return urlencode(given)

    def at(self, stage: str, filtered: bool) -> "LinesWanted":
        """What is asked of one stage: the filters, if they are of it, and the room in it."""
        wanted = self
        if not filtered:
            wanted = replace(wanted, show=None, topic="", words="")
        if stage != (self.stage or Item.Stage.ROUGH_IN):
            wanted = replace(wanted, room="", item="")
        return wanted


def lines_wanted(query: QueryDict) -> LinesWanted:
    """What an address asks for; what it asks for that is none is left out."""
    show = None
    for state in LineState:
        if query.get("show") == state:
            show = state
    stage = ""
    if query.get("stage") == Item.Stage.FINISH:
        stage = Item.Stage.FINISH
    words = query.get("q", "")[:80].strip()
    room, item = query.get("room", ""), query.get("item", "")
    return LinesWanted(show, query.get("topic", ""), words, stage, room, item)


@dataclass(frozen=True, slots=True)
class NumberedLine:
    """A line with its state, and its number while it is open."""

    line: ChecklistLine
    state: LineState
    number: int | None = None
    open: bool = False
    released: bool = False
    """Whether it is opened in an area that is released: a Fix then withdraws the release."""


@dataclass(frozen=True, slots=True)
class RoomRow:
    """A room: how many lines are in which state, and those that are shown."""

    room: str
    name: str
    counts: Mapping[LineState, int]
    address: str
    """The query by which its lines are asked for."""
    lines: Sequence[NumberedLine] = ()
    section: RoomSection | None = None
    """What waits as drawn and what has passed, with the lines; None while they are not shown."""

    @property
    def shown(self) -> bool:
        """Whether its lines are on the page."""
        return self.section is not None

    @property
    def open_counts(self) -> list[tuple[LineState, int]]:
        """The states that want something done, with how many lines."""
        found: list[tuple[LineState, int]] = []
        for state, n in self.counts.items():
            if n and state is not LineState.OK:
                found.append((state, n))
        return found

    @property
    def worst(self) -> LineState:
        """The worst state of its lines, by which the room is tinted on the plan."""
        return next((state for state in ORDER if self.counts[state]), LineState.OK)


@dataclass(frozen=True, slots=True)
class Rooms:
    """How rows of rooms are made of one job: names, numbers, and what is asked for."""

    job: Job
    names: Mapping[str, str]
    numbers: Mapping[object, int]
    asked: LinesWanted = field(default_factory=LinesWanted)
    every_line: bool = False
    """Whether the lines that fit are few enough to be shown in every room."""

    def rows(self, lines: Sequence[ChecklistLine]) -> list[RoomRow]:
        """The rooms of these lines, in the order they come; with a filter those alone that fit."""
        groups = groupby(lines, lambda line: str(line.item.finding["room"]))
        rows: list[RoomRow] = []
        for room, group in groups:
            found = list(group)
            fits = []
            for line in found:
                if self.fits(line):
                    fits.append(line)
            if fits or not self.asked.filters:
                rows.append(self._row(room, found, fits))
        return rows

    def _row(self, room: str, lines: list[ChecklistLine], fits: list[ChecklistLine]) -> RoomRow:
        name = self.names.get(room, room)
        address = self.asked.address(room=room, item=None, stage=_stage(lines))
        counts = state_counts(lines)
        if room != self.asked.room and not self.every_line:
            return RoomRow(room, name, counts, address)
        (section,) = by_room(fits, self.names, self.job.shop.photo_rules) or [_nothing(name)]
        return RoomRow(room, name, counts, address, self.numbered(section.to_do), section)

    def numbered(self, lines: Sequence[ChecklistLine]) -> list[NumberedLine]:
        """Lines with their numbers, the worst state first, each state as a person walks."""
        found: list[NumberedLine] = []
        for line in lines:
            number = self.numbers.get(line.item.id)
            is_open = str(line.item.id) == self.asked.item
            released = is_open and in_released_area(line.item)
            found.append(NumberedLine(line, line_state(line), number, is_open, released))
        return sorted(found, key=lambda each: ORDER.index(each.state))

    def fits(self, line: ChecklistLine) -> bool:
        """Whether the address asks for a line."""
        wanted = self.asked
        if wanted.show and line_state(line) is not wanted.show:
            return False
        if wanted.topic and topic_of(line.item) != wanted.topic:
            return False
        return not wanted.words or _holds(line, wanted.words)


def rooms_of(
    job: Job,
    names: Mapping[str, str],
    lines: Sequence[ChecklistLine],
    wanted: LinesWanted,
) -> Rooms:
    """How the rooms of a job are made into rows, for what an address asks for."""
    numbers: dict[object, int] = {}
    for each in open_lines(lines):
        numbers[each.line.item.id] = each.number
    rooms = Rooms(job, names, numbers, wanted)
    if not wanted.filters:
        return rooms
    fitting = sum(1 for line in lines if rooms.fits(line))
    return Rooms(job, names, numbers, wanted, every_line=fitting <= MOST_SHOWN)


def item_address(item: Item) -> str:
    """The page of its job with the room of the item opened, at its line."""
    stage = ""
    if item.stage == Item.Stage.FINISH:
        stage = Item.Stage.FINISH
    room = str(item.finding["room"])
    query = LinesWanted(stage=stage, room=room, item=str(item.id)).address()
    return f"{reverse('job', args=[item.job_id])}?{query}#item-{item.id}"


def room_address(job_id: UUID, room: str) -> str:
    """The page of a job with one room opened."""
    return f"{reverse('job', args=[job_id])}?{LinesWanted(room=room).address()}"


def in_released_area(item: Item) -> bool:
    """Whether the cover over what the item is about is released, or was when last checked."""
    return item.stage == Item.Stage.ROUGH_IN and area_sign(item.area) is not Sign.HOLD


def topic_of(item: Item) -> str:
    """What the rule of an item is about; empty where it was recorded before that was kept."""
    return str(item.finding.get("topic", ""))


def _holds(line: ChecklistLine, words: str) -> bool:
    """Whether what a line says holds each of the words that somebody searched for."""
    finding = line.item.finding
    said = [line.item.subject]
    for part in ("title", "says", "where"):
        said.append(say(finding[part]))
    text = " ".join(said).casefold()
    return all(word in text for word in words.casefold().split())


def _stage(lines: Sequence[ChecklistLine]) -> str:
    """The stage to ask for, where it is not the first."""
    if lines[0].item.stage == Item.Stage.FINISH:
        return Item.Stage.FINISH
    return ""


def _nothing(name: str) -> RoomSection:
    return RoomSection(name, (), ())
