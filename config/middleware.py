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


POLICY = "; ".join(
    (
        "default-src 'self'",
        "img-src 'self' data: blob:",
        "object-src 'none'",
        "base-uri 'none'",
        "form-action 'self'",
        "frame-ancestors 'none'",
    )
)
"""Everything a page needs comes from the site; nothing written into a page runs."""


def policy_middleware(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Tell browsers to run and load nothing but the site's own files."""

    def answer(request: HttpRequest) -> HttpResponse:
        response = get_response(request)
        response.headers.setdefault("Content-Security-Policy", POLICY)
        return response

    return answer
