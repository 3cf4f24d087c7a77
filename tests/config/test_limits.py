"""Too many requests in a minute are put off, by person, else by place, and nothing else is.

OWASP ASVS 5.0.0, 2.4.1.
"""

from datetime import UTC, datetime

import pytest
from django.core.cache import cache
from django.test import Client
from redis.exceptions import ConnectionError as RedisGone

from tests.clock import Clock

MOST = 5


@pytest.fixture
def few(settings, monkeypatch):
    """Few requests a minute, all of them in one."""
    Clock(datetime(2026, 3, 15, 18, tzinfo=UTC)).put(monkeypatch)
    cache.clear()
    settings.ENVIRONMENT = settings.ENVIRONMENT.model_copy(update={"studbay_calls_a_minute": MOST})
    yield
    cache.clear()


@pytest.mark.django_db
def test_a_person_is_put_off_and_nobody_else_is(few, shop) -> None:
    client, other = Client(), Client()
    client.force_login(shop.office)
    other.force_login(shop.lead)
    assert [client.get("/people/").status_code for _ in range(MOST)] == [200] * MOST
    answer = client.post("/people/invite/", {"for_whom": "somebody"})
    assert answer.status_code == 429
    assert answer.headers["Retry-After"] == "60"
    assert not shop.shop.invitations.filter(for_whom="somebody").exists()
    assert other.get("/").status_code == 200


@pytest.mark.django_db
def test_without_an_account_a_place_is_put_off_and_made_up_cookies_help_nobody(few) -> None:
    for number in range(MOST):
        client = Client(REMOTE_ADDR="203.0.113.7")
        client.cookies["sessionid"] = f"made-up-{number}"
        assert client.get("/sign-in/").status_code == 200
    assert Client(REMOTE_ADDR="203.0.113.7").get("/sign-in/").status_code == 429
    assert Client(REMOTE_ADDR="203.0.113.8").get("/sign-in/").status_code == 200
    assert Client(REMOTE_ADDR="203.0.113.7").get("/healthy").status_code == 200


@pytest.mark.django_db
def test_what_cannot_be_counted_is_not_refused(few, monkeypatch) -> None:
    def gone(*_args, **_given):
        raise RedisGone("gone")

    monkeypatch.setattr("config.limits.cache.add", gone)
    client = Client(REMOTE_ADDR="203.0.113.7")
    assert {client.get("/sign-in/").status_code for _ in range(MOST * 2)} == {200}
