"""What is logged of people at the doors: each event with who, from where, when; nothing secret.

OWASP ASVS 5.0.0, V16.2 and V16.3; the events stand in `docs/security.md`.
"""

import json
import logging
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from django.test import Client

from config.observe import JsonLines, TextLines
from config.security_log import EVENTS, OF_ANSWERS, log
from inspections.services.links import cover_link_make
from tests.inspections.tiny import HOUSES

PASSWORD = "rough-in"
ROOT = Path(__file__).resolve().parents[2]


class Kept(logging.Handler):
    """The events that were logged, as they stand in JSON."""

    def __init__(self) -> None:
        super().__init__()
        self.setFormatter(JsonLines())
        self.lines: list[dict[str, Any]] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.lines.append(json.loads(self.format(record)))

    @property
    def events(self) -> list[str]:
        return [line["door"]["event"] for line in self.lines]

    def last(self, event: str) -> dict[str, Any]:
        return next(line for line in reversed(self.lines) if line["door"]["event"] == event)


@pytest.fixture
def doors() -> Iterator[Kept]:
    kept = Kept()
    log.addHandler(kept)
    yield kept
    log.removeHandler(kept)


@pytest.mark.django_db
def test_who_comes_and_goes_is_told_with_from_where_and_when(doors, shop) -> None:
    client = Client(REMOTE_ADDR="203.0.113.9")
    wrong = {"login": shop.lead.username, "password": "not-the-password"}
    client.post("/sign-in/", wrong)
    said = doors.last("not let in")
    assert said["door"]["from"] == "203.0.113.9"
    assert shop.lead.username not in json.dumps(said)
    client.post("/sign-in/", wrong)
    assert doors.last("not let in")["door"]["name"] == said["door"]["name"]
    client.post("/sign-in/", wrong | {"password": PASSWORD})
    came = doors.last("came in")
    assert came["door"]["who"] == str(shop.lead.pk)
    assert came["request"]
    assert re.match(r"\d{4}-\d\d-\d\dT.*\+00:00$", came["at"])
    client.post("/sign-out/")
    assert doors.last("went out")["door"]["who"] == str(shop.lead.pk)
    assert "not-the-password" not in json.dumps(doors.lines)


@pytest.mark.django_db
def test_each_refusal_is_told(doors, shop, client) -> None:
    job = shop.roughed_in(HOUSES["clean"])
    client.get(f"/api/jobs/{job.id}")
    assert doors.events == ["not signed in"]
    client.force_login(shop.office)
    client.get("/jobs/00000000-0000-7000-8000-000000000000/")
    assert doors.last("not there")["door"]["who"] == str(shop.office.pk)
    assert doors.last("not there")["door"]["view"] == "job"
    strict = Client(enforce_csrf_checks=True)
    strict.force_login(shop.office)
    strict.post("/people/invite/", {"for_whom": "x"})
    assert doors.last("refused")["door"]["method"] == "POST"
    client.post("/people/invite/", {"for_whom": ""})
    assert "not read" in doors.events
    before = len(doors.events)
    Client().get("/nowhere-at-all/")
    assert len(doors.events) == before


@pytest.mark.django_db
def test_what_is_sent_ends_no_line_and_opens_nothing(doors, shop, client) -> None:
    client.force_login(shop.office)
    client.get("/jobs/%0a2026-01-01 INFO door: forged/", headers={"X-Request-ID": "x" * 70})
    job = shop.roughed_in(HOUSES["clean"])
    _, secret = cover_link_make(shop.office, job=job, for_whom="the builder")
    client.get(f"/l/{secret}x")
    record = logging.LogRecord("a", 20, "f", 1, "said %s", ("x\n2026 INFO door: forged",), None)
    assert len(TextLines("%(asctime)s %(message)s").format(record).splitlines()) == 1
    assert secret not in json.dumps(doors.lines)


def test_it_is_told_whatever_the_level_of_the_log_is(settings) -> None:
    assert settings.LOGGING["loggers"]["studbay.security"] == {"level": "INFO"}
    assert log.propagate


def test_the_inventory_names_each_event() -> None:
    assert set(OF_ANSWERS.values()) <= set(EVENTS)
    text = (ROOT / "docs" / "security.md").read_text("utf-8")
    assert [event for event in EVENTS if f"| {event} |" not in text] == []
