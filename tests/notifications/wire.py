"""A network for one test: a resolver that lies, a server that redirects, and a trap.

Whatever is connected to is written down. The one address of the open network that names lead to is
carried to a server with TLS on loopback; every other is the trap's, and none is really asked.
"""

import socket
import ssl
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import timedelta
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from ipaddress import ip_address
from pathlib import Path
from typing import Any
from unittest.mock import patch

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from django.utils import timezone

OPEN = "93.184.215.14"
NAME = "open.example"


Asked = tuple[str, str, dict[str, str], bytes]
"""How, where, with which headers and with what somebody asked."""


class Answers(BaseHTTPRequestHandler):
    """Keeps what was asked, and answers as the test wants."""

    protocol_version = "HTTP/1.1"
    server: "Server"

    def _answer(self) -> None:
        body = self.rfile.read(int(self.headers["Content-Length"] or 0))
        self.server.asked.append((self.command, self.path, dict(self.headers), body))
        self.server.respond(self)

    def do_POST(self) -> None:
        """Keep one."""
        self._answer()

    def do_PUT(self) -> None:
        """Keep one."""
        self._answer()

    def do_GET(self) -> None:
        """Keep one: a redirect that was followed."""
        self._answer()

    def log_message(self, *_: object) -> None:
        """Say nothing."""


def plainly(handler: Answers) -> None:
    """Answer with the server's status, and where it redirects."""
    handler.send_response(handler.server.status)
    if handler.server.location:
        handler.send_header("Location", handler.server.location)
    handler.send_header("Content-Length", "0")
    handler.end_headers()


class Server(ThreadingHTTPServer):
    """A server on loopback, with what it was asked and what it is to answer."""

    daemon_threads = True

    def __init__(self) -> None:
        super().__init__(("127.0.0.1", 0), Answers)
        self.asked: list[Asked] = []
        self.status, self.location = 200, ""
        self.respond: Callable[[Answers], None] = plainly
        self.url = f"http://127.0.0.1:{self.server_port}"


@contextmanager
def serving(context: ssl.SSLContext | None = None) -> Iterator[Server]:
    """A server on loopback, with TLS where a context is given."""
    with Server() as made:
        if context is not None:
            made.socket = context.wrap_socket(made.socket, server_side=True)
        thread = threading.Thread(target=made.serve_forever, args=(0.05,))
        thread.start()
        yield made
        made.shutdown()
        thread.join()


def certificates(folder: Path, name: str = NAME) -> tuple[ssl.SSLContext, ssl.SSLContext]:
    """A server's context with a certificate for the name, and one that trusts it alone."""
    key = ec.generate_private_key(ec.SECP256R1())
    who = x509.Name([x509.NameAttribute(x509.NameOID.COMMON_NAME, name)])
    now = timezone.now()
    made = (
        x509.CertificateBuilder()
        .subject_name(who)
        .issuer_name(who)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=4000))
        .not_valid_after(now + timedelta(days=4000))
        .add_extension(x509.SubjectAlternativeName([x509.DNSName(name)]), critical=False)
        .add_extension(x509.BasicConstraints(ca=True, path_length=None), critical=True)
        .sign(key, hashes.SHA256())
    )
    path = folder / "server.pem"
    secret = key.private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )
    path.write_bytes(secret + made.public_bytes(serialization.Encoding.PEM))
    server = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    server.load_cert_chain(path)
    return server, ssl.create_default_context(cafile=str(path))


class Wire:
    """What is connected to, and what the resolver says of a name, answer after answer."""

    def __init__(self, port: int) -> None:
        self.port = port
        self.trapped: list[tuple[Any, ...]] = []
        self.carried = 0
        self.answers: list[list[str]] = []
        self._connect, self._look_up = socket.socket.connect, socket.getaddrinfo

    def connect(self, line: socket.socket, address: tuple[Any, ...]) -> None:
        """Carry what goes to the open address; note all else and let it go nowhere."""
        if address[0] == OPEN:
            self.carried += 1
            self._connect(line, ("127.0.0.1", self.port))
            return
        self.trapped.append(address)
        raise ConnectionRefusedError(111, "trapped")

    def look_up(self, host: str, port: int, *given: Any, **named: Any) -> list[Any]:
        """The next answer for a name that the test owns; of anything else, the system's."""
        if host != NAME:
            return self._look_up(host, port, *given, **named)
        now = self.answers.pop(0) if len(self.answers) > 1 else self.answers[0]
        return [_found(each, port) for each in now]


def _found(address: str, port: int) -> tuple[Any, ...]:
    if ip_address(address.partition("%")[0]).version == 4:
        return (socket.AF_INET, socket.SOCK_STREAM, 6, "", (address, port))
    return (socket.AF_INET6, socket.SOCK_STREAM, 6, "", (address, port, 0, 0))


@contextmanager
def wired(port: int, context: Callable[[], ssl.SSLContext]) -> Iterator[Wire]:
    """All that this process connects to, by the wire."""
    wire = Wire(port)

    def connect(line: socket.socket, address: tuple[Any, ...]) -> None:
        wire.connect(line, address)

    with (
        patch.object(socket.socket, "connect", connect),
        patch("socket.getaddrinfo", wire.look_up),
        patch("notifications.channels.client._context", context),
    ):
        yield wire
