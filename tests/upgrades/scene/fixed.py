"""A clock that stands still, and ids and secrets that are the same each time."""

import base64
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from itertools import count
from unittest.mock import patch
from uuid import UUID

import time_machine
from django.utils import timezone

BEGIN = datetime(2026, 3, 24, 16, 0, tzinfo=UTC)
"""A Tuesday at ten in Edmonton, after whatever the stranger's rows are of."""
WEBHOOK = "whsec_" + base64.b64encode(b"of upgrades, for tests").decode()
CODES = "KEPTFORTESTSOFUPGRADESKEPTFORTES"
"""In base32, as a phone keeps it."""
VERSION_7 = 7 << 76
VARIANT = 0b10 << 62


class Clock:
    """The moment that everything is told, until it is moved on."""

    def __init__(self, moved: time_machine.Traveller) -> None:
        self._moved = moved

    def on(self, **by: float) -> None:
        """So much later."""
        self._moved.shift(timedelta(**by))


@contextmanager
def on_a_fixed_clock() -> Iterator[Clock]:
    """From BEGIN on, in one process that makes one database."""
    numbers = count(1)
    words = count(1)

    def number() -> UUID:
        """A UUIDv7 of the moment; its lot is drawn by counting."""
        milliseconds = int(timezone.now().timestamp() * 1000)
        return UUID(int=milliseconds << 80 | VERSION_7 | VARIANT | next(numbers))

    def secret(*_: object) -> str:
        return f"kept-for-tests-of-upgrades-{next(words):04d}"

    def part(*_: object) -> str:
        return f"{next(words):08x}"

    def session(length: int, *_: object) -> str:
        return f"{next(words):0{length}d}"

    with (
        time_machine.travel(BEGIN, tick=False) as moved,
        patch("jobs.models.base.uuid7", number),
        patch("secrets.token_urlsafe", secret),
        patch("secrets.token_hex", part),
        patch("django.contrib.sessions.backends.base.get_random_string", session),
        patch("notifications.services.wishes.webhook_secret", lambda: WEBHOOK),
        patch("jobs.services.factors.totp.generate_totp_secret", lambda: CODES),
    ):
        yield Clock(moved)
