"""The same call twice alike: one moment, the same ids and secrets; and what the database is asked.

With these set, two answers to the same call differ by what the database holds and by nothing else.
"""

import io
import json
import logging
import random
import re
import zipfile
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from datetime import datetime, timedelta
from itertools import count
from types import SimpleNamespace
from typing import Any
from unittest.mock import patch
from uuid import UUID

from django.core.cache.backends.locmem import LocMemCache
from django.db import connection
from django.db.backends.utils import CursorWrapper
from django.utils import timezone

from config.observe import JsonLines
from notifications.channels.client import Request
from notifications.models import Gateway
from tests.clock import Clock

Asked = tuple[str, str]
"""A statement with its values, and what came back."""


@contextmanager
def alike(now: datetime, number: int = 0) -> Iterator[Clock]:
    """A clock that begins at that moment; ids and secrets drawn by the number."""
    chance, ids = random.Random(number), count(1)

    def identity() -> UUID:
        return UUID(f"0199{number:04x}-0000-7000-8000-{next(ids):012x}")

    def token(size: int = 16) -> str:
        return f"{chance.getrandbits(4 * size):0{size}x}"

    clock = Clock(now)
    signed_at = SimpleNamespace(time=now.timestamp)
    with ExitStack() as stack:
        for target, instead in (
            ("jobs.models.base.uuid7", identity),
            ("secrets.choice", chance.choice),
            ("secrets.token_urlsafe", token),
            ("secrets.token_hex", token),
            (
                "secrets.token_bytes",
                lambda size=16: bytes(chance.getrandbits(8) for _ in range(size)),
            ),
            ("fido2.server.os", SimpleNamespace(urandom=chance.randbytes)),
            ("allauth.account.internal.flows.login.time", SimpleNamespace(time=now.timestamp)),
            ("allauth.account.models.time", SimpleNamespace(time=now.timestamp)),
            ("allauth.account.internal.stagekit.time", SimpleNamespace(time=now.timestamp)),
            ("allauth.core.internal.ratelimit.cache", _fresh_cache()),
            ("notifications.services.outbox.random.random", chance.random),
            ("django.core.signing.time", signed_at),
            ("rest_framework.throttling.SimpleRateThrottle.cache", _fresh_cache()),
        ):
            stack.enter_context(patch(target, instead))
        stack.enter_context(patch.object(timezone, "now", clock))
        random.seed(number)
        yield clock


def _fresh_cache() -> LocMemCache:
    cache = LocMemCache("isolation", {})
    cache.clear()
    return cache


ANY_ORDER = random.Random(1)


def _shuffled(rows: Any, in_order: bool) -> Any:
    """Rows in another order each time, where the statement asked for none.

    PostgreSQL returns such rows in the order in which they were last written.
    """
    if in_order or len(rows) < 2:
        return rows
    rows = list(rows)
    ANY_ORDER.shuffle(rows)
    return rows


AMONG = re.compile(
    r'IN \((?:%s, )+%s\)|IN \((?:\(%s\), )+\(%s\)\)|("\w+"\."\w+") = %s(?: OR \1 = %s)+'
)
"""A choice among values, in each form that Django writes it in. Their order changes nothing."""


def _as_sets(sql: str, params: Any) -> Any:
    """The values of a statement, those of each choice among several sorted."""
    if not isinstance(params, tuple | list):
        return params
    values = list(params)
    for found in AMONG.finditer(sql):
        first = sql.count("%s", 0, found.start())
        among = slice(first, first + found.group().count("%s"))
        values[among] = sorted(values[among], key=repr)
    return tuple(values)


class _Watching(CursorWrapper):
    """A cursor that writes down what it was asked and each row that it gave."""

    asked: list[Asked] = []
    in_order = True

    def execute(self, sql: Any, params: Any = None) -> Any:
        _Watching.in_order = "ORDER BY" in sql
        self.asked.append((f"{sql} {_said(_as_sets(sql, params))}", ""))
        return super().execute(sql, params)

    def executemany(self, sql: Any, param_list: Any) -> Any:
        given = list(param_list)
        self.asked.append((f"{sql} {_said(given)}", ""))
        return super().executemany(sql, given)

    def fetchone(self) -> Any:
        row = self.cursor.fetchone()
        self._gave([] if row is None else [row])
        return row

    def fetchmany(self, *given: Any) -> Any:
        rows = _shuffled(self.cursor.fetchmany(*given), self.in_order)
        self._gave(rows)
        return rows

    def fetchall(self) -> Any:
        rows = _shuffled(self.cursor.fetchall(), self.in_order)
        self._gave(rows)
        return rows

    def __iter__(self) -> Iterator[Any]:
        for row in self.cursor:
            self._gave([row])
            yield row

    def _gave(self, rows: Any) -> None:
        counted = self.asked[-1][0].startswith("INSERT") if self.asked else False
        for row in rows:
            shown = tuple("NUMBER" if counted and isinstance(n, int) else n for n in row)
            self.asked.append(("", repr(shown)))


