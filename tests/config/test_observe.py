"""What an operator sees: ids in lines and answers, counts for Prometheus, readiness."""

import errno
import json
import logging

import pytest
from django.db import OperationalError
from django.test import Client

from config.observe import JsonLines, request_id

pytestmark = pytest.mark.django_db


def test_a_request_has_an_id_its_own_or_a_new_one(client) -> None:
    kept = client.get("/healthy", headers={"X-Request-ID": "abc-123-def"})
    assert kept.headers["X-Request-ID"] == "abc-123-def"
    for bad in ("short", "x" * 65, "a b c d e f", "<script>"):
        given = client.get("/healthy", headers={"X-Request-ID": bad}).headers["X-Request-ID"]
        assert given != bad
        assert len(given) == 32


def test_a_line_is_json_with_its_ids() -> None:
    record = logging.LogRecord("studbay", logging.WARNING, "f", 1, "job %s waits", ("j1",), None)
    mark = request_id.set("abc-123-def")
    try:
        line = json.loads(JsonLines().format(record))
    finally:
        request_id.reset(mark)
    assert line["says"] == "job j1 waits"
    assert line["level"] == "warning"
    assert line["request"] == "abc-123-def"
    assert "request" not in json.loads(JsonLines().format(record))


def test_counts_are_for_whoever_has_the_token(client, settings, shop) -> None:
    assert client.get("/metrics").status_code == 404
    token = {"studbay_metrics_token": "let-me-count"}
    settings.ENVIRONMENT = settings.ENVIRONMENT.model_copy(update=token)
    assert client.get("/metrics").status_code == 404
    wrong = client.get("/metrics", headers={"Authorization": "Bearer nothing"})
    assert wrong.status_code == 404
    shop.job()
    client.get("/healthy")
    told = client.get("/metrics", headers={"Authorization": "Bearer let-me-count"}).text
    assert 'studbay_answers_total{method="GET",status="200",view="healthy"}' in told
    assert 'studbay_waiting{work="jobs"} 1.0' in told


def test_without_a_database_it_is_not_ready_and_says_when_to_ask_again(monkeypatch) -> None:
    client = Client(raise_request_exception=False)
    assert client.get("/ready").json() == {"ready": True}

    def gone(*_args, **_given):
        raise OperationalError("gone")

    monkeypatch.setattr("config.observe.connection.cursor", gone)
    answer = client.get("/ready")
    assert (answer.status_code, answer.json()) == (503, {"missing": ["database"]})
    assert answer.headers["Retry-After"] == "5"
    monkeypatch.setattr("pages.jobs.job_list.render", gone)
    monkeypatch.setattr("api.base.lock_job", gone)
    for path in ("/sign-in/", "/api/jobs"):
        monkeypatch.setattr("django.template.response.TemplateResponse.render", gone)
        monkeypatch.setattr("rest_framework.views.APIView.initial", gone)
        answer = client.get(path)
        assert answer.status_code == 503, path
        assert answer.headers["Retry-After"] == "5"


def test_a_full_disc_is_told_and_is_worth_asking_again(monkeypatch, shop) -> None:
    client = Client(raise_request_exception=False)
    client.force_login(shop.office)

    def full(*_args, **_given):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr("pages.office.today.render", full)
    answer = client.get("/today/")
    assert (answer.status_code, answer["Retry-After"]) == (503, "60")
    assert "disk of this site is full" in answer.text

    def other(*_args, **_given):
        raise OSError(errno.EACCES, "no")

    monkeypatch.setattr("pages.office.today.render", other)
    assert client.get("/today/").status_code == 500
