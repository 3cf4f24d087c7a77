"""What the auditor has to say: differences, and states that are none."""

from collections.abc import Iterable, Iterator
from dataclasses import asdict, dataclass
from enum import StrEnum
from uuid import UUID


class Sort(StrEnum):
    """Whether somebody has to act."""

    DIFFERENCE = "difference"
    """The tables say one thing and the facts another."""
    STATE = "state"
    """Nothing is false, and it is worth knowing."""


class About(StrEnum):
    """What a line is about."""

    COVER_RELEASE = "cover release"
    AREA = "area"
    STAGE = "stage"
    ITEM = "item"
    SETTLING = "settling"
    NOTICE = "notice"
    DELIVERY = "delivery"
    SHOP = "shop"
    MOMENT = "moment"
    CONTRADICTION = "contradiction"
    RECORD = "record"
    READING = "reading"


@dataclass(frozen=True, slots=True)
class Found:
    """One line: where, what the tables say, and what the facts say."""

    sort: Sort
    about: About
    tables: str
    facts: str
    area: str = ""
    job: str = ""
    job_id: UUID | None = None
    shop_id: UUID | None = None

    @property
    def place(self) -> str:
        """The job and the area, as far as the line has them."""
        return ", ".join(part for part in (self.job, self.area) if part) or f"shop {self.shop_id}"

    def line(self) -> str:
        """As a person reads it, on one line."""
        text = (
            f"{self.sort}: {self.place}: {self.about}: tables: {self.tables}; facts: {self.facts}"
        )
        return " ".join(text.split())

    def values(self) -> dict[str, str | None]:
        """As JSON has it."""
        texts: dict[str, str | None] = {}
        for name, value in asdict(self).items():
            if value is None:
                texts[name] = None
            else:
                texts[name] = str(value)
        return texts


def difference(about: About, tables: str, facts: str, area: str = "") -> Found:
    """The tables say one thing and the facts another."""
    return Found(Sort.DIFFERENCE, about, tables, facts, area)


def state(about: About, tables: str, facts: str, area: str = "") -> Found:
    """Worth knowing, and no difference."""
    return Found(Sort.STATE, about, tables, facts, area)


def as_states(found: Iterable[Found]) -> Iterator[Found]:
    """The same lines as states: of copies that wait to be drawn anew, which is no fault yet."""
    for each in found:
        yield Found(Sort.STATE, each.about, each.tables, each.facts, each.area)