MONTH = re.compile(r"photographs/\d{4}/\d{2}/")
"""Where pictures are filed, by the month of the machine's clock."""


def undated(text: str) -> str:
    """A text without moments of the machine's own clock, which a library may go by."""
    now = timezone.now()
    days = [(now + timedelta(days=n)).date() for n in (-1, 0, 1)]
    near = "|".join(map(str, days))
    shown = "|".join(f"{day.year}, {day.month}, {day.day}" for day in days)
    text = re.sub(rf"(?:{near})[ T][\d:.]+", "MOMENT", text)
    return re.sub(rf"datetime\(({shown})[^)]*\)", "MOMENT", text)


def _said(params: Any) -> str:
    """Values of a statement as text."""
    if isinstance(params, tuple | list):
        return f"({', '.join(map(_said, params))})"
    if isinstance(params, memoryview | bytes):
        return repr(plain(bytes(params)))
    return undated(MONTH.sub("photographs/", repr(params)))


@contextmanager
def watched() -> Iterator[list[Asked]]:
    """Every statement that is asked meanwhile, and every row that was given.

    The rows of a statement are sorted: one that asks for no order is given none.
    """
    asked: list[Asked] = []
    _Watching.asked = asked
    with patch.object(
        connection, "make_cursor", lambda cursor: _Watching(cursor, connection), create=False
    ):
        yield asked
    savepoint = re.compile(r'SAVEPOINT "?s\d+_x\d+"?')
    by_statement: list[list[Asked]] = []
    for sql, row in asked:
        if sql:
            by_statement.append([(savepoint.sub("SAVEPOINT", sql), "")])
        else:
            by_statement[-1].append(("", row))
    asked[:] = [each for one, *rows in by_statement for each in (one, *sorted(rows))]


OF_A_TASK = re.compile(r"\[[0-9a-f-]{36}\]| in [\d.e-]+s\b")
"""The number that a message to a worker has, and how long it took."""


@contextmanager
def logged() -> Iterator[list[str]]:
    """Every line that is logged meanwhile, as it would go out."""
    lines: list[str] = []

    class Keeping(logging.Handler):
        def emit(self, record: logging.LogRecord) -> None:
            if record.name == "celery.utils.functional":
                return  # says once a process how it calls a task
            line = json.loads(self.format(record))
            for name in ("at", "task"):
                line.pop(name, None)
            line["says"] = undated(OF_A_TASK.sub("", line["says"]))
            lines.append(json.dumps(line, sort_keys=True))

    handler = Keeping(logging.NOTSET)
    handler.setFormatter(JsonLines())
    root = logging.getLogger()
    level = root.level
    root.addHandler(handler)
    root.setLevel(logging.DEBUG)
    try:
        yield lines
    finally:
        root.removeHandler(handler)
        root.setLevel(level)


@contextmanager
def sending() -> Iterator[list[tuple[str, str, str]]]:
    """Every message that goes out meanwhile: by what, to whom, as it is; none leaves."""
    gone: list[tuple[str, str, str]] = []

    def mail(_backend: object, messages: Any) -> int:
        for each in messages:
            gone.append(("e-mail", each.to[0], _mail(each.message().as_bytes())))
        return len(messages)

    def hook(request: Request, who: str) -> int:
        gone.append(("webhook", request.url, f"{request.headers} {request.body.decode()}"))
        return 200

    def text(gateway: Gateway, to: str, said: str, key: str) -> None:
        gone.append(("message", f"{gateway.url} {to}", said))

    with ExitStack() as stack:
        stack.enter_context(
            patch("django.core.mail.backends.locmem.EmailBackend.send_messages", mail)
        )
        stack.enter_context(patch("notifications.channels.webhook.send_request", hook))
        stack.enter_context(patch("notifications.channels.message.notify", text))
        yield gone


def _mail(content: bytes) -> str:
    """A message without the moment of its writing and the lots that its parts are parted by."""
    text = re.sub(rb"(?m)^Date: .*$", b"Date", content)
    return re.sub(rb"={15}\d+==", b"=====", text).decode()


MOMENTS_OF_FILES = re.compile(rb"/(CreationDate|ModDate) \([^)]*\)|/ID\s*\[[^\]]*\]")
MOMENTS_OF_BOOKS = re.compile(rb"<dcterms:(created|modified)[^>]*>[^<]*<")


def plain(content: bytes) -> bytes:
    """A document without the moment at which its file was written."""
    if content.startswith(b"%PDF"):
        return MOMENTS_OF_FILES.sub(b"/MOMENT", content)
    if content.startswith(b"PK\x03\x04"):
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            parts = [
                (name, MOMENTS_OF_BOOKS.sub(b"<", packed.read(name))) for name in packed.namelist()
            ]
        return repr(parts).encode()
    return content
