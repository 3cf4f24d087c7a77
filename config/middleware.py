"""What every request passes through."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

from jobs.origin import coming_from


def origin_middleware(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Let the record of a job tell from which face a change came."""

    def answer(request: HttpRequest) -> HttpResponse:
        with coming_from("api" if request.path.startswith("/api/") else "page"):
            return get_response(request)

    return answer
