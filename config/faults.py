"""What is answered where no view does: a page to people, problem details to programs."""

import errno
import sqlite3
import sys
from collections.abc import Callable
from http import HTTPStatus
from typing import Any

from django.db import Error as DatabaseFault
from django.db import IntegrityError, InterfaceError
from django.db import OperationalError as DatabaseOut
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.views import defaults

from config.languages import say
from config.sealing import SealFault

WORDS = {
    400: "The request cannot be read.",
    404: "There is nothing here, or it is not yours to see.",
    500: "Something broke here. What was sent may not have been recorded.",
}


def _handler(status: int, page: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    def answer(request: HttpRequest, *given: Any, **named: Any) -> HttpResponse:
        if not request.path.startswith("/api/"):
            return page(request, *given, **named)
        problem = {
            "type": "about:blank",
            "title": HTTPStatus(status).phrase,
            "status": status,
            "detail": WORDS[status],
        }
        kind = "application/problem+json"
        return JsonResponse(problem, status=status, content_type=kind)

    return answer


bad_request = _handler(400, defaults.bad_request)
not_found = _handler(404, defaults.page_not_found)


AWAY = " out of reach for a moment. Ask again; nothing was recorded."
FULL = "The disc of the site is full. Ask again when there is room; nothing was recorded."
AT_ONCE = "Somebody recorded this at the same moment. Read what is on record, then send it again."
"""Said where two did the same at once and the database took the first: never by its own names."""
NO_KEY = (
    "A secret of this site cannot be opened, since a key is missing. Whoever runs the site finds "
    "which in its log; nothing was recorded."
)
NO_ROOM = (errno.ENOSPC, errno.EDQUOT)
NO_ROOM_OF_SQLITE = (sqlite3.SQLITE_FULL, sqlite3.SQLITE_IOERR_SHMSIZE)
NO_ROOM_OF_POSTGRESQL = "53100"


REFUSED_ROW = "the database refused what was to be written; the log of the site says why"


def said_of(fault: BaseException) -> str:
    """A fault in a line that somebody reads who has no log: what a database says in its own words,
    with names of constraints and values of rows, stays in the log."""
    if isinstance(fault, DatabaseFault):
        return f"{type(fault).__name__}: {REFUSED_ROW}"
    return f"{type(fault).__name__}: {fault}"


def not_now(error: BaseException | None) -> tuple[str, int] | None:
    """What we stand on that is full or out of reach, in words, and the seconds to wait for it.

    None when it is something else.
    """
    if _full(error):
        return FULL, 60
    if isinstance(error, SealFault):
        return NO_KEY, 300
    if away := _away(error):
        return away + AWAY, 5
    return None


def _full(error: BaseException | None) -> bool:
    """Whether a disc has no room: that of photographs, or that of either database."""
    if isinstance(error, OSError):
        return error.errno in NO_ROOM
    cause = None
    if isinstance(error, DatabaseOut):
        cause = error.__cause__
    if getattr(cause, "sqlite_errorcode", None) in NO_ROOM_OF_SQLITE:
        return True
    return getattr(cause, "sqlstate", None) == NO_ROOM_OF_POSTGRESQL


def _away(error: BaseException | None) -> str:
    """What is out of reach, in words; empty when it is something else."""
    if isinstance(error, DatabaseOut | InterfaceError):
        return "The database is"
    store = sys.modules.get("botocore.exceptions")  # loaded where photographs are in a bucket
    if store and isinstance(error, store.HTTPClientError | store.ConnectionError):
        return "Photographs are"
    return ""


def server_error(request: HttpRequest) -> HttpResponse:
    """Something broke; or what we stand on is out of reach or full: worth asking again."""
    error = sys.exc_info()[1]
    if waits := not_now(error):
        return in_words(request, 503, *waits)
    if isinstance(error, IntegrityError):
        return in_words(request, 409, AT_ONCE)
    return _handler(500, defaults.server_error)(request)


def in_words(request: HttpRequest, status: int, words: str, seconds: int = 0) -> HttpResponse:
    """A status with a sentence, and the seconds after which to ask again."""
    if request.path.startswith("/api/"):
        problem = {"type": "about:blank", "title": HTTPStatus(status).phrase, "status": status}
        kind = "application/problem+json"
        answer: HttpResponse = JsonResponse(
            problem | {"detail": words}, status=status, content_type=kind
        )
    else:
        answer = HttpResponse(say(words), status=status, content_type="text/plain; charset=utf-8")
    if seconds:
        answer["Retry-After"] = str(seconds)
    return answer
