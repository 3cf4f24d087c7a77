"""Requests that leave: a hostile resolver and redirecting servers against every gateway.

The ways are those of OWASP's Server-Side Request Forgery Prevention; the addresses those of IANA's
special-purpose registries (RFC 6890), written as RFC 4291, RFC 6052 and the system's resolver take
them.
"""

import contextlib
import itertools
import random
import socket
import threading
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from unittest.mock import patch
from urllib.parse import urlsplit

import pytest
from django.core.exceptions import ImproperlyConfigured
from django.utils import timezone

from config.environment import read_environment
from jobs.models import Person
from notifications.channels import client
from notifications.channels.base import DeliveryRefused, Later
from notifications.channels.client import Request, send_request
from notifications.channels.gateways import OFFERED, notify
from notifications.channels.webhook import WHO, WebhookSender
from notifications.models import Address, Delivery, Gateway, Notice
from notifications.services.wishes import webhook_secret
from tests.notifications.wire import NAME, OPEN, Server, Wire, certificates, serving, wired

SPELLED = (
    "127.0.0.1",
    "127.1",
    "2130706433",
    "0177.0.0.1",
    "0x7f000001",
    "0x7f.0.0.1",
    "0",
    "0.0.0.0",
    "127.0.0.1.",
    "①②⑦.0.0.1",
    "localhost",
    "10.0.0.8",
    "172.16.0.1",
    "192.168.1.1",
    "169.254.169.254",
    "100.64.0.1",
    "198.18.0.1",
    "224.0.0.1",
    "255.255.255.255",
    "[::1]",
    "[::]",
    "[::ffff:127.0.0.1]",
    "[::ffff:a00:8]",
    "[::127.0.0.1]",
    "[64:ff9b::7f00:1]",
    "[2002:7f00:1::]",
    "[fd00::8]",
    "[fe80::1]",
    "[fe80::1%lo]",
    "[fec0::1]",
    "[ff02::1]",
    f"{NAME}@127.0.0.1",
    f"{NAME}#@127.0.0.1",
    f"{NAME}\\@127.0.0.1",
    "127.0.0.1:99999",
)
"""Hosts that lead into the server's own network, as somebody may write them."""

LIES: tuple[list[list[str]], ...] = (
    [["127.0.0.1"]],
    [["10.0.0.8"]],
    [["::1"]],
    [["::ffff:127.0.0.1"]],
    [["64:ff9b::a9fe:a9fe"]],
    [["2002:a00:8::"]],
    [["fe80::1%lo"]],
    [[OPEN, "127.0.0.1"]],
    [["127.0.0.1", OPEN]],
    [[OPEN, "::1"]],
    [[OPEN], ["127.0.0.1"]],  # the second answer differs
    [[OPEN], ["::1"], [OPEN]],
    [[OPEN], [OPEN], ["169.254.169.254"]],
    [[]],
)
"""What a resolver says of a name, answer after answer."""

REDIRECTS = (301, 302, 303, 307, 308)

Try = tuple[str, str, list[list[str]], int, str]
"""Kind, address, the resolver's answers, what the open server says, and where it redirects."""


def tries() -> Iterator[Try]:
    """Every kind against every spelling, every lie, and every redirect to every spelling."""
    for kind in (*OFFERED, "webhook"):
        for spelled, scheme in itertools.product(SPELLED, ("https", "http")):
            yield kind, f"{scheme}://{spelled}/{{to}}", [[OPEN]], 200, ""
        for lie in LIES:
            yield kind, f"https://{NAME}/{{to}}", lie, 200, ""
        for status, spelled in itertools.product(REDIRECTS, SPELLED):
            yield kind, f"https://{NAME}/{{to}}", [[OPEN]], status, f"http://{spelled}/"


def send(kind: str, url: str) -> None:
    """A message by that kind to that address, whatever was refused when it was entered."""
    if kind != "webhook":
        given = {"account": "us", "secret": "s", "sender": "+15550100"}
        notify(Gateway(kind=kind, url=url, **given), "room", "Lot 15: do not cover.", "1")
        return
    target = Address(target=url.replace("{to}", "hook"), secret=webhook_secret())
    delivery = Delivery(address=target, person=Person(username="us"))
    now = timezone.now()
    notice = Notice(urgent=False, text="", body=[], due_at=now, given_at=now)
    WebhookSender().send(delivery, [notice])


