"""Passkeys: two factors in one (WebAuthn level 2; OWASP ASVS 5.0, 6.3 and 6.5)."""

import json
import re
from typing import Any

import pytest
from django.test import Client

from jobs.models import SecondFactor
from jobs.services.factors import codes_left, factor_live, passkeys_of
from tests.passkeys import PRESENT, Device, with_passkey
from tests.signed_in import forget_proof
from tests.sure import sure

pytestmark = pytest.mark.django_db


def options_on(page: str) -> dict[str, Any]:
    shown = re.search(r'<script id="passkey-options"[^>]*>(.*?)</script>', page)
    options: dict[str, Any] = json.loads(sure(shown).group(1))
    return options


def asked(client: Client) -> dict[str, Any]:
    """What the page of sign-in asks a passkey to sign."""
    answer = client.get("/sign-in/passkey/", headers={"Accept": "application/json"}, secure=True)
    options: dict[str, Any] = answer.json()["request_options"]
    return options


def by_passkey(client: Client, credential: dict[str, Any]):
    return client.post("/sign-in/passkey/", {"credential": json.dumps(credential)}, secure=True)


def is_in(client: Client) -> bool:
    return client.get("/wishes/", secure=True).status_code == 200


def test_one_is_added_named_and_removed_and_codes_for_its_loss_shown_once(client, shop) -> None:
    client.force_login(shop.member)
    device = Device()
    options = options_on(client.get("/account/passkeys/", secure=True).text)
    selection = options["publicKey"]["authenticatorSelection"]
    assert (selection["residentKey"], selection["userVerification"]) == ("required", "required")
    given = {"name": "my phone", "credential": json.dumps(device.made(options))}
    made = client.post("/account/passkeys/", given, secure=True)
    assert len(re.findall(r"<code>\d{4}-\d{4}-\d{4}</code>", made.text)) == 10
    assert codes_left(shop.member) == 10
    assert factor_live(shop.member) is not None
    (kept,) = passkeys_of(shop.member)
    again = client.post("/account/passkeys/", given, secure=True)
    assert again.status_code == 422, "what was asked is answered once"
    client.post(f"/account/passkeys/{kept.pk}/", {"name": "work phone"}, secure=True)
    assert "work phone" in client.get("/account/", secure=True).text
    client.post(f"/account/passkeys/{kept.pk}/remove/", secure=True)
    assert not passkeys_of(shop.member).exists()
    assert SecondFactor.objects.get(person=shop.member).ended_by == shop.member


def test_it_signs_in_alone_and_leads_to_where_it_was_to(client, shop) -> None:
    device = with_passkey(shop.member)
    answer = by_passkey(client, device.signed(asked(client), shop.member))
    assert answer.headers["Location"] == "/"
    assert is_in(client)


def test_without_the_lock_of_its_device_it_signs_nobody_in(client, shop) -> None:
    """Alone it is two factors only if the device asked who holds it."""
    device = with_passkey(shop.member)
    unlocked = device.signed(asked(client), shop.member, flags=PRESENT)
    refused = by_passkey(client, unlocked)
    assert refused.status_code == 422
    assert not is_in(client)


def test_what_was_signed_is_good_once_and_here_alone(client, shop) -> None:
    device = with_passkey(shop.member)
    signed = device.signed(asked(client), shop.member)
    assert by_passkey(client, signed).status_code == 302
    other = Client()
    asked(other)
    assert by_passkey(other, signed).status_code == 422, "another challenge"
    phished = Device(site="testserver")
    phished.origin = "https://testserver.example"
    assert by_passkey(other, phished.signed(asked(other), shop.member)).status_code == 422
    stranger = Device(8)
    assert by_passkey(other, stranger.signed(asked(other), shop.member)).status_code == 422
    assert by_passkey(other, device.signed(asked(other), shop.lead)).status_code == 422


@pytest.mark.parametrize(
    "credential", ["", "{}", "[]", "null", "7", '"x"', '{"id": "x"}', '{"response": 5}', "{"]
)
def test_what_is_no_credential_is_refused_in_words(client, shop, credential) -> None:
    with_passkey(shop.member)
    asked(client)
    refused = client.post("/sign-in/passkey/", {"credential": credential}, secure=True)
    assert refused.status_code == 422
    client.force_login(shop.member)
    client.get("/account/passkeys/", secure=True)
    refused = client.post("/account/passkeys/", {"credential": credential}, secure=True)
    assert refused.status_code == 422
    forget_proof(client)
    proof = {"again": "1", "again_credential": credential or "x"}
    assert client.post("/account/sessions/end/", proof, secure=True).status_code == 403


def test_whoever_is_shut_out_or_has_removed_it_comes_in_no_more(client, shop) -> None:
    device = with_passkey(shop.member)
    signed = device.signed(asked(client), shop.member)
    shop.member.is_active = False
    shop.member.save()
    by_passkey(client, signed)
    assert not is_in(client)
    shop.member.is_active = True
    shop.member.save()
    passkeys_of(shop.member).delete()
    assert by_passkey(client, device.signed(asked(client), shop.member)).status_code == 422


def test_after_a_password_it_is_the_second_factor(client, shop) -> None:
    device = with_passkey(shop.member)
    given = {"login": shop.member.username, "password": "rough-in"}
    page = client.post("/sign-in/", given, follow=True, secure=True)
    assert not is_in(client)
    signed = json.dumps(device.signed(options_on(page.text), shop.member))
    assert client.post("/sign-in/code/", {"credential": signed}, secure=True).status_code == 302
    assert is_in(client)


def test_it_proves_who_it_is_again(client, shop) -> None:
    device = with_passkey(shop.member)
    client.force_login(shop.member)
    forget_proof(client)
    page = client.post("/account/sessions/end/", secure=True)
    signed = json.dumps(device.signed(options_on(page.text), shop.member))
    proof = {"again": "1", "again_credential": signed}
    assert client.post("/account/sessions/end/", proof, secure=True).status_code == 302
    forget_proof(client)
    assert client.post("/account/sessions/end/", proof, secure=True).status_code == 403


def test_another_s_is_not_there(client, shop) -> None:
    with_passkey(shop.member)
    (kept,) = passkeys_of(shop.member)
    client.force_login(shop.lead)
    for path in (f"/account/passkeys/{kept.pk}/", f"/account/passkeys/{kept.pk}/remove/"):
        assert client.post(path, {"name": "mine"}, secure=True).status_code == 404
    assert passkeys_of(shop.member).exists()
