"""What every request passes through."""

from collections.abc import Callable

from django.conf import settings
from django.core.exceptions import BadRequest
from django.http import (
    HttpRequest,
    HttpResponse,
    HttpResponseNotAllowed,
    JsonResponse,
    QueryDict,
)

from config.fault_messages import NO_TLS
from config.languages import say
from jobs.origin import coming_from


def origin_middleware(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Let the record of a job tell from which face a change came."""

    def answer(request: HttpRequest) -> HttpResponse:
        with coming_from("api" if request.path.startswith("/api/") else "page"):
            return get_response(request)

    return answer


NO_TEXT = "\x00"
"""What no text holds: PostgreSQL takes none of it, and nobody types it."""


def text_middleware(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Refuse an address or a form that holds what is no text, before anything asks a database.

    Calls of programs are read, and refused, by their serializers.
    """

    def answer(request: HttpRequest) -> HttpResponse:
        texts = [request.path, *_values(request.GET)]
        if request.method == "POST" and not request.path.startswith("/api/"):
            texts += _values(request.POST)
        if any(NO_TEXT in text for text in texts):
            raise BadRequest("a NUL is no text")
        return get_response(request)

    return answer


def _values(sent: QueryDict) -> list[str]:
    texts: list[str] = []
    for name, values in sent.lists():
        for text in (name, *values):
            texts.append(text)
    return texts


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


UNUSED = (
    "accelerometer",
    "autoplay",
    "camera",
    "display-capture",
    "encrypted-media",
    "fullscreen",
    "geolocation",
    "gyroscope",
    "hid",
    "idle-detection",
    "magnetometer",
    "microphone",
    "midi",
    "payment",
    "picture-in-picture",
    "screen-wake-lock",
    "serial",
    "sync-xhr",
    "usb",
    "xr-spatial-tracking",
)
"""What no page asks of a browser. A walk's photographs come by a file field, which needs none."""
PERMISSIONS = ", ".join(
    (
        *(f"{feature}=()" for feature in UNUSED),
        "publickey-credentials-create=(self)",
        "publickey-credentials-get=(self)",
    )
)
"""Passkeys are the site's own; everything else is off (W3C, Permissions Policy)."""
HEADERS = {
    "Content-Security-Policy": POLICY,
    "Permissions-Policy": PERMISSIONS,
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Referrer-Policy": "same-origin",
    "X-Content-Type-Options": "nosniff",
}
"""What every answer says (OWASP, HTTP Security Response Headers)."""


def policy_middleware(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Tell browsers to run and load nothing but the site's own files, and to lend them to nobody.

    It stands before all that may answer: files, redirects, refusals and faults say so too.
    """

    def answer(request: HttpRequest) -> HttpResponse:
        response = get_response(request)
        for name, value in HEADERS.items():
            response.headers.setdefault(name, value)
        # A document that a viewer of the browser's own shows, as PDF, is not embedded so.
        if response.headers.get("Content-Type", "").startswith("text/html"):
            response.headers.setdefault("Cross-Origin-Embedder-Policy", "require-corp")
        return response

    return answer


def unkept_middleware(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Let no browser and no proxy keep an answer, unless its view says otherwise.

    Files of the site never come here. What a phone keeps for a walk its worker keeps by itself.
    """

    def answer(request: HttpRequest) -> HttpResponse:
        response = get_response(request)
        response.headers.setdefault("Cache-Control", "no-store, private")
        return response

    return answer


SPOKEN = ("GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS")


def method_middleware(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Answer 405 to a method that nothing here speaks, such as TRACE."""

    def answer(request: HttpRequest) -> HttpResponse:
        if request.method in SPOKEN:
            return get_response(request)
        return HttpResponseNotAllowed(SPOKEN)

    return answer


PROGRAMS = ("/api/", "/metrics")
"""What programs ask. One that comes without TLS is refused: led on in silence, it would go on
sending what it sends for everybody to read."""


def tls_middleware(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Refuse programs that come without TLS where the site is reached by HTTPS."""

    def answer(request: HttpRequest) -> HttpResponse:
        wanted = settings.SECURE_SSL_REDIRECT and request.path.startswith(PROGRAMS)
        if not wanted or request.is_secure():
            return get_response(request)
        problem = {"type": "about:blank", "title": "Forbidden", "status": 403}
        detail = say(NO_TLS())
        kind = "application/problem+json"
        return JsonResponse(problem | {"detail": detail}, status=403, content_type=kind)

    return answer
