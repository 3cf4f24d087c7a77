"""Traces that arrive at a collector: requests, their statements and tasks, in one trace, without
addresses or values."""

import json
from typing import Any

import pytest
from opentelemetry.proto.collector.trace.v1.trace_service_pb2 import ExportTraceServiceRequest

from tests.config.test_deploy import manage
from tests.config.test_errors import tracker  # noqa: F401  a fixture

SCRIPT = """
import time
from celery import shared_task
from celery.contrib.testing.worker import start_worker
from django.db import connection
from django.test import Client
from config.celery import app
from pages.open import cover_links

app.conf.update(broker_url="memory://", task_always_eager=False)
secret = "a-link-of-" + "tests-alone"

@shared_task(name="tests.asks")
def asks(given):
    with connection.cursor() as cursor:
        cursor.execute("SELECT %s AS held FROM sqlite_master", [given])

@shared_task(name="tests.breaks")
def breaks(given):
    raise RuntimeError("no way to " + given)

def asked(token):
    asks.delay(token)
    breaks.delay(token)
    with connection.cursor() as cursor:
        cursor.execute("SELECT 'a-value-' || %s", [token])
    raise cover_links.NoPaper

cover_links.paper_of = asked
with start_worker(app, perform_ping_check=False, pool="solo", concurrency=1):
    client = Client(raise_request_exception=False)
    headers = {"X-Request-ID": "request-of-tests-1"}
    answer = client.get(f"/paper/{secret}/?q=a-question", headers=headers)
    assert answer.status_code == 404, answer.status_code
    def fails(*_, **__):
        raise RuntimeError(secret)
    cover_links.paper_of = fails
    assert client.get(f"/paper/{secret}/").status_code == 500
    until = time.monotonic() + 20
    while time.monotonic() < until and len(done) < 2:
        time.sleep(0.05)
from opentelemetry import trace
getattr(trace.get_tracer_provider(), "shutdown", lambda: None)()
"""
WAITS = """
from celery.signals import task_postrun
done = []
@task_postrun.connect(weak=False)
def note(task_id, **_):
    done.append(task_id)
"""


def run(**variables: str) -> None:
    script = WAITS + SCRIPT
    done = manage("shell", "-v0", "-c", script, ALLOWED_HOSTS="testserver", **variables)
    assert done.returncode == 0, done.stderr


def spans(tracker) -> list[Any]:  # noqa: F811
    """Every span that came."""
    found = []
    for _, body in tracker.came:
        asked = ExportTraceServiceRequest.FromString(body)
        for resource in asked.resource_spans:
            for scope in resource.scope_spans:
                found += scope.spans
    return found


def attributes(span) -> dict[str, Any]:
    return {each.key: each.value.string_value or each.value.int_value for each in span.attributes}


def test_a_request_its_statements_and_its_tasks_are_one_trace(tracker) -> None:  # noqa: F811
    run(STUDBAY_TRACES_URL=f"http://127.0.0.1:{tracker.server_port}/v1/traces")
    assert {path for path, _ in tracker.came} == {"/v1/traces"}
    found = spans(tracker)
    pages = [each for each in found if each.name == "GET paper"]
    known = [attributes(each) for each in pages]
    assert [each["http.response.status_code"] for each in known] == [404, 500]
    assert known[0]["studbay.request"] == "request-of-tests-1"
    assert known[0]["http.route"] == "paper/<str:token>/"
    assert [each.status.code for each in pages] == [0, 2]
    (asks,) = (each for each in found if each.name == "tests.asks")
    (breaks,) = (each for each in found if each.name == "tests.breaks")
    assert asks.trace_id == breaks.trace_id == pages[0].trace_id != pages[1].trace_id
    assert asks.parent_span_id == breaks.parent_span_id == pages[0].span_id
    assert (breaks.status.code, breaks.status.message) == (2, "RuntimeError")
    (in_page,) = (each for each in found if each.name == "SELECT")
    (in_task,) = (each for each in found if each.name == "SELECT sqlite_master")
    assert in_page.parent_span_id == pages[0].span_id
    assert in_task.parent_span_id == asks.span_id
    for _, body in tracker.came:
        for secret in (b"a-link-of-tests-alone", b"a-question", b"a-value-", b"held"):
            assert secret not in body, secret


def test_nothing_is_told_unless_it_is_set(tracker) -> None:  # noqa: F811
    run()
    assert tracker.came == []


@pytest.mark.parametrize("share", ["0", "1.5", "all"])
def test_a_share_that_is_none_is_refused(share) -> None:
    done = manage("check", STUDBAY_TRACES_SHARE=share)
    assert done.returncode == 2
    assert done.stderr.startswith("STUDBAY_TRACES_SHARE: ")


def test_without_the_library_it_says_what_to_install() -> None:
    hide = "import sys; sys.modules['opentelemetry'] = None; " + (
        "from config.environment import read_environment as read; "
        "from config.traces import watch_time as watch; "
        "watch(read({'STUDBAY_TRACES_URL': 'http://127.0.0.1:1/v1/traces'}))"
    )
    done = manage("shell", "-v0", "-c", hide)
    assert "needs `pip install -r requirements-traces.txt`" in done.stderr
    assert json.dumps(done.stdout) == '""'
