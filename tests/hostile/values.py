"""Values that calls are made of: most that will do, and some that nobody should ever send."""

import random
import uuid
from collections.abc import Callable, Sequence
from datetime import UTC, date, datetime, timedelta
from typing import Any, TypeVar
from zoneinfo import ZoneInfo

T = TypeVar("T")
HOUSE = ZoneInfo("America/Edmonton")

MOMENTS: tuple[Any, ...] = (
    "0001-01-01T00:00:00Z",
    "0001-01-01T00:00:00+23:59",
    "0001-01-01T00:00:00-23:59",
    "1899-12-31T23:59:59Z",
    "1969-12-31T23:59:59.999999Z",
    "2038-01-19T03:14:08Z",
    "2099-06-01T12:00:00Z",
    "9999-12-31T23:59:59.999999Z",
    "9999-12-31T23:59:59.999999+23:59",
    "9999-12-31T23:59:59.999999-23:59",
    "2026-03-08T02:30:00",  # the hour that is left out at the house, without a zone
    "2026-03-08T02:30:00-07:00",
    "2026-11-01T01:30:00",  # the hour that comes twice
    "2026-11-01T01:30:00-06:00",
    "2026-11-01T01:30:00-07:00",
    "2028-02-29T23:59:59-07:00",
    "2027-02-29T12:00:00Z",
    "2026-06-30T23:59:60Z",
    "2026-03-02T25:00:00Z",
    "2026-03-02T16:00:00+24:00",
    "2026-03-02",
    "٢٠٢٦-03-02T16:00:00Z",
    "yesterday",
    "",
    0,
    1e300,
    -1,
    True,
    None,
    [],
    {"$gt": ""},
)
DAYS: tuple[Any, ...] = (
    "0001-01-01",
    "0001-01-02",
    "1583-01-01",
    "1999-12-31",
    "2000-01-01",
    "2026-02-29",
    "2028-02-29",
    "2026-03-08",
    "2026-11-01",
    "2099-12-31",
    "9999-12-30",
    "9999-12-31",
    "10000-01-01",
    "-2026-03-02",
    "2026-13-01",
    "2026-3-2",
    "２０２６-03-02",
    "2026-03-02T16:00:00Z",
    "tomorrow",
    "",
    20260302,
    None,
    False,
    ["2026-03-02"],
)
LIMITS = (150.0, 300.0, 1500.0, 32.0, 50.0, 6.0, 5.0)
MEASURES: tuple[Any, ...] = (
    float("nan"),
    float("inf"),
    float("-inf"),
    -1,
    -0.0,
    0,
    5e-324,
    1e308,
    999_999.999,
    1_000_000,
    1_000_000.1,
    2**63,
    10**400,
    True,
    "150",
    "1e3",
    "NaN",
    "",
    None,
    [],
    *(limit + step for limit in LIMITS for step in (-1e-9, 0, 1e-9)),
)
TEXTS: tuple[Any, ...] = (
    "",
    " ",
    "\u00a0\u2007\u3000",
    "a\x00b",
    "\x01\x02\x1b[31m\x7f",
    "line\r\nBcc: somebody@studbay.example\r\n\r\nmore",
    "\u202eright to left\u202c",
    "\u200b\u200d\ufeff",
    "🧰" * 30,
    "e\u0301" * 40,
    "\ud800",
    "\uffff\ufffe",
    "x" * 10_000,
    "x" * 501,
    "<script>alert(1)</script>{{ 7*7 }}{% now 'Y' %}",
    "'; DROP TABLE jobs_job; --",
    "%s %(a)s {0} {name}",
    "=cmd|' /C calc'!A0",
    "../../etc/passwd",
    "None",
    "null",
    "İıſK",
    0,
    1.5,
    True,
    None,
    [],
    {"a": 1},
)
IDS: tuple[str, ...] = (
    "00000000-0000-0000-0000-000000000000",
    "ffffffff-ffff-ffff-ffff-ffffffffffff",
    "11111111-2222-4333-8444-555555555555",
    "{11111111-2222-4333-8444-555555555555}",
    "1111111122224333844455555555555",
    "urn:uuid:11111111-2222-4333-8444-555555555555",
    "1",
    "-1",
    "%00",
    "..%2f..",
    "x" * 300,
    "é",
)
WHOLE: tuple[Any, ...] = (0, -1, 1, 2**31, 2**63, 10**30, 1.5, "7", "", None, True, float("nan"))
STEPS = (
    timedelta(seconds=1),
    timedelta(minutes=1),
    timedelta(minutes=2, seconds=1),
    timedelta(hours=1),
    timedelta(hours=7),
    timedelta(days=1),
    timedelta(days=3),
    timedelta(days=40),
    timedelta(days=200),
    timedelta(days=401),
)
TURNS = tuple(
    datetime.fromisoformat(each).astimezone(UTC)
    for each in (
        "2026-03-08T01:59:59-07:00",
        "2026-03-08T03:00:01-06:00",
        "2026-11-01T01:59:59-06:00",
        "2026-11-01T01:00:01-07:00",
        "2028-02-28T23:59:59-07:00",
        "2028-02-29T12:00:00-07:00",
        "2026-12-31T20:30:00-07:00",
        "2026-12-31T23:59:59-07:00",
    )
)


