"""The site's web server in embedded mode: `python -m config.web ADDRESS`.

One loop reads and writes for all clients and gives whole requests to the threads, so that whoever
sends or reads slowly holds none of them up (waitress). A body that is too large is refused from
its head.
"""

import contextlib
import ctypes
import gc
import json
import resource
import sys
from types import SimpleNamespace
from typing import Any

from waitress import create_server
from waitress.channel import HTTPChannel
from waitress.parser import HTTPRequestParser
from waitress.utilities import RequestEntityTooLarge

from config.bounds import most_of, too_large_words
from config.messages.saying import said

MOST_CLIENTS = 2000
SPARE_FILES = 200
"""Of the files that a process may have open: for the database, uploads and the log."""
IDLE = 60
"""Seconds after which a client who neither sends nor reads is let go."""
READ_AHEAD = 64_000_000
"""Bytes of answers that wait for one slow reader, on disc beyond the first million."""


class TooLarge(RequestEntityTooLarge):
    """A body that is too large, said in words."""

    def __init__(self, most: int, *, program: bool) -> None:
        super().__init__(said(too_large_words(most)))
        self._program = program

    def to_response(self, _ident: str | None = None) -> tuple[str, list[tuple[str, str]], bytes]:
        """Problem details to programs, a sentence to people."""
        status, kind, text = f"{self.code} {self.reason}", "text/plain; charset=utf-8", self.body
        if self._program:
            problem = {"type": "about:blank", "title": self.reason, "status": self.code}
            text, kind = json.dumps(problem | {"detail": self.body}), "application/problem+json"
        return status, [("Content-Type", kind)], text.encode()


class Parser(HTTPRequestParser):
    """Knows how large a body may be once its head is read."""

    adj: Any
    error: Any
    cookie = "sessionid"
    """The session cookie of somebody signed in. The site itself checks whether it is good."""

    def parse_header(self, header_plus: bytes) -> None:
        """Read the head; from then on the body's own bound holds."""
        super().parse_header(header_plus)
        known = "AUTHORIZATION" in self.headers or f"{self.cookie}=" in self.headers.get(
            "COOKIE", ""
        )
        self.most = most_of(self.headers.get("CONTENT_TYPE", ""), known=known)
        names = ("max_request_header_size", "inbuf_overflow", "url_scheme")
        kept = {}
        for name in names:
            kept[name] = getattr(self.adj, name)
        self.adj = SimpleNamespace(**kept, max_request_body_size=self.most + 1)

    def received(self, data: bytes) -> int:
        """Take what came; say in words what is too large."""
        count: int = super().received(data)
        if type(self.error) is RequestEntityTooLarge:
            self.error = TooLarge(self.most, program=self.path.startswith("/api/"))
        return count


def clients() -> int:
    """How many may be connected: as many as there are files for, of those that may be opened."""
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    wanted = MOST_CLIENTS + SPARE_FILES
    if hard != resource.RLIM_INFINITY:
        wanted = min(wanted, hard)
    if soft < wanted:
        with contextlib.suppress(ValueError, OSError):
            resource.setrlimit(resource.RLIMIT_NOFILE, (wanted, hard))
            soft = wanted
    return max(50, min(MOST_CLIENTS, soft - SPARE_FILES))


def few_arenas() -> None:
    """Let threads share their memory (mallopt(3), M_ARENA_MAX): what one gives back others take."""
    with contextlib.suppress(OSError, AttributeError):  # another C library
        ctypes.CDLL("libc.so.6").mallopt(-8, 2)


LARGE = 64_000
"""Bytes of a body after which what it took is given back to the system at once."""


def giving_back(application: Any) -> Any:
    """The application; after a large body memory that is free goes back (malloc_trim(3)).

    Otherwise what a hostile file took stays with the process, scattered over its memory.
    """
    try:
        trim = ctypes.CDLL("libc.so.6").malloc_trim
    except (OSError, AttributeError):  # another C library
        return application

    def answer(environ: dict[str, Any], start: Any) -> Any:
        answered = application(environ, start)
        if int(environ.get("CONTENT_LENGTH") or 0) > LARGE:
            gc.collect()
            trim(0)
        return answered

    return answer


def main(address: str) -> None:
    """Serve until ended."""
    few_arenas()
    from django.conf import settings

    from config.wsgi import application

    HTTPChannel.parser_class = Parser
    Parser.cookie = settings.SESSION_COOKIE_NAME
    server = create_server(
        giving_back(application),
        listen=address,
        threads=settings.ENVIRONMENT.studbay_web_threads,
        connection_limit=clients(),
        channel_timeout=IDLE,
        cleanup_interval=10,
        asyncore_use_poll=True,
        outbuf_high_watermark=READ_AHEAD,
        max_request_header_size=32_768,
        ident="",
        # Whether a proxy's word is taken is for Django to say, by STUDBAY_HTTPS.
        clear_untrusted_proxy_headers=not settings.ENVIRONMENT.https,
    )
    server.run()


if __name__ == "__main__":
    main(sys.argv[1])
