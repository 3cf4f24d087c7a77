"""Bodies are bounded by who sends them, before any of them is read."""

import http.client
import json
import subprocess
import sys
from collections.abc import Iterator
from typing import Any

import pytest
from django.test import Client

from config.bounds import ANONYMOUS, FILES, TEXT
from tests.config.test_slow import ROOT, awaited, surroundings
from tests.servers import free_port

FORM = "application/x-www-form-urlencoded"


class Unread:
    """A body that nobody may read."""

    def read(self, *_: object) -> bytes:
        """Say that somebody did."""
        raise AssertionError("it was read")

    readline = read


def sent(client: Client, path: str, size: int, kind: str = FORM, **headers: str):
    given: dict[str, Any] = {
        "CONTENT_LENGTH": str(size),
        "CONTENT_TYPE": kind,
        "wsgi.input": Unread(),
    }
    return client.generic("POST", path, b"", headers=headers, **given)


@pytest.mark.django_db
@pytest.mark.parametrize("path", ["/sign-in/", "/api/jobs", "/join/none", "/nowhere/"])
def test_whoever_has_not_signed_in_sends_little(path) -> None:
    answer = sent(Client(), path, ANONYMOUS + 1)
    assert answer.status_code == 413
    said = answer.text if not path.startswith("/api/") else answer.json()["detail"]
    assert "without signing in" in said


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("kind", "most"),
    [(FORM, TEXT), ("application/json", TEXT), ("multipart/form-data; boundary=x", FILES)],
)
def test_whoever_has_signed_in_sends_more_but_not_without_end(client, shop, kind, most) -> None:
    client.force_login(shop.office)
    for path in ("/jobs/new/", "/api/jobs"):
        answer = sent(client, path, most + 1, kind)
        assert answer.status_code == 413
        assert f"{most // 1_000_000} MB" in (answer.text or json.dumps(answer.json()))


@pytest.mark.django_db
def test_a_token_that_is_none_is_refused_before_the_body_is_read(client) -> None:
    answer = sent(client, "/api/jobs", TEXT, "application/json", Authorization="Bearer none")
    assert answer.status_code == 401


@pytest.fixture
def served(tmp_path) -> Iterator[int]:
    """The web process of embedded mode; no page here needs tables."""
    port = free_port()
    environment = surroundings(tmp_path, STUDBAY_LISTEN=f"127.0.0.1:{port}")
    command = [sys.executable, "-m", "config.web", f"127.0.0.1:{port}"]
    with subprocess.Popen(command, cwd=ROOT, env=environment) as process:
        try:
            awaited(port, process)
            yield port
        finally:
            process.terminate()


@pytest.mark.any_database
def test_the_embedded_server_refuses_from_the_head(served) -> None:
    """RFC 9110, 15.5.14: nothing of the body was sent when the answer comes."""
    for path, headers, said in (
        ("/sign-in/", {"Content-Length": "200000000"}, "without signing in"),
        ("/sign-in/", {"Content-Length": "64001"}, "without signing in"),
        ("/api/jobs", {"Content-Length": "200000000"}, "without signing in"),
        ("/", {"Content-Length": "25000001", "Cookie": "sessionid=a"}, "5 MB"),
        ("/api/jobs", {"Content-Length": "5000001", "Authorization": "Bearer a"}, "5 MB"),
    ):
        line = http.client.HTTPConnection("127.0.0.1", served, timeout=20)
        line.putrequest("POST", path)
        for name, value in headers.items():
            line.putheader(name, value)
        line.endheaders()
        answer = line.getresponse()
        assert answer.status == 413
        assert answer.getheader("Server") is None
        assert said in answer.read().decode()
        line.close()


@pytest.mark.any_database
def test_what_comes_in_chunks_is_bounded_as_it_comes(served) -> None:
    line = http.client.HTTPConnection("127.0.0.1", served, timeout=20)
    line.putrequest("POST", "/sign-in/")
    line.putheader("Transfer-Encoding", "chunked")
    line.endheaders()
    try:
        for _ in range(300):
            line.send(b"1000\r\n" + b"x" * 4096 + b"\r\n")
        answer = line.getresponse()
        assert answer.status == 413
    except (BrokenPipeError, ConnectionResetError):  # it hung up on what it does not want
        pass
    finally:
        line.close()
