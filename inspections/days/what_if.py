"""What is supposed of a shop, to see what would follow."""

from dataclasses import dataclass
from datetime import date
from typing import Any
from uuid import UUID

from django.core.exceptions import ValidationError

from config.languages import said_later
from config.messages.message import Value, WeekDay
from inspections.days import day_messages as words
from jobs.moments import day_on_record


@dataclass(frozen=True, slots=True)
class Supposed:
    """Somebody is away, or one more person is in a crew, from one day to another."""

    what: str
    """`away` or `more`."""
    who: UUID
    """The person who is away, or the crew with one more."""
    name: str
    from_day: date
    to_day: date

    def __post_init__(self) -> None:
        if self.what not in ("away", "more"):
            raise ValidationError({"what": said_later(words.SUPPOSE_WHAT())})
        first, last = WeekDay(self.from_day), WeekDay(self.to_day)
        if self.to_day < self.from_day:
            wrong = words.LAST_BEFORE_FIRST(first=first, last=last)
            raise ValidationError({"to_day": said_later(wrong)})

    @property
    def told(self) -> Value:
        """What is supposed, and when."""
        first, last = WeekDay(self.from_day), WeekDay(self.to_day)
        if self.what == "away":
            if self.from_day == self.to_day:
                return words.AWAY(person=self.name, day=first)
            return words.AWAY_SPAN(person=self.name, first=first, last=last)
        if self.from_day == self.to_day:
            return words.MORE(crew=self.name, day=first)
        return words.MORE_SPAN(crew=self.name, first=first, last=last)

    def covers(self, day: date) -> bool:
        """Whether it is supposed of that day."""
        return self.from_day <= day <= self.to_day

    def kept(self) -> dict[str, str]:
        """As plain values."""
        return {
            "what": self.what,
            "who": str(self.who),
            "name": self.name,
            "from_day": self.from_day.isoformat(),
            "to_day": self.to_day.isoformat(),
        }

    @classmethod
    def read(cls, kept: dict[str, Any]) -> "Supposed":
        """From plain values."""
        return cls(
            kept["what"],
            UUID(kept["who"]),
            kept["name"],
            day_on_record(kept["from_day"]),
            day_on_record(kept["to_day"]),
        )
