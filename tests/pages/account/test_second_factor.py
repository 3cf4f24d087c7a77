"""The second factor as pages ask for it: after the password, before anything is shown."""

import re
from datetime import timedelta

import pyotp
import pytest
from django.test import Client
from django.utils import timezone

from jobs.models import Membership, SecondFactor
from jobs.services.factors import factor_begin, factor_confirm, factor_live
from tests.jobs.test_factors import secret_of
from tests.signed_in import forget_proof

pytestmark = pytest.mark.django_db
PASSWORD = "rough-in"


def phone(person) -> str:
    """A code that was not taken yet."""
    SecondFactor.objects.filter(person=person).update(last_step=-1)
    return pyotp.TOTP(secret_of(person)).now()


@pytest.fixture
def on(shop) -> list[str]:
    """The crew lead has it on; the recovery codes."""
    factor_begin(shop.lead)
    return factor_confirm(shop.lead, code=phone(shop.lead))


def half_way(client, person, to: str = "") -> None:
    """Past the password."""
    given = {"login": person.username, "password": PASSWORD, "next": to}
    answer = client.post("/sign-in/", given)
    assert (answer.status_code, answer.headers["Location"]) == (302, "/sign-in/code/")


def signed_in(client: Client) -> bool:
    return client.get("/wishes/").status_code == 200


def test_it_is_turned_on_with_password_and_code_and_shows_recovery_codes_once(client, shop) -> None:
    client.force_login(shop.lead)
    assert "data:image" not in client.get("/second-factor/").text
    forget_proof(client)
    proof = {"again": "1", "again_password": "not-mine"}
    refused = client.post("/second-factor/begin/", proof)
    assert (refused.status_code, "Wrong password." in refused.text) == (403, True)
    proof["again_password"] = PASSWORD
    page = client.post("/second-factor/begin/", proof, follow=True)
    secret = secret_of(shop.lead)
    assert 'src="data:image/png;base64,' in page.text
    assert secret in page.text.replace(" ", "")
    assert "no-store" in page.headers["Cache-Control"]
    wrong = client.post("/second-factor/confirm/", {"code": "12"})
    assert (wrong.status_code, factor_live(shop.lead)) == (422, None)
    made = client.post("/second-factor/confirm/", {"code": pyotp.TOTP(secret).now()})
    codes = re.findall(r"<code>([0-9]{4}-[0-9]{4}-[0-9]{4})</code>", made.text)
    assert len(codes) == 10
    assert "no-store" in made.headers["Cache-Control"]
    after = client.get("/second-factor/").text
    assert "10 recovery codes left." in after
    assert secret not in after.replace(" ", "")
    assert not any(code in after for code in codes)
    assert not any(code in str(client.cookies) for code in codes)


def test_the_password_alone_opens_nothing(client, shop, on) -> None:
    half_way(client, shop.lead, "/second-factor/")
    assert not signed_in(client)
    assert client.get("/api/jobs").status_code == 401
    assert client.post("/sign-in/code/", {"code": "12"}).status_code == 422
    assert not signed_in(client)
    answer = client.post("/sign-in/code/", {"code": phone(shop.lead)})
    assert answer.headers["Location"] == "/second-factor/"
    assert signed_in(client)
    assert client.get("/sign-in/code/").headers["Location"] == "/", "there is nothing to give"


def test_a_recovery_code_signs_in_once(shop, on) -> None:
    first, second = Client(), Client()
    for client, into in ((first, True), (second, False)):
        half_way(client, shop.lead)
        client.post("/sign-in/code/", {"code": on[0]})
        assert signed_in(client) is into


def test_without_it_nothing_is_asked_and_the_code_page_leads_back(client, shop, on) -> None:
    assert client.get("/sign-in/code/").headers["Location"] == "/sign-in/"
    assert client.post("/sign-in/code/", {"code": on[0]}).headers["Location"] == "/sign-in/"
    client.post("/sign-in/", {"login": shop.member.username, "password": PASSWORD})
    assert signed_in(client)


def test_a_code_that_is_not_given_for_long_wants_the_password_again(
    client, shop, on, monkeypatch
) -> None:
    half_way(client, shop.lead)
    late = timezone.now() + timedelta(minutes=11)
    monkeypatch.setattr("allauth.account.internal.stagekit.time.time", late.timestamp)
    assert client.post("/sign-in/code/", {"code": on[0]}).headers["Location"] == "/sign-in/"
    monkeypatch.undo()
    assert not signed_in(client)


def test_a_password_that_was_changed_or_a_person_who_is_shut_out_wants_it_again(shop, on) -> None:
    changed, shut = Client(), Client()
    half_way(changed, shop.lead)
    half_way(shut, shop.lead)
    shop.lead.set_password("another-9-studs")
    shop.lead.save()
    assert changed.get("/sign-in/code/").headers["Location"] == "/sign-in/"
    shop.lead.set_password(PASSWORD)
    shop.lead.is_active = False
    shop.lead.save()
    assert shut.get("/sign-in/code/").headers["Location"] == "/sign-in/"


def test_guessing_codes_waits_as_guessing_passwords_does_wherever_it_comes_from(shop, on) -> None:
    for number in range(9):
        client = Client(REMOTE_ADDR=f"10.0.0.{number}")
        half_way(client, shop.lead)
        assert client.post("/sign-in/code/", {"code": "12"}).status_code == 422
    client = Client()
    half_way(client, shop.lead)
    for code in ("12", on[0], phone(shop.lead)):
        answer = client.post("/sign-in/code/", {"code": code})
        assert (answer.status_code, "Wait 15 minutes" in answer.text) == (429, True)
    assert not signed_in(client)


def test_it_is_turned_off_and_codes_are_made_anew_with_a_code_alone(client, shop, on) -> None:
    client.force_login(shop.lead)
    for path in ("/second-factor/codes/", "/second-factor/off/"):
        assert client.post(path, {"code": "12"}).status_code == 422
    made = client.post("/second-factor/codes/", {"code": phone(shop.lead)})
    new = re.findall(r"<code>([0-9]{4}-[0-9]{4}-[0-9]{4})</code>", made.text)
    assert len(new) == 10
    assert client.post("/second-factor/off/", {"code": on[1]}).status_code == 422
    text = client.post("/second-factor/off/", {"code": new[0]}, follow=True).text
    assert "Phone codes are off." in text
    assert f"by {shop.lead}" in text
    assert factor_live(shop.lead) is None


def test_the_office_turns_it_off_for_a_lost_phone_and_both_see_who_did(client, shop, on) -> None:
    of_lead = Membership.objects.get(person=shop.lead)
    path = f"/people/{of_lead.id}/factor/"
    client.force_login(shop.member)
    assert client.post(path).status_code == 404
    client.force_login(shop.office)
    assert f"Turn off the second factor of {shop.lead}" in client.get("/people/").text
    text = client.post(path, follow=True).text
    assert "Turn off the second factor" not in text
    assert re.search(rf"turned off \d{{4}}-\d\d-\d\d by {shop.office}", text)
    client.logout()
    client.post("/sign-in/", {"login": shop.lead.username, "password": PASSWORD})
    assert f"by {shop.office}" in client.get("/second-factor/").text
