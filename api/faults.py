"""What a refused request gets: a sentence that names the fault, as RFC 9457 problem details."""

from typing import Any

from django.core.exceptions import ObjectDoesNotExist, ValidationError
from django.http import Http404
from rest_framework import exceptions
from rest_framework.response import Response
from rest_framework.views import exception_handler

from inspections.checker import HouseFaults, RulebookFault
from inspections.services import Held, ItemsOpen, NotCleared, NothingToPass
from jobs.access import NotAllowed
from jobs.planning.working_days import NeverOpen

REFUSALS: dict[type[Exception], int] = {
    NotAllowed: 403,
    Held: 409,
    ItemsOpen: 409,
    NeverOpen: 409,
    NotCleared: 409,
    NothingToPass: 409,
    HouseFaults: 422,
    RulebookFault: 422,
}


def problem(error: Exception, context: dict[str, Any]) -> Response | None:
    """The answer to an error that a caller can mend, or None for one that is ours."""
    for kind, status in REFUSALS.items():
        if isinstance(error, kind):
            return _answer(status, str(error), _entries(error))
    if isinstance(error, ValidationError):
        return _answer(422, " ".join(error.messages))
    if isinstance(error, ObjectDoesNotExist):
        error = Http404()
    response = exception_handler(error, context)
    if response is None:
        return None
    if isinstance(error, exceptions.ValidationError):
        return _answer(400, "The request has faults.", _fields(error.detail))
    return _answer(response.status_code, _detail(response.data), headers=response.headers)


def _answer(
    status: int, detail: str, errors: list[dict[str, str]] | None = None, headers: Any = None
) -> Response:
    body: dict[str, Any] = {"status": status, "detail": detail}
    if errors:
        body["errors"] = errors
    return Response(body, status=status, headers=headers, content_type="application/problem+json")


def _entries(error: Exception) -> list[dict[str, str]]:
    if isinstance(error, HouseFaults):
        return [{"path": fault.path, "detail": fault.message} for fault in error.faults]
    if isinstance(error, Held):
        return [{"path": hold.reason, "detail": hold.says} for hold in error.holds]
    return []


def _fields(detail: Any) -> list[dict[str, str]]:
    if not isinstance(detail, dict):
        return [{"path": "", "detail": str(each)} for each in detail]
    return [
        {"path": f"/{name}", "detail": str(text)}
        for name, texts in detail.items()
        for text in (texts if isinstance(texts, list) else [texts])
    ]


def _detail(data: Any) -> str:
    return str(data.get("detail", data)) if isinstance(data, dict) else str(data)
