"""What goes over the wire goes by TLS, and no other origin is let in by a browser.

OWASP ASVS 5.0.0: 3.4.1, 3.4.2, 3.5.2, 3.5.3, 4.1.2.
"""

import re

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from jobs.models import ApiToken
from jobs.services.tokens import token_make
from tests.inspections.tiny import HOUSES
from tests.matrix import addresses

WRITES = ("INSERT", "UPDATE", "DELETE")
KEPT_BY = ("django_session", "api_token", "apitoken", "usersession")
"""Rows of whoever asks, which asking itself may touch."""


@pytest.fixture
def by_https(settings):
    settings.SECURE_SSL_REDIRECT = True
    settings.SECURE_HSTS_SECONDS = 31_536_000
    settings.SECURE_HSTS_INCLUDE_SUBDOMAINS = True


@pytest.mark.django_db
def test_a_program_that_comes_without_tls_is_refused_and_not_led_on(by_https, shop) -> None:
    _, secret = token_make(shop.office, name="meter", scope=ApiToken.Scope.READ)
    told = {"Authorization": f"Bearer {secret}"}
    answer = Client().get("/api/jobs", headers=told)
    assert answer.status_code == 403
    assert "https" in answer.json()["detail"]
    assert "Location" not in answer.headers
    assert Client().get("/metrics").status_code == 403
    assert Client().get("/api/jobs", headers=told, secure=True).status_code == 200
    led = Client().get("/people/")
    assert (led.status_code, led.headers["Location"][:8]) == (301, "https://")


@pytest.mark.django_db
def test_each_answer_by_https_tells_browsers_to_stay_there(by_https) -> None:
    for path in ("/sign-in/", "/nowhere/", "/api/jobs", "/healthy"):
        told = Client().get(path, secure=True).headers["Strict-Transport-Security"]
        assert told.startswith("max-age=31536000; includeSubDomains")


@pytest.mark.django_db
def test_no_other_origin_may_read_an_answer(shop, client) -> None:
    client.force_login(shop.office)
    for path in ("/", "/api/jobs"):
        for ask in (client.get, client.options):
            answer = ask(path, headers={"Origin": "https://elsewhere.example"})
            assert not [name for name in answer.headers if name.startswith("Access-Control")]


@pytest.mark.django_db
def test_a_session_on_the_api_needs_the_token_too(shop) -> None:
    client = Client(enforce_csrf_checks=True)
    client.force_login(shop.office)
    for kind in ("application/json", "text/plain", "multipart/form-data; boundary=x"):
        answer = client.generic("POST", "/api/builders", b'{"name": "x"}', content_type=kind)
        assert answer.status_code == 403, kind
    assert not shop.shop.builders.filter(name="x").exists()


@pytest.mark.django_db
def test_reading_writes_nothing(shop, client) -> None:
    job = shop.roughed_in(HOUSES["clean"])
    client.force_login(shop.office)
    paths = ("/", "/today/", "/people/", "/plan/", "/crews/", f"/jobs/{job.id}/", "/api/jobs")
    with CaptureQueriesContext(
        connection,
    ) as asked:
        for path in paths:
            assert client.get(path).status_code == 200, path
            assert client.head(path).status_code in (200, 405), path
    wrote = [each["sql"] for each in asked if each["sql"].startswith(WRITES)]
    assert [sql for sql in wrote if not any(name in sql for name in KEPT_BY)] == []


@pytest.mark.django_db
def test_a_folder_is_not_listed_and_trace_is_not_spoken() -> None:
    """OWASP ASVS 5.0.0: 13.4.3, 13.4.4."""
    for path in (
        "/static/",
        "/static/js/",
        "/static/js/walk/",
        "/kept/",
        "/photographs/",
        "/.git/",
    ):
        assert Client().get(path).status_code == 404, path
    for name, pattern in addresses():
        path = re.sub(r"<uuid:\w+>", "01a22907-a3bd-7152-bd74-765666f13fe8", pattern)
        path = re.sub(r"<\w+:\w+>", "x", path)
        answer = Client().generic("TRACE", path, headers={"X-Told": "not-to-be-told"})
        assert answer.status_code == 405, name
        assert b"not-to-be-told" not in answer.content


@pytest.mark.django_db
def test_a_name_that_comes_twice_decides_nothing_by_itself(shop, client) -> None:
    """OWASP ASVS 5.0.0, 15.3.7: the query of a form adds nothing to its body, and of two one is."""
    client.force_login(shop.office)
    path = "/people/invite/?role=office&for_whom=somebody&role=crew_member"
    client.post(path, {})
    assert not shop.shop.invitations.filter(for_whom="somebody").exists()
    sent = "for_whom=somebody&role=crew_member&role=crew_lead"
    client.generic("POST", path, sent, content_type="application/x-www-form-urlencoded")
    assert [each.role for each in shop.shop.invitations.filter(for_whom="somebody")] == [
        "crew_lead"
    ]
