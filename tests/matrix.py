"""Who gets in where: every address and method of the site, called by each kind of caller.

What is asked is whether the door opens: a body that will not do is past it. What a service then
refuses to whom, each service's own tests try.
"""

import copy
import re
from collections.abc import Iterator
from typing import Any

from django.contrib.messages import get_messages
from django.db import transaction
from django.http.response import HttpResponseBase
from django.test import Client
from django.urls import get_resolver

CALLERS = {
    "n": "nobody",
    "o": "office",
    "l": "crew lead",
    "m": "crew member",
    "b": "builder",
    "x": "office of another shop",
    "e": "holder of a link or invitation that ran out or was withdrawn",
}
METHODS = ("GET", "POST", "PUT", "PATCH", "DELETE")
OUT = (401, 403, 404, 405, 410)


def addresses() -> Iterator[tuple[str, str]]:
    """The name of every address with its pattern, parameters in angle brackets."""
    yield from _walk(get_resolver().url_patterns, "/")


def _walk(patterns: list[Any], before: str) -> Iterator[tuple[str, str]]:
    for each in patterns:
        here = before + str(each.pattern)
        if hasattr(each, "url_patterns"):
            yield from _walk(each.url_patterns, here)
        else:
            yield each.name, here


def filled(pattern: str, ids: dict[str, Any]) -> str:
    """A pattern with the ids of one shop's things in place of its parameters."""
    return re.sub(r"<\w+:(\w+)>", lambda found: str(ids[found.group(1)]), pattern)


def gets_in(client: Client, method: str, path: str, form: dict[str, Any] | None = None) -> bool:
    """Whether a call gets past the door; what it would have changed is undone.

    A body that will not do, or a refusal as things stand, is past the door. An answer of a server
    that failed says nothing about the door, and fails whoever asks. `form` is sent where an
    address is found by what a form names.
    """
    cookies = copy.deepcopy(client.cookies)
    with transaction.atomic():
        if form is None:
            answer = client.generic(method, path, b"{}", content_type="application/json")
        else:
            answer = client.post(path, form)
        for part in getattr(answer, "streaming_content", ()):
            assert part is not None
        transaction.set_rollback(True)
    assert answer.status_code < 500, f"{method} {path} answers {answer.status_code}"
    well_told(answer)
    client.cookies = cookies
    refused = any("can do this" in str(each) for each in get_messages(answer.wsgi_request))
    to_sign_in = answer.status_code == 302 and answer.headers["Location"].startswith("/sign-in/")
    return answer.status_code not in OUT and not to_sign_in and not refused


def well_told(answer: HttpResponseBase) -> None:
    """Whatever is answered says what it is, and that nobody keeps or guesses it.

    OWASP ASVS 5.0.0: 3.2.1, 3.4.3 to 3.4.6, 4.1.1, 14.3.2.
    """
    told = answer.headers
    kind = told.get("Content-Type", "")
    if kind.startswith("text/") or kind.partition(";")[0].endswith("xml"):
        assert "charset=utf-8" in kind, kind
    assert told["X-Content-Type-Options"] == "nosniff"
    assert told["Referrer-Policy"] == "same-origin"
    assert "frame-ancestors 'none'" in told["Content-Security-Policy"]
    assert "no-store" in told["Cache-Control"] or kind.startswith("text/javascript")