class Absent:
    """A field that is left out."""


ABSENT = Absent()


class Dice:
    """Every chance that a sequence takes, drawn by hypothesis so that it can be played again."""

    def __init__(self, chance: random.Random, now: Callable[[], datetime]) -> None:
        self._chance, self._now = chance, now
        self.calm = False
        """Whether this call is one that somebody would make who means no harm."""

    def whole(self, low: int, high: int) -> int:
        """A whole number between the two, both included."""
        return self._chance.randint(low, high)

    def among(self, choices: Sequence[T]) -> T:
        """One of them."""
        return choices[self.whole(0, len(choices) - 1)]

    def weighed(self, choices: Sequence[tuple[int, T]]) -> T:
        """One of them, each as often as its weight says."""
        left = self.whole(0, sum(weight for weight, _ in choices) - 1)
        for weight, choice in choices:
            if left < weight:
                return choice
            left -= weight
        raise AssertionError("the weights are all that there is")

    def often(self, percent: int) -> bool:
        """True so many times in a hundred."""
        return self.whole(0, 99) < percent

    def odd(self, percent: int) -> bool:
        """True so many times in a hundred, and never while calm."""
        return not self.calm and self.often(percent)

    def moment(self, *, odd: int = 35) -> Any:
        """A moment as a caller writes it: about now, or one that cannot be."""
        if self.odd(odd):
            return self.among(MOMENTS)
        about = self._now() + timedelta(minutes=self.whole(-400, 15))
        zone = self.among((UTC, HOUSE, ZoneInfo("Pacific/Kiritimati")))
        return about.astimezone(zone).isoformat()

    def day(self, *, odd: int = 35, ahead: int = 0) -> Any:
        """A day as a caller writes it, `ahead` of today at the most."""
        if self.odd(odd):
            return self.among(DAYS)
        today = self._now().astimezone(HOUSE).date()
        return (today + timedelta(days=self.whole(-30, ahead))).isoformat()

    def measure(self, *, odd: int = 50) -> Any:
        """What a tape showed."""
        return self.among(MEASURES) if self.odd(odd) else float(self.whole(1, 2000))

    def text(self, *, odd: int = 30, fallback: str = "seen") -> Any:
        """What somebody typed."""
        return self.among(TEXTS) if self.odd(odd) else f"{fallback} {self.whole(1, 9)}"

    def number(self, low: int, high: int, *, odd: int = 30) -> Any:
        """A whole number as a caller writes it."""
        return self.among(WHOLE) if self.odd(odd) else self.whole(low, high)

    def identity(self) -> str:
        """An id that is nothing's; some are not even ids."""
        return self.among(IDS)

    def new_id(self) -> str:
        """An id that a phone gives."""
        return str(uuid.UUID(int=self.whole(0, 2**64), version=4))

    def today(self) -> date:
        """The day at the house."""
        return self._now().astimezone(HOUSE).date()
