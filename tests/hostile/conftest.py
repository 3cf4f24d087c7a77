"""The two shops, once a test, and a clock that only sequences move."""

import logging
from datetime import timedelta
from typing import Any

import pytest

from notifications import tasks
from notifications.models import Channel
from pages.account import presence
from tests.clock import Clock
from tests.hostile.playing import Play
from tests.hostile.world import BEGIN, World


@pytest.fixture
def play(db, settings, monkeypatch) -> Play:
    """Both shops with everything in them, and what plays sequences on them."""
    settings.SESSION_COOKIE_AGE = 100 * 366 * 24 * 60 * 60  # seconds: the clock goes far
    for name in ("IDLE_OFFICE", "IDLE_CREW", "LONGEST_OFFICE", "LONGEST_CREW"):
        monkeypatch.setattr(presence, name, timedelta(days=100 * 366))
    send = tasks.send_lane.apply_async

    def only_mail(given: tuple[str, str], **options: Any) -> None:
        """No message goes to an address on a network."""
        if given[1] == Channel.EMAIL:
            send(given, **options)

    monkeypatch.setattr(tasks.send_lane, "apply_async", only_mail)
    monkeypatch.setattr(logging.getLogger("django.request"), "disabled", True)  # each refusal
    clock = Clock(BEGIN).put(monkeypatch)
    return Play(World(clock))
