"""What is supposed of a shop, to see what would follow."""

from dataclasses import dataclass
from datetime import date
from typing import Any
from uuid import UUID

from django.core.exceptions import ValidationError

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
            what = "Suppose somebody away, or one more person in a crew."
            raise ValidationError({"what": what})
        if self.to_day < self.from_day:
            raise ValidationError({"to_day": "The last day is before the first."})

    def __str__(self) -> str:
        if self.from_day == self.to_day:
            days = f"{self.from_day}"
        else:
            days = f"{self.from_day} to {self.to_day}"
        if self.what == "away":
            return f"{self.name} away {days}"
        return f"one more person in {self.name} {days}"

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
