"""The one client for what leaves: webhooks and gateways ask by it, and by nothing else.

A name is looked up once and the connection goes to what was found; no redirect is followed, no
proxy of the surroundings asked; time and bytes have bounds (OWASP, Server-Side Request Forgery
Prevention).
"""

import contextlib
import http.client
import io
import re
import socket
import ssl
import time
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from urllib.parse import SplitResult, urlsplit

from django.conf import settings

from config.messages.message import Text
from notifications.messages import sending

from .base import DeliveryRefused, Later
from .network import ResolvedAddress, resolve

TIMEOUT = 10.0
"""Seconds for all of it: the name, the connection, what is sent and what is answered."""
MOST_BYTES = 65_536
"""Of an answer, its head among them; nothing but its status is used."""
RETRY_ANYWAY = (408, 425, 429)
NOT_IN_AN_ADDRESS = re.compile(r"[\x00-\x20\x7f\\]")


@dataclass(frozen=True, slots=True)
class Request:
    """A request to somebody else's server."""

    url: str
    body: bytes
    headers: Mapping[str, str] = field(default_factory=dict)
    method: str = "POST"


def send_request(request: Request, who: Text) -> int:
    """The status that the other side answers.

    Raises Refused for an address that may not be asked, Later when there was no answer. `who` is
    what the words of a fault call the other side: nothing else of the address is told, since it
    may hold secrets.
    """
    until = time.monotonic() + TIMEOUT
    parts, port = _parts(request.url, who)
    host = parts.hostname or ""
    _refuse_unlisted(host, who)
    found = resolve(host, port, TIMEOUT)
    if parts.scheme != "https" and not all(place.own for place in found):
        raise DeliveryRefused(sending.NOT_SECURE(who=who))
    try:
        with contextlib.ExitStack() as opened:
            line = opened.enter_context(_connected(found, until))
            if parts.scheme == "https":
                wrapped = _context().wrap_socket(line, server_hostname=host)
                line = opened.enter_context(wrapped)
            return _status(_Asking(host, port, _Line(line, until)), parts, request)
    except (OSError, http.client.HTTPException) as error:
        answer = str(error) or type(error).__name__
        raise Later(sending.SILENT(host=host, answer=answer)) from None
    except ValueError as error:  # a header or an address that no request may hold
        raise DeliveryRefused(sending.UNFIT(who=who, answer=type(error).__name__)) from None


def _refuse_unlisted(host: str, who: Text) -> None:
    """Refuse a host that is not on the server's list, if it has one, before any lookup."""
    listed = settings.ENVIRONMENT.studbay_hosts_out
    name = host.lower().rstrip(".")
    if listed and not any(name == each or name.endswith(f".{each}") for each in listed):
        raise DeliveryRefused(sending.UNLISTED(who=who))


def status_taken(status: int, who: Text) -> None:
    """Take a status for a yes, or raise what it means. A redirect is no yes."""
    if 300 <= status < 500 and status not in RETRY_ANYWAY:
        raise DeliveryRefused(sending.STATUS(who=who, code=str(status)))
    if not 200 <= status < 300:
        raise Later(sending.STATUS(who=who, code=str(status)))


def _parts(url: str, who: Text) -> tuple[SplitResult, int]:
    try:
        parts = urlsplit(url)
        port = parts.port
    except ValueError:
        raise DeliveryRefused(sending.UNREADABLE(who=who)) from None
    if parts.scheme not in ("https", "http"):
        raise DeliveryRefused(sending.NOT_HTTPS(who=who))
    if not parts.hostname:
        raise DeliveryRefused(sending.NO_HOST(who=who))
    if NOT_IN_AN_ADDRESS.search(url):
        raise DeliveryRefused(sending.UNREADABLE(who=who))
    return parts, port or (443 if parts.scheme == "https" else 80)


def _connected(found: list[ResolvedAddress], until: float) -> socket.socket:
    """A connection to the first of the places that takes one."""
    fault: OSError = TimeoutError("timed out")
    for number, place in enumerate(found):
        share = (until - time.monotonic()) / (len(found) - number)
        if share <= 0:
            break
        line = socket.socket(place.family, socket.SOCK_STREAM)
        try:
            line.settimeout(share)
            line.connect(place.address)
        except OSError as error:
            line.close()
            fault = error
        else:
            line.settimeout(max(0.001, until - time.monotonic()))  # the handshake's
            return line
    raise fault


@cache
def _context() -> ssl.SSLContext:
    """The certificate must be for the name, whatever the address."""
    return ssl.create_default_context()


def _status(connection: "_Asking", parts: SplitResult, request: Request) -> int:
    path = (parts.path or "/") + (f"?{parts.query}" if parts.query else "")
    connection.request(
        request.method, path, request.body, {"User-Agent": "Studbay", **request.headers}
    )
    answer = connection.getresponse()
    with contextlib.suppress(OSError, http.client.HTTPException):  # it has said its yes or no
        answer.read(1024)
    return answer.status


class _Asking(http.client.HTTPConnection):
    """A request over a line that is open already."""

    def __init__(self, host: str, port: int, line: "_Line") -> None:
        super().__init__(host, port)
        self.sock = line

    def connect(self) -> None:
        """There is one connection, and no other is made."""
        raise http.client.NotConnected


class _Line:
    """A connection with one deadline and one measure for all that comes, as `http.client` uses it.

    A timeout of the socket alone is for each read: whoever sends a byte every nine seconds would
    hold a worker for as long as he likes.
    """

    def __init__(self, line: socket.socket, until: float) -> None:
        self._line, self._until, self._left = line, until, MOST_BYTES

    def _in_time(self) -> None:
        left = self._until - time.monotonic()
        if left <= 0:
            raise TimeoutError("timed out")
        self._line.settimeout(left)

    def sendall(self, data: bytes) -> None:
        """Send, within what is left of the time."""
        self._in_time()
        self._line.sendall(data)

    def receive(self, buffer: memoryview) -> int:
        """Read what has come, within what is left of the time and of the bytes."""
        self._in_time()
        count = self._line.recv_into(buffer)
        self._left -= count
        if self._left < 0:
            raise OSError("it answers more than is read")
        return count

    def makefile(self, _mode: str) -> io.BufferedReader:
        """What comes, as a file."""
        return io.BufferedReader(_Coming(self))

    def close(self) -> None:
        """Whoever opened the connection closes it: what has come may be unread still."""


class _Coming(io.RawIOBase):
    """What comes over a line."""

    def __init__(self, line: _Line) -> None:
        super().__init__()
        self._line = line

    def readable(self) -> bool:
        """It is."""
        return True

    # Whoever reads here gives a memoryview; a mapping of a file is never given.
    def readinto(self, buffer: memoryview) -> int:  # type: ignore[override]
        """Some of it."""
        return self._line.receive(buffer)
