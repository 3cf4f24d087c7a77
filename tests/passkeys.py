"""A device that makes passkeys and signs with them (WebAuthn level 2), without a browser."""

import hashlib
import json
from typing import Any

from allauth.account.forms import default_token_generator
from allauth.account.utils import user_pk_to_url_str
from allauth.mfa.webauthn.internal.auth import WebAuthn
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.hashes import SHA256
from django.core import signing
from django.utils import timezone
from fido2.cose import ES256
from fido2.utils import websafe_encode
from fido2.webauthn import AttestationObject, AttestedCredentialData, AuthenticatorData

from jobs.models import Membership, OpenSession, Person
from jobs.services.factors import passkey_added, passkeys_of
from jobs.services.ways_back import way_back_make
from pages.account.own import SALT
from tests.sure import the_first

FLAG = AuthenticatorData.FLAG
PRESENT, VERIFIED = FLAG.UP, FLAG.UV
KEY_AND_ALL = PRESENT | VERIFIED | FLAG.AT


class Device:
    """One key, on one device."""

    def __init__(self, number: int = 7, site: str = "testserver", scheme: str = "https") -> None:
        self.key = ec.derive_private_key(number, ec.SECP256R1())
        self.id = hashlib.sha256(b"credential %d" % number).digest()
        self.site, self.origin = site, f"{scheme}://{site}"

    def _client(self, kind: str, challenge: str) -> bytes:
        said = {"type": kind, "challenge": challenge, "origin": self.origin}
        return json.dumps(said | {"crossOrigin": False}).encode()

    def _data(self, flags: FLAG, kept: bytes = b"") -> AuthenticatorData:
        of_site = hashlib.sha256(self.site.encode()).digest()
        data: AuthenticatorData = AuthenticatorData.create(of_site, flags, 0, kept)
        return data

    def _credential(self, response: dict[str, bytes], **more: Any) -> dict[str, Any]:
        return {
            "id": websafe_encode(self.id),
            "rawId": websafe_encode(self.id),
            "type": "public-key",
            "response": {name: websafe_encode(each) for name, each in response.items()},
            "clientExtensionResults": {},
            **more,
        }

    def made(self, options: dict[str, Any]) -> dict[str, Any]:
        """What the browser gives when a passkey was made."""
        public = ES256.from_cryptography_key(self.key.public_key())
        kept = AttestedCredentialData.create(b"\0" * 16, self.id, public)
        data = self._data(KEY_AND_ALL, kept)
        return self._credential(
            {
                "clientDataJSON": self._client(
                    "webauthn.create", options["publicKey"]["challenge"]
                ),
                "attestationObject": bytes(AttestationObject.create("none", data, {})),
            },
            clientExtensionResults={"credProps": {"rk": True}},
        )

    def signed(
        self, options: dict[str, Any], person: Person, flags: FLAG = PRESENT | VERIFIED
    ) -> dict[str, Any]:
        """What the browser gives when a passkey has signed."""
        client = self._client("webauthn.get", options["publicKey"]["challenge"])
        data = self._data(flags)
        signature = self.key.sign(data + hashlib.sha256(client).digest(), ec.ECDSA(SHA256()))
        return self._credential(
            {
                "clientDataJSON": client,
                "authenticatorData": data,
                "signature": signature,
                "userHandle": str(person.pk.hex).encode(),
            }
        )


def with_passkey(person: Person, number: int = 7, site: str = "testserver") -> Device:
    """A person who has a passkey on a device."""
    device = Device(number, site)
    challenge = websafe_encode(b"a challenge of tests alone")
    WebAuthn.add(person, "my phone", device.made({"publicKey": {"challenge": challenge}}))
    passkey_added(person)
    return device


def ids_of_account(shop: Any) -> dict[str, Any]:
    """What addresses of an account name: of the crew member, who has a passkey; links of mails."""
    member, now = shop.member, timezone.now()
    seen = {"person": member, "digest": "5" * 40, "began_at": now, "seen_at": now}
    mail = {"person": str(member.pk), "mail": "member@studbay.example", "was": member.email}
    of_builder = Membership.objects.get(person=shop.other_builder, shop=shop.shop)
    return {
        "passkey_id": the_first(passkeys_of(member)).pk,
        "session_id": OpenSession.objects.create(**seen).id,
        "gone_back": way_back_make(shop.office, membership=of_builder)[1],
        "way_back": way_back_make(shop.office, membership=of_builder)[1],
        **_of_a_mail(of_builder.person),
        "mail_token": signing.dumps(mail, salt=SALT),
    }


def _of_a_mail(person: Person) -> dict[str, str]:
    """What a link for a lost password names, of somebody who signs in nowhere meanwhile."""
    person.refresh_from_db()
    return {
        "uidb36": user_pk_to_url_str(person),
        "reset_key": default_token_generator.make_token(person),
    }
