"""What is answered where no view does: a page to people, problem details to programs."""

from collections.abc import Callable
from http import HTTPStatus
from typing import Any

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.views import defaults

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
server_error = _handler(500, defaults.server_error)
