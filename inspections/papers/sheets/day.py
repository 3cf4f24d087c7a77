"""A crew's sheet for one day: houses in order, work, what is open, what to bring."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from reportlab.platypus import Flowable

from config.languages import say
from config.languages.own_words import Typed
from config.messages.kept import message_of
from config.messages.message import Joined, Value
from inspections.checker.finding import TO_DO
from inspections.papers.sheets import sheet_messages as says
from inspections.papers.sheets.frame import TitleBlock, sheet_pdf
from inspections.papers.sheets.rows import Heading, SheetRow, TextBlock
from inspections.papers.sheets.styles import BOLD, REGULAR


@dataclass(frozen=True, slots=True)
class DayBlock(TitleBlock):
    """The title block of a crew's day."""

    crew: str = ""
    people: str = ""
    lead: str = ""
    number: Value = ""

    def cells(self, number: str) -> tuple[tuple[tuple[Value, str, float], ...], ...]:
        """Two rows of label, text and share of the width."""
        return (
            (
                (says.CREW(), self.crew, 0.26),
                (says.PEOPLE(), self.people, 0.44),
                (says.LEAD(), self.lead, 0.18),
                (says.DAY(), self.date, 0.12),
            ),
            (
                (self.shop_or_sheet, say(self.sheet), 0.44),
                (says.AS_SENT(), say(self.number), 0.44),
                (says.SHEET(), number, 0.12),
            ),
        )


def day_pdf(
    content: Mapping[str, Any],
    *,
    shop: str = "",
    sent: Any = "not sent yet",
    changes: Sequence[Any] = (),
    paper: str = "letter",
) -> bytes:
    """A crew's list (`NextDay.content()`) as a PDF; the same input gives the same bytes.

    `sent` tells which number it is and when it was sent; `changes` what that number changed.
    """
    block = DayBlock(
        sheet=says.DAY_LIST(),
        job=f"{content['crew']}, {content['day']}",
        shop=shop,
        date=content["day"],
        crew=content["crew"],
        people=", ".join(content["people"]) or say(says.NOBODY()),
        lead=content["lead"] or say(says.NO_LEAD()),
        number=sent,
    )
    return sheet_pdf(block, paper, lambda _room: list(_story(content, changes)))


def _story(content: Mapping[str, Any], changes: Sequence[Any]) -> Iterator[Flowable]:
    for caution in content["cautions"]:
        yield TextBlock(caution, 7.2)
    if changes:
        yield Heading(says.CHANGED_SINCE(), large=False)
        for change in changes:
            yield TextBlock(change, 8, bold=True)
    if not content["houses"]:
        yield Heading(says.NO_WORK(), large=True)
    for number, house in enumerate(content["houses"], 1):
        yield from _house(number, house)


def _house(number: int, house: Mapping[str, Any]) -> Iterator[Flowable]:
    stop = says.ARRIVE(number=number, job=house["job"], time=house["arrival"])
    if house["drive_minutes"]:
        stop = says.ARRIVE_DRIVE(
            number=number,
            job=house["job"],
            time=house["arrival"],
            minutes=house["drive_minutes"],
        )
    yield Heading(stop, large=True, key=f"h{number}")
    yield TextBlock(Typed(house["address"]), 9, bold=True)
    for line in house["leave_alone"]:
        yield TextBlock(line, 8.4, bold=True)
    for inspection in house["inspections"]:
        yield TextBlock(says.ATTEND(inspection=message_of(inspection)), 9, bold=True)
    if house["bring"]:
        yield Heading(says.BRING(), large=False)
        yield TextBlock(Joined(tuple(map(message_of, house["bring"])), "; "), 8.6)
    yield Heading(says.WORK(), large=False)
    for work in house["work"]:
        hours = says.WORK_TIME(
            **{"from": work["from_hour"], "to": work["to_hour"], "work": message_of(work["what"])}
        )
        rooms: Value = ""
        if work["rooms"]:
            rooms = says.ROOMS(rooms=", ".join(work["rooms"]))
        yield SheetRow("", ((hours, BOLD, 9), (rooms, REGULAR, 8)))
    if house["corrections"]:
        yield Heading(says.TO_CORRECT(), large=False)
    for each in house["corrections"]:
        yield SheetRow(
            "not_to_code",
            (
                (message_of(each["where"]), BOLD, 8),
                (message_of(each["says"]), REGULAR, 8),
                (message_of(each["figure"]), REGULAR, 6.8),
                (each["remedy"] and TO_DO(remedy=message_of(each["remedy"])), BOLD, 7.6),
                (each["source"], REGULAR, 6.4),
            ),
        )
