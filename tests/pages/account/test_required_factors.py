"""Where the server requires a second factor: nothing else is open to whoever has only a password.

OWASP ASVS 5.0.0, 6.3.3.
"""

import pytest
from django.test import Client

from config.environment import read_environment
from jobs.models import ApiToken
from jobs.services.tokens import token_make
from tests.passkeys import with_passkey

pytestmark = pytest.mark.django_db


@pytest.fixture
def required(settings):
    given = {"studbay_second_factor": "required"}
    settings.ENVIRONMENT = settings.ENVIRONMENT.model_copy(update=given)


def test_whoever_has_only_a_password_is_led_to_add_more(required, shop, client) -> None:
    client.force_login(shop.office)
    for path in ("/", "/people/", "/today/", "/programs/", "/walk/"):
        answer = client.get(path)
        assert (answer.status_code, answer.headers["Location"]) == (302, "/account/"), path
    assert client.post("/people/firm/", {"name": "Quillet Homes"}).status_code == 302
    assert not shop.shop.builders.filter(name="Quillet Homes").exists()
    said = client.get("/api/jobs")
    assert said.status_code == 403
    assert "passkey" in said.json()["detail"]
    page = client.get("/account/")
    assert page.status_code == 200
    assert "requires more than a password" in page.text
    assert client.get("/second-factor/").status_code in (200, 403)


def test_with_a_passkey_everything_is_open(required, shop, client) -> None:
    client.force_login(shop.office)
    with_passkey(shop.office)
    assert client.get("/people/").status_code == 200
    assert client.get("/api/jobs").status_code == 200


def test_links_programs_and_strangers_are_as_before(required, shop) -> None:
    assert Client().get("/sign-in/").status_code == 200
    assert Client().get("/healthy").status_code == 200
    _, secret = token_make(shop.office, name="meter", scope=ApiToken.Scope.READ)
    told = {"Authorization": f"Bearer {secret}"}
    assert Client().get("/api/jobs", headers=told).status_code == 200


def test_unless_it_is_set_nobody_is_made_to(shop, client) -> None:
    client.force_login(shop.office)
    assert client.get("/people/").status_code == 200
    assert read_environment({}).studbay_second_factor == "offered"
