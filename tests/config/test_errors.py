"""Errors told to a tracker: they arrive with their ids, and with nothing of persons or secrets."""

import gzip
import json
import threading
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any

import pytest

from config.errors import outgoing_event
from tests.config.test_deploy import manage

SECRETS = (
    "a-link-of-tests-alone",
    "a-session-of-tests",
    "what-somebody-typed",
    "tin-roof",
    "token-of-tests-alone",
    "held-by-a-variable",
    "somebody@studbay.example",
    "203.0.113.9",
    "a-question-in-the-address",
)
SCRIPT = """
import logging
import sentry_sdk
from celery import shared_task
from django.test import Client
from pages.open import cover_links

def broken(secret):
    held = "held-by-" + "a-variable"
    logging.getLogger("studbay").warning("before it broke: %s", held)
    raise RuntimeError("no way to /l/" + secret + " nor to postgresql://u:tin" + "-roof@db/studbay")

@shared_task(name="tests.broken")
def task(secret):
    broken(secret)

cover_links.link_open = broken
secret = "a-link-of-" + "tests-alone"
client = Client(raise_request_exception=False, REMOTE_ADDR="203.0.113" + ".9")
client.cookies["sessionid"] = "a-session-of-" + "tests"
headers = {
    "X-Request-ID": "request-of-tests-1",
    "Authorization": "Bearer token-of-" + "tests-alone",
    "From": "somebody@" + "studbay.example",
}
body = {"note": "what-somebody-" + "typed"}
path = "/l/" + secret + "/seen?q=a-question-" + "in-the-address"
answer = client.post(path, body, headers=headers)
assert answer.status_code == 500, answer.status_code
task.apply(args=[secret])
logging.getLogger("studbay").error("said in a log: %s", "whsec_" + "AAAABBBBCCCC")
sentry_sdk.flush(5)
"""


class Tracker(ThreadingHTTPServer):
    """A tracker on loopback, which keeps what came."""

    def __init__(self) -> None:
        super().__init__(("127.0.0.1", 0), Sink)
        self.came: list[tuple[str, bytes]] = []
        self.dsn = f"http://key-of-tests@127.0.0.1:{self.server_port}/7"


class Sink(BaseHTTPRequestHandler):
    """Takes envelopes, as a tracker does."""

    server: Tracker

    def do_POST(self) -> None:
        """Keep one."""
        body = self.rfile.read(int(self.headers["Content-Length"]))
        if self.headers.get("Content-Encoding") == "gzip":
            body = gzip.decompress(body)
        self.server.came.append((self.path, body))
        self.send_response(200)
        self.end_headers()
        self.wfile.write(b"{}")

    def log_message(self, *_: object) -> None:
        """Say nothing."""


@pytest.fixture
def tracker() -> Iterator[Tracker]:
    """A tracker on loopback."""
    with Tracker() as made:
        thread = threading.Thread(target=made.serve_forever)
        thread.start()
        yield made
        made.shutdown()
        thread.join()


def events(tracker: Tracker) -> list[dict[str, Any]]:
    """What came as events: an envelope has a line for itself, then a head and a body for each."""
    found = []
    for _, body in tracker.came:
        lines = body.decode().splitlines()
        for head, item in zip(lines[1::2], lines[2::2], strict=False):
            if json.loads(head)["type"] == "event":
                found.append(json.loads(item))
    return found


def run(**variables: str) -> None:
    done = manage("shell", "-v0", "-c", SCRIPT, ALLOWED_HOSTS="testserver", **variables)
    assert done.returncode == 0, done.stderr


def test_an_error_arrives_with_its_request_and_nothing_of_who_asked_what(tracker) -> None:
    run(STUDBAY_ERRORS_DSN=tracker.dsn)
    assert {path for path, _ in tracker.came} == {"/api/7/envelope/"}
    page, task, logged = events(tracker)
    said = page["exception"]["values"][-1]
    assert said["type"] == "RuntimeError"
    assert said["value"] == "no way to /l/… nor to postgresql://u:…@db/studbay"
    assert any(each["function"] == "acknowledge" for each in said["stacktrace"]["frames"])
    assert page["tags"] == {"request": "request-of-tests-1"}
    assert task["tags"]["task"] == "tests.broken"
    assert task["tags"]["task_id"]
    assert logged["logentry"]["formatted"] == "said in a log: whsec_…"
    for each in (page, task, logged):
        assert not {"request", "user", "breadcrumbs", "extra", "contexts", "modules"} & set(each)
    for _, body in tracker.came:
        for secret in SECRETS:
            assert secret.encode() not in body, secret
        assert b"AAAABBBBCCCC" not in body


def test_nothing_is_told_unless_it_is_set(tracker) -> None:
    run()
    assert tracker.came == []


def test_whatever_else_the_library_gathers_is_left_out() -> None:
    frame = {"function": "f", "lineno": 3, "vars": {"secret": "x"}}
    given = {
        "level": "error",
        "exception": {"values": [{"type": "E", "stacktrace": {"frames": [frame]}}]},
        "request": {"data": "x"},
        "user": {"id": 1},
        "something_new": {"secret": "x"},
        "server_name": "x",
    }
    kept = outgoing_event(given, {})
    assert set(kept) == {"level", "exception", "tags"}
    assert kept["exception"]["values"][0]["stacktrace"]["frames"] == [
        {"function": "f", "lineno": 3}
    ]