@pytest.fixture(scope="module")
def tls(tmp_path_factory):
    """Contexts of a server and of a client that trusts it."""
    return certificates(tmp_path_factory.mktemp("tls"))


@pytest.fixture
def wire(tls) -> Iterator[tuple[Wire, Server]]:
    """The wire, and the server that the open address leads to."""
    with serving(tls[0]) as server, wired(server.server_port, lambda: tls[1]) as made:
        yield made, server


def tried(wire: Wire, server: Server, each: Try, by: Callable[[str, str], None]) -> str:
    """Play one; what became of it."""
    kind, url, wire.answers, server.status, server.location = each
    wire.answers = [list(answer) for answer in wire.answers]
    try:
        by(kind, url)
    except (DeliveryRefused, Later) as fault:
        return type(fault).__name__
    return "sent"


@pytest.mark.any_database
def test_no_gateway_asks_anything_of_a_forbidden_network(wire, whole) -> None:
    every = list(tries())
    played = every if whole else random.Random(21).sample(every, 500)
    assert len(played) >= 500
    made, server = wire
    told = [tried(made, server, each, send) for each in played]
    assert made.trapped == []
    # The open server was asked all the same: what was refused was refused for what it is.
    assert made.carried > 100
    assert told.count("DeliveryRefused") > 300
    pinned = [said for each, said in zip(played, told, strict=True) if each[2][0] == [OPEN]]
    assert len(pinned) > 400


@pytest.mark.any_database
def test_the_trap_catches_a_client_that_looks_up_again_and_follows(tls, wire) -> None:
    def naive(_kind: str, url: str) -> None:
        asked = urllib.request.Request(url.replace("{to}", "1"), b"", method="POST")
        with contextlib.suppress(urllib.error.URLError, ValueError, OSError):
            secure = urllib.request.HTTPSHandler(context=tls[1])
            urllib.request.build_opener(secure).open(asked, timeout=2)

    made, server = wire
    for spelled in ("127.0.0.1", "2130706433", "[::1]"):
        tried(made, server, ("", f"http://{spelled}/{{to}}", [[OPEN]], 200, ""), naive)
    tried(made, server, ("", f"https://{NAME}/{{to}}", [["127.0.0.1"]], 200, ""), naive)
    tried(made, server, ("", f"https://{NAME}/{{to}}", [[OPEN]], 302, "http://127.0.0.1/"), naive)
    assert len(made.trapped) == 5
    assert made.carried == 1


@pytest.mark.any_database
def test_the_certificate_is_for_the_name(tls, wire) -> None:
    made, server = wire
    made.answers = [[OPEN]]
    assert send_request(Request(f"https://{NAME}/", b""), WHO) == 200
    with patch("tests.notifications.wire.NAME", "other.example"), pytest.raises(Later):
        send_request(Request("https://other.example/", b""), WHO)
    assert len(server.asked) == 1


@pytest.mark.any_database
@pytest.mark.parametrize("scheme", ["mailto", "syslog", "json", "tcp", "file", "gopher", "smtp"])
def test_other_schemes_are_refused_in_words(scheme, wire) -> None:
    with pytest.raises(DeliveryRefused, match="must begin with https://"):
        send("chat", f"{scheme}://{NAME}/?smtp=127.0.0.1")
    assert wire[0].trapped == []


def dripping(line: socket.socket) -> None:
    """A byte of a header, again and again."""
    with contextlib.suppress(OSError):
        line.recv(4096)
        line.sendall(b"HTTP/1.1 200 OK\r\nX-Slow: ")
        while True:
            line.sendall(b"x")
            time.sleep(0.05)


def pouring(line: socket.socket) -> None:
    """Header after header, without an end."""
    with contextlib.suppress(OSError):
        line.recv(4096)
        line.sendall(b"HTTP/1.1 200 OK\r\n")
        while True:
            line.sendall(b"X-More: " + b"x" * 30_000 + b"\r\n")


def silent(line: socket.socket) -> None:
    """Nothing at all."""
    with contextlib.suppress(OSError):
        while line.recv(4096):
            pass


