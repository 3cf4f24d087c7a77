"""What a refused request gets: a sentence that names the fault, as RFC 9457 problem details."""

import re
from collections.abc import Iterable, Iterator
from http import HTTPStatus
from typing import Any

from django.core.exceptions import NON_FIELD_ERRORS, ObjectDoesNotExist, ValidationError
from django.http import Http404
from rest_framework import exceptions
from rest_framework.response import Response
from rest_framework.views import exception_handler

from api.refusal_messages import FAULTS
from config.languages import say
from inspections.checker.load import HouseFaults
from inspections.checker.rulebook import RulebookFault
from inspections.services.consequences import OutOfOrder, WouldWithdraw
from inspections.services.cover_releases import Held, NotReleased
from inspections.services.events import NotNow
from inspections.services.fact_corrections import FactMoved, NotCorrected
from inspections.services.houses import AnotherRevision
from inspections.services.inspections import ItemsOpen
from inspections.services.observations import FactsChanged, NotAsDrawn, NothingToPass
from jobs.access import NotAllowed
from jobs.planning.working_days import NeverOpen

KEPT = ("WWW-Authenticate", "Retry-After", "Allow")
"""Headers of an answer that go with a refusal."""
REFUSALS: dict[type[Exception], int] = {
    NotAllowed: 403,
    AnotherRevision: 409,
    Held: 409,
    ItemsOpen: 409,
    NeverOpen: 409,
    NotReleased: 409,
    NotNow: 409,
    OutOfOrder: 409,
    FactMoved: 409,
    NotCorrected: 409,
    WouldWithdraw: 409,
    FactsChanged: 409,
    NotAsDrawn: 409,
    NothingToPass: 409,
    HouseFaults: 422,
    RulebookFault: 422,
}


def problem(error: Exception, context: dict[str, Any]) -> Response | None:
    """The answer to an error that a caller can correct, or None for one that is ours."""
    for kind, status in REFUSALS.items():
        if isinstance(error, kind):
            return _answer(status, _words(error), _entries(error))
    if isinstance(error, ValidationError):
        return _answer(422, " ".join(error.messages), _of_model(error))
    if isinstance(error, ObjectDoesNotExist):
        error = Http404()
    response = exception_handler(error, context)
    if response is None:
        return None
    if isinstance(error, exceptions.ValidationError):
        return _answer(400, say(FAULTS()), list(_fields(error.detail)))
    return _answer(response.status_code, _detail(response.data), headers=response.headers)


def _words(error: Exception) -> str:
    if isinstance(error, ValidationError):
        return " ".join(error.messages)
    return say(getattr(error, "text", str(error)))


def _answer(
    status: int, detail: str, errors: list[dict[str, str]] | None = None, headers: Any = None
) -> Response:
    title = HTTPStatus(status).phrase
    body: dict[str, Any] = {"type": "about:blank", "title": title, "status": status}
    body["detail"] = detail
    if errors:
        body["errors"] = errors
    kept = {}
    for name, value in (headers or {}).items():
        if name in KEPT:
            kept[name] = value
    return Response(body, status=status, headers=kept, content_type="application/problem+json")


def _fault(parts: Iterable[object], detail: str) -> dict[str, str]:
    """One fault, where it is as a JSON Pointer in a fragment (RFC 6901)."""
    escaped = []
    for part in parts:
        escaped.append(str(part).replace("~", "~0").replace("/", "~1"))
    found = []
    for part in escaped:
        found.append(f"/{part}")
    return {"pointer": "#" + "".join(found), "detail": detail}


def _entries(error: Exception) -> list[dict[str, str]]:
    if isinstance(error, HouseFaults):
        faults: list[dict[str, str]] = []
        for each in error.faults:
            faults.append(_fault(["house", *_parts(each.path)], each.message))
        return faults
    if isinstance(error, Held):
        said: list[dict[str, str]] = []
        for hold in error.holds:
            said.append(_fault([], say(hold.says)))
        return said
    if isinstance(error, OutOfOrder):
        steps: list[dict[str, str]] = []
        for each in error.says:
            steps.append(_fault([], say(each)))
        return steps
    return []


def _parts(path: str) -> list[str]:
    """rooms[3].walls[1].length_mm in parts."""
    parts: list[str] = []
    for part in re.split(r"[.\[\]]+", path):
        if part:
            parts.append(part)
    return parts


def _of_model(error: ValidationError) -> list[dict[str, str]]:
    if not hasattr(error, "error_dict"):
        return []
    faults: list[dict[str, str]] = []
    for name, texts in error.message_dict.items():
        for text in texts:
            faults.append(_fault([] if name == NON_FIELD_ERRORS else [name], text))
    return faults


def _fields(detail: Any, at: tuple[object, ...] = ()) -> Iterator[dict[str, str]]:
    """Every fault of a body, however deep it lies."""
    if isinstance(detail, dict):
        for name, inner in detail.items():
            yield from _fields(inner, at if name == "non_field_errors" else (*at, name))
    elif isinstance(detail, list):
        for number, inner in enumerate(detail):
            plain = isinstance(inner, str)
            yield from _fields(inner, at if plain else (*at, number))
    else:
        yield _fault(at, str(detail))


def _detail(data: Any) -> str:
    if isinstance(data, dict):
        return str(data.get("detail", data))
    return str(data)
