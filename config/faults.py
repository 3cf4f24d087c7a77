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

from config import fault_messages as words
from config.languages import say
from config.messages.message import Text, Value
from config.messages.saying import said
from config.sealing import SealFault

WORDS = {400: words.UNREADABLE, 404: words.NOTHING_HERE, 500: words.BROKEN}


def _handler(status: int, page: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    def answer(request: HttpRequest, *given: Any, **named: Any) -> HttpResponse:
        if not request.path.startswith("/api/"):
            return page(request, *given, **named)
        problem = {
            "type": "about:blank",
            "title": HTTPStatus(status).phrase,
            "status": status,
            "detail": say(WORDS[status]()),
        }
        kind = "application/problem+json"
        return JsonResponse(problem, status=status, content_type=kind)

    return answer


bad_request = _handler(400, defaults.bad_request)
not_found = _handler(404, defaults.page_not_found)


NO_ROOM = (errno.ENOSPC, errno.EDQUOT)
NO_ROOM_OF_SQLITE = (sqlite3.SQLITE_FULL, sqlite3.SQLITE_IOERR_SHMSIZE)
NO_ROOM_OF_POSTGRESQL = "53100"


def value_of(fault: BaseException) -> Value:
    """A fault in a line that somebody reads who has no log: what a database says in its own words,
    with names of constraints and values of rows, stays in the log."""
    if isinstance(fault, DatabaseFault):
        return words.ROW_REFUSED(kind=type(fault).__name__)
    return f"{type(fault).__name__}: {fault}"


def said_of(fault: BaseException) -> str:
    """The same in English, for a line of text."""
    return said(value_of(fault))


def not_now(error: BaseException | None) -> tuple[Text, int] | None:
    """What we stand on that is full or out of reach, and the seconds to wait for it.

    None when it is something else.
    """
    if _full(error):
        return words.DISK_FULL(), 60
    if isinstance(error, SealFault):
        return words.KEY_MISSING(), 300
    if away := _away(error):
        return away, 5
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


def _away(error: BaseException | None) -> Text | None:
    """What is out of reach; None when it is something else."""
    if isinstance(error, DatabaseOut | InterfaceError):
        return words.DATABASE_AWAY()
    store = sys.modules.get("botocore.exceptions")  # loaded where photographs are in a bucket
    if store and isinstance(error, store.HTTPClientError | store.ConnectionError):
        return words.PHOTOS_AWAY()
    return None


def server_error(request: HttpRequest) -> HttpResponse:
    """Something broke; or what we stand on is out of reach or full: worth asking again."""
    error = sys.exc_info()[1]
    if waits := not_now(error):
        return in_words(request, 503, *waits)
    if isinstance(error, IntegrityError):
        return in_words(request, 409, words.AT_ONCE())
    return _handler(500, defaults.server_error)(request)


def in_words(request: HttpRequest, status: int, text: Text, seconds: int = 0) -> HttpResponse:
    """A status with a sentence, and the seconds after which to ask again."""
    if request.path.startswith("/api/"):
        problem = {"type": "about:blank", "title": HTTPStatus(status).phrase, "status": status}
        kind = "application/problem+json"
        answer: HttpResponse = JsonResponse(
            problem | {"detail": say(text)}, status=status, content_type=kind
        )
    else:
        answer = HttpResponse(say(text), status=status, content_type="text/plain; charset=utf-8")
    if seconds:
        answer["Retry-After"] = str(seconds)
    return answer