@contextlib.contextmanager
def answering(how: Callable[[socket.socket], None]) -> Iterator[str]:
    """A server on loopback that treats each connection so."""
    with socket.create_server(("127.0.0.1", 0)) as listening:
        ended = threading.Event()

        def take() -> None:
            while not ended.is_set():
                with contextlib.suppress(OSError):
                    line, _ = listening.accept()
                    lines.append(line)
                    threading.Thread(target=how, args=(line,), daemon=True).start()

        lines: list[socket.socket] = []
        thread = threading.Thread(target=take, daemon=True)
        thread.start()
        yield f"http://127.0.0.1:{listening.getsockname()[1]}/"
        ended.set()
        listening.shutdown(socket.SHUT_RDWR)
        for line in lines:
            line.close()


@pytest.mark.any_database
@pytest.mark.parametrize("how", [dripping, pouring, silent])
def test_time_and_bytes_have_bounds(how, monkeypatch, own_network) -> None:
    monkeypatch.setattr(client, "TIMEOUT", 0.6)
    began = time.monotonic()
    with answering(how) as url, pytest.raises(Later, match="does not answer"):
        send_request(Request(url, b"x"), WHO)
    assert time.monotonic() - began < 2


@pytest.mark.any_database
def test_a_resolver_that_hangs_holds_nobody(monkeypatch) -> None:
    monkeypatch.setattr(client, "TIMEOUT", 0.3)

    def hanging(*_: object, **__: object) -> list[object]:
        time.sleep(2)
        return []

    monkeypatch.setattr("socket.getaddrinfo", hanging)
    began = time.monotonic()
    with pytest.raises(Later, match="resolver does not answer"):
        send_request(Request("https://open.example/", b"x"), WHO)
    assert time.monotonic() - began < 1.5


@pytest.mark.any_database
@pytest.mark.parametrize(
    "url",
    ["https://", "https://[::1", "https://a:b/", "https://a b/", f"https://{NAME}/é", "//host/"],
)
def test_an_address_that_is_none_is_refused(url, wire) -> None:
    wire[0].answers = [[OPEN]]
    with pytest.raises((DeliveryRefused, Later)):
        send_request(Request(url, b"x"), WHO)
    assert wire[0].trapped == []


def test_whoever_runs_the_server_says_which_networks(own_network) -> None:
    with serving() as server:
        assert send_request(Request(server.url, b"x"), WHO) == 200
        assert urlsplit(server.url).scheme == "http"
    with pytest.raises(DeliveryRefused, match="private network"):
        send_request(Request("http://10.0.0.8/", b"x"), WHO)


def test_where_hosts_are_listed_no_other_is_asked_nor_looked_up(settings, monkeypatch) -> None:
    """OWASP ASVS 5.0.0, 13.2.4."""
    listed = read_environment({"STUDBAY_HOSTS_OUT": "Hooks.example, sms.example.net"})
    assert listed.studbay_hosts_out == ["hooks.example", "sms.example.net"]
    given = {"studbay_hosts_out": listed.studbay_hosts_out}
    settings.ENVIRONMENT = settings.ENVIRONMENT.model_copy(update=given)
    looked: list[str] = []

    def places(host: str, *_: object) -> list[object]:
        looked.append(host)
        raise Later("looked up")

    monkeypatch.setattr("notifications.channels.client.resolve", places)
    for host in ("elsewhere.example", "nothooks.example", "hooks.example.elsewhere.test"):
        with pytest.raises(DeliveryRefused, match="not on the site's list"):
            send_request(Request(f"https://{host}/", b"x"), WHO)
    assert looked == []
    for host in ("hooks.example", "a.hooks.example", "sms.example.net."):
        with pytest.raises(Later, match="looked up"):
            send_request(Request(f"https://{host}/", b"x"), WHO)
    assert len(looked) == 3


def test_a_list_of_hosts_that_is_none_stops_the_start() -> None:
    with pytest.raises(ImproperlyConfigured, match="STUDBAY_HOSTS_OUT: must be hosts"):
        read_environment({"STUDBAY_HOSTS_OUT": "https://hooks.example/x"})
