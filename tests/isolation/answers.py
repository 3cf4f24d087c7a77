"""What came of a call: all that its caller gets, all that was asked, written, sent and logged."""

import copy
import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from unittest.mock import patch

from django.contrib.messages import ERROR, get_messages
from django.core.files.storage import default_storage
from django.db import transaction
from django.test import Client, TestCase

import notifications.tasks  # noqa: F401  answers the doorbell of the outbox
from inspections.days.services import plan_make
from tests.days.crewed import EFFORT
from tests.isolation.alike import Asked, alike, logged, plain, sending, watched
from tests.isolation.calls import Call
from tests.isolation.world import NOW, World
from tests.matrix import OUT

UNTIL = re.compile(r"expires=[^;]*; ")
"""When a cookie ends, by the clock of the machine."""
MARKED_REQUEST = {"X-Request-ID": "isolation-of-shops"}


@dataclass
class Answer:
    """Everything that a call brought about; it is undone afterwards."""

    status: int
    head: dict[str, str]
    body: bytes
    messages: list[tuple[int, str]]
    cookies: str
    asked: list[Asked] = field(default_factory=list, repr=False)
    sent: list[tuple[str, str, str]] = field(default_factory=list)
    logged: list[str] = field(default_factory=list)

    @property
    def through(self) -> bool:
        """Whether it was taken."""
        refused = any(level >= ERROR for level, _ in self.messages)
        to_sign_in = self.head.get("Location", "").startswith("/sign-in/?")
        return self.status < 400 and not refused and not to_sign_in

    @property
    def rows(self) -> int:
        """How many rows the database gave."""
        return sum(not sql for sql, _ in self.asked)

    @property
    def kind(self) -> str:
        """What it is, for the count of documents."""
        return self.head.get("Content-Type", "none").partition(";")[0]


def answered(client: Client, call: Call, world: World, number: int) -> Answer:
    """What comes of a call at the usual moment, with ids drawn by the number."""
    cookies = copy.deepcopy(client.cookies)
    given, kept = call.sent(world), _files()
    with (
        alike(NOW, number),
        logged() as lines,
        sending() as gone,
        watched() as asked,
        patch("inspections.tasks.plan_make", lambda plan_id: plan_make(plan_id, EFFORT)),
        transaction.atomic(),
    ):
        with TestCase.captureOnCommitCallbacks(execute=True):
            response = send(client, call, given)
            body = _body(response)
        transaction.set_rollback(True)
    client.cookies = cookies
    _take_away_all_but(kept)
    told = [(each.level, str(each)) for each in get_messages(response.wsgi_request)]
    head = {name: value for name, value in response.headers.items() if name != "Expires"}
    if body.startswith(b"[("):  # a packed file, whose length depends on the moment it tells
        del head["Content-Length"]
    set_here = UNTIL.sub("", response.cookies.output())
    return Answer(response.status_code, head, body, told, set_here, asked, gone, lines)


def send(client: Client, call: Call, given: dict[str, Any]) -> Any:
    """The answer of the site to a call, with what goes with it."""
    if call.method == "GET":
        return client.get(call.path, headers=MARKED_REQUEST)
    if "content_type" in given:
        content = given["data"]
        return client.generic(
            call.method, call.path, content, given["content_type"], headers=MARKED_REQUEST
        )
    return client.post(call.path, given["data"], headers=MARKED_REQUEST)


def status_of(client: Client, call: Call, world: World, number: int) -> tuple[int, bool]:
    """How a call is answered, and whether it got past the door; nothing of it is done.

    A refusal as things stand is past the door.
    """
    cookies = copy.deepcopy(client.cookies)
    given, kept = call.sent(world), _files()
    with alike(NOW, number), transaction.atomic():
        response = send(client, call, given)
        transaction.set_rollback(True)
    client.cookies = cookies
    _take_away_all_but(kept)
    to_sign_in = response.headers.get("Location", "").partition("?")[0] == "/sign-in/"
    refused = any("can do this" in str(each) for each in get_messages(response.wsgi_request))
    is_in = response.status_code not in OUT and not to_sign_in and not refused
    return response.status_code, is_in


def _files() -> set[Path]:
    return {each for each in Path(default_storage.path("")).rglob("*") if each.is_file()}


def _take_away_all_but(kept: set[Path]) -> None:
    """A file stays where it was written, whatever becomes of its row."""
    for each in _files() - kept:
        each.unlink()


def _body(response: Any) -> bytes:
    if response.streaming:
        return plain(b"".join(response.streaming_content))
    return plain(response.content)


def differences(alone: Answer, beside: Answer) -> list[str]:
    """What is other beside the stranger, in a line each."""
    found = []
    for name in ("status", "head", "messages", "cookies", "sent", "logged"):
        was, now = getattr(alone, name), getattr(beside, name)
        if was != now:
            found.append(f"{name}: {_first(was, now)}")
    if alone.body != beside.body:
        found.append(f"body: {_near(alone.body, beside.body)}")
    if alone.asked != beside.asked:
        found.append(f"{alone.rows} rows and now {beside.rows}: {_other(alone, beside)}")
    return found


def _first(was: Any, now: Any) -> str:
    if isinstance(was, list) and isinstance(now, list):
        pairs = [(a, b) for a, b in zip(was, now, strict=False) if a != b]
        more = [*was[len(now) :], *now[len(was) :]]
        was, now = pairs[0] if pairs else (len(was), (len(now), more[0]))
    return f"{was!s:.400} and now {now!s:.400}"


def _near(was: bytes, now: bytes) -> str:
    """Where two bodies part."""
    at = next((n for n, (a, b) in enumerate(zip(was, now, strict=False)) if a != b), None)
    begin = max(0, (len(was) if at is None else at) - 80)
    return f"…{was[begin : begin + 240]!r} and now …{now[begin : begin + 240]!r}"


def _other(alone: Answer, beside: Answer) -> str:
    """The first statement that is another, or that gave other rows."""
    last = ""
    for was, now in zip(alone.asked, beside.asked, strict=False):
        last = now[0] or last
        if was != now:
            return f"{last:.600} gave {was[1]:.300} and now {now[1]:.300}"
    return f"after {last:.600}"
