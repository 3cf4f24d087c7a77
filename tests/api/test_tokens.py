"""Programs that act for people: by tokens, within a scope, at a rate."""

from datetime import timedelta

import pytest
from django.core.exceptions import ValidationError
from django.utils import timezone
from rest_framework.throttling import SimpleRateThrottle

from inspections.checker.finding import Verdict
from jobs.models import ApiToken
from jobs.services.tokens import token_make, token_revoke
from tests.inspections.tiny import HOUSES
from tests.sure import sure

pytestmark = pytest.mark.django_db
JSON = "application/json"
Scope = ApiToken.Scope


def bearer(secret: str) -> dict[str, str]:
    return {"Authorization": f"Bearer {secret}"}


def test_a_token_acts_for_its_person_until_it_is_revoked(client, shop) -> None:
    job = shop.job()
    token, secret = token_make(shop.builder, name="site screen", scope=Scope.READ)
    assert secret not in str(ApiToken.objects.values())
    (found,) = client.get("/api/jobs", headers=bearer(secret)).json()["results"]
    assert found["id"] == str(job.id)
    token.refresh_from_db()
    assert token.used_at is not None
    token_revoke(shop.builder, token=token)
    answer = client.get("/api/jobs", headers=bearer(secret))
    assert (answer.status_code, answer.headers["WWW-Authenticate"]) == (401, "Bearer")
    assert answer.headers["Content-Type"] == "application/problem+json"
    assert client.get("/api/jobs", headers=bearer("nothing")).status_code == 401
    assert client.get("/api/jobs").status_code == 401


def test_a_person_who_may_not_sign_in_has_no_token_that_opens(client, shop) -> None:
    _, secret = token_make(shop.lead, name="meter", scope=Scope.WRITE)
    shop.lead.is_active = False
    shop.lead.save()
    assert client.get("/api/jobs", headers=bearer(secret)).status_code == 401


@pytest.mark.parametrize(
    ("scope", "observed", "released"),
    [(Scope.READ, 403, 403), (Scope.OBSERVE, 201, 403), (Scope.WRITE, 201, 409)],
)
def test_a_scope_bounds_what_is_done(client, shop, scope, observed, released) -> None:
    job = shop.roughed_in(HOUSES["clean"])
    _, secret = token_make(shop.office, name="meter", scope=scope)
    item = job.items.filter(verdict=Verdict.VERIFY).first()
    url = f"/api/items/{item.id}/observations"
    answer = client.post(url, {"outcome": "ok"}, JSON, headers=bearer(secret))
    assert answer.status_code == observed
    url = f"/api/areas/{item.area_id}/cover-releases"
    assert client.post(url, headers=bearer(secret)).status_code == released
    if released == 403:
        said = client.post(url, headers=bearer(secret)).json()["detail"]
        assert said.startswith("This token may only read")
        assert ("seen on site" in said) == (scope == Scope.OBSERVE)


def test_a_token_is_its_person_s_alone_and_there_are_not_too_many(shop) -> None:
    token, _ = token_make(shop.lead, name="meter", scope=Scope.READ)
    with pytest.raises(ApiToken.DoesNotExist):
        token_revoke(shop.office, token=token)
    for _ in range(49):
        token_make(shop.lead, name="meter", scope=Scope.READ)
    with pytest.raises(ValidationError, match="You have 50 tokens, the maximum"):
        token_make(shop.lead, name="meter", scope=Scope.READ)


def test_too_many_calls_are_put_off_and_each_answer_tells_the_rate(
    client, shop, monkeypatch
) -> None:
    monkeypatch.setattr(SimpleRateThrottle, "THROTTLE_RATES", {"token": "3/min"})
    _, secret = token_make(shop.lead, name="meter", scope=Scope.READ)
    left = [
        client.get("/api/jobs", headers=bearer(secret)).headers["RateLimit-Remaining"]
        for _ in range(3)
    ]
    assert left == ["2", "1", "0"]
    answer = client.get("/api/jobs", headers=bearer(secret))
    assert answer.status_code == 429
    assert 0 < int(answer.headers["Retry-After"]) <= 60
    _, other = token_make(shop.lead, name="another", scope=Scope.READ)
    assert client.get("/api/jobs", headers=bearer(other)).status_code == 200


def test_the_page_makes_one_shows_it_once_and_revokes_it(client, shop) -> None:
    client.force_login(shop.lead)
    text = client.post(
        "/programs/", {"name": "meter", "scope": "read", "days": "90"}, follow=True
    ).text
    secret = text.partition("shown only once: ")[2].partition("<")[0].strip()
    assert secret not in client.get("/programs/").text
    client.logout()
    assert client.get("/api/jobs", headers=bearer(secret)).status_code == 200
    client.force_login(shop.lead)
    assert "last used" in client.get("/programs/").text
    token = ApiToken.objects.get(person=shop.lead)
    client.force_login(shop.office)
    assert client.post(f"/programs/{token.id}/revoke/").status_code == 404
    client.force_login(shop.lead)
    client.post(f"/programs/{token.id}/revoke/")
    client.logout()
    assert client.get("/api/jobs", headers=bearer(secret)).status_code == 401


def test_a_token_runs_out_and_the_answer_says_so(client, shop) -> None:
    """OWASP ASVS 5.0, 7.3 and 9.2: what opens something is good for a time that is set."""
    token, secret = token_make(shop.lead, name="meter", scope=Scope.READ, days=30)
    assert sure(token.expires_at) - token.made_at == timedelta(days=30)
    assert client.get("/api/jobs", headers=bearer(secret)).status_code == 200
    yesterday = timezone.now() - timedelta(days=1)
    ApiToken.objects.filter(id=token.id).update(expires_at=yesterday)
    refused = client.get("/api/jobs", headers=bearer(secret))
    assert refused.status_code == 401
    assert (
        f"valid until {yesterday:%b} {yesterday.day}, {yesterday.year}." in refused.json()["detail"]
    )
    client.force_login(shop.lead)
    assert "expired" in client.get("/programs/").text


@pytest.mark.parametrize("days", [0, -1, 366])
def test_no_token_is_good_for_longer_than_a_year(shop, days) -> None:
    with pytest.raises(ValidationError, match="from 1 to 365"):
        token_make(shop.lead, name="meter", scope=Scope.READ, days=days)


def test_the_page_asks_how_long(client, shop) -> None:
    client.force_login(shop.lead)
    refused = client.post("/programs/", {"name": "meter", "scope": "read"})
    assert refused.status_code == 422
    assert not ApiToken.objects.filter(person=shop.lead).exists()


def test_one_of_a_version_that_knew_no_end_is_good_for_a_year(client, shop) -> None:
    token, secret = token_make(shop.lead, name="meter", scope=Scope.READ)
    of_old = ApiToken.objects.filter(id=token.id)
    of_old.update(expires_at=None)
    assert client.get("/api/jobs", headers=bearer(secret)).status_code == 200
    of_old.update(made_at=timezone.now() - timedelta(days=366))
    assert client.get("/api/jobs", headers=bearer(secret)).status_code == 401
