"""How much one request may bring, asked before any of it is kept.

Whoever has not signed in sends forms and no files. What somebody sends by a form or as JSON is read
into memory, so it is less than a file, which goes to disc.
"""

from collections.abc import Callable
from threading import RLock

from django.http import HttpRequest, HttpResponse

from config.fault_messages import TOO_MUCH, TOO_MUCH_UNKNOWN
from config.messages.message import Text

ANONYMOUS = 64_000
"""Bytes of a body from whoever shows neither a session nor a token."""
TEXT = 5_000_000
"""Bytes of JSON or of a form's fields; a large house has under a million."""
FILES = 25_000_000
"""Bytes of a body with files in it."""
HEAVY = 250_000
"""Bytes above which a text waits for its turn: reading it takes many times its size in memory."""
TURN = RLock()
"""What is read here into memory is read one after another in a process; it is done in seconds."""
PARTS = 10
"""Files in one body; no form has more than one field for them."""


def most_of(content_type: str, *, known: bool) -> int:
    """The bytes that a body may have."""
    if not known:
        return ANONYMOUS
    if content_type.lower().startswith("multipart/"):
        return FILES
    return TEXT


def too_large_words(most: int) -> Text:
    """What is said of a body that has more."""
    if most == ANONYMOUS:
        return TOO_MUCH_UNKNOWN(most=most // 1_000)
    return TOO_MUCH(most=most // 1_000_000)


def bounds_middleware(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Answer 413 in words to a body that is too large, before any of it is read.

    A token is looked at by the view, which does so before it reads.
    """
    from config.faults import in_words

    def answer(request: HttpRequest) -> HttpResponse:
        length = request.META.get("CONTENT_LENGTH") or "0"
        size = 0
        if length.isdecimal():
            size = int(length)
        if size > ANONYMOUS:
            most = most_of(request.content_type or "", known=_known(request))
            if size > most:
                return in_words(request, 413, too_large_words(most))
        if size > HEAVY and not _with_files(request):
            with TURN:
                return get_response(request)
        return get_response(request)

    return answer


def _with_files(request: HttpRequest) -> bool:
    """Files go to disc as they come, and are opened elsewhere; house files take the turn later."""
    return (request.content_type or "").startswith("multipart/")


def _known(request: HttpRequest) -> bool:
    if request.path.startswith("/api/") and "Authorization" in request.headers:
        return True
    return request.user.is_authenticated
