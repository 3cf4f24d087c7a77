"""A crew's sheet for one day: houses in order, work, what is open, what to bring."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from reportlab.platypus import Flowable

from config.languages import say
from inspections.checker.finding import TO_DO
from inspections.checker.stored_finding import message_of
from inspections.papers.sheets.frame import TitleBlock, sheet_pdf
from inspections.papers.sheets.rows import Heading, SheetRow, TextBlock
from inspections.papers.sheets.styles import BOLD, REGULAR


@dataclass(frozen=True, slots=True)
class DayBlock(TitleBlock):
    """The title block of a crew's day."""

    crew: str = ""
    people: str = ""
    lead: str = ""
    number: str = ""

    def cells(self, number: str) -> tuple[tuple[tuple[str, str, float], ...], ...]:
        """Two rows of label, text and share of the width."""
        return (
            (
                ("crew", self.crew, 0.26),
                ("people", self.people, 0.44),
                ("crew lead", self.lead, 0.18),
                ("day", self.date, 0.12),
            ),
            (
                (self.shop or "sheet", say(self.sheet), 0.44),
                ("as sent", say(self.number), 0.44),
                ("sheet", number, 0.12),
            ),
        )


def day_pdf(
    content: Mapping[str, Any],
    *,
    shop: str = "",
    sent: str = "not sent yet",
    changes: Sequence[str] = (),
    paper: str = "letter",
) -> bytes:
    """A crew's list (`NextDay.content()`) as a PDF; the same input gives the same bytes.

    `sent` tells which number it is and when it was sent; `changes` what that number changed.
    """
    block = DayBlock(
        sheet="The day's list",
        job=f"{content['crew']}, {content['day']}",
        shop=shop,
        date=content["day"],
        crew=content["crew"],
        people=", ".join(content["people"]) or "nobody",
        lead=content["lead"] or "none named",
        number=sent,
    )
    return sheet_pdf(block, paper, lambda _room: list(_story(content, changes)))


def _story(content: Mapping[str, Any], changes: Sequence[str]) -> Iterator[Flowable]:
    for caution in content["cautions"]:
        yield TextBlock(caution, 7.2)
    if changes:
        yield Heading("Changed since the number before", large=False)
        for change in changes:
            yield TextBlock(change, 8, bold=True)
    if not content["houses"]:
        yield Heading("No work is planned for this crew on this day.", large=True)
    for number, house in enumerate(content["houses"], 1):
        yield from _house(number, house)


def _house(number: int, house: Mapping[str, Any]) -> Iterator[Flowable]:
    drive = ""
    if house["drive_minutes"]:
        drive = f", {house['drive_minutes']} min drive"
    yield Heading(
        f"{number}. {house['job']}: arrive {house['arrival']}{drive}", large=True, key=f"h{number}"
    )
    yield TextBlock(house["address"], 9, bold=True)
    for line in house["leave_alone"]:
        yield TextBlock(line, 8.4, bold=True)
    for inspection in house["inspections"]:
        yield TextBlock(f"Attend: {inspection}", 9, bold=True)
    if house["bring"]:
        yield Heading("Bring", large=False)
        yield TextBlock("; ".join(house["bring"]), 8.6)
    yield Heading("Work", large=False)
    for work in house["work"]:
        rooms = ", ".join(work["rooms"])
        yield SheetRow(
            "",
            (
                (f"{work['from_hour']} to {work['to_hour']}: {work['what']}", BOLD, 9),
                (rooms and f"Rooms: {rooms}", REGULAR, 8),
            ),
        )
    if house["corrections"]:
        yield Heading("Open, to mend", large=False)
    for each in house["corrections"]:
        yield SheetRow(
            "short",
            (
                (say(each["where"]), BOLD, 8),
                (say(each["says"]), REGULAR, 8),
                (say(each["figure"]), REGULAR, 6.8),
                (each["remedy"] and say(TO_DO(remedy=message_of(each["remedy"]))), BOLD, 7.6),
                (each["source"], REGULAR, 6.4),
            ),
        )
