"""What `allauth` asks of us: how it limits guessing, what it says, how it seals.

Right credentials with a second factor are never refused, whoever guesses what from where. Guesses
are counted by place, over all names, and by name within a place; by name over all places they are
slowed, and nobody is kept out by that (OWASP ASVS 5.0, 6.3.1; NIST SP 800-63B, 5.2.2).
"""

import logging
import time
from smtplib import SMTPException
from threading import BoundedSemaphore
from typing import Any
from urllib.parse import urlsplit

from allauth.account.adapter import DefaultAccountAdapter
from allauth.core.internal import ratelimit
from allauth.mfa.adapter import DefaultMFAAdapter
from django.conf import settings
from django.contrib.auth.base_user import AbstractBaseUser
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.template.loader import render_to_string
from django.urls import reverse

from config.languages import said_later, say, spoken_to
from config.places import place_of
from config.sealing import seal, unseal
from jobs.models import Person
from jobs.services.factors import factor_live
from pages.account import account_messages as words
from pages.account.mails import letter
from pages.refusals import refuse

_log = logging.getLogger(__name__)
KEPT_AT = "mfa_authenticator.data"
"""What secrets of second factors are sealed for."""
BY_NAME = {"by_name": "20/15m/key"}
"""Guesses at one name, from wherever; beyond them each is slowed."""
SLOW = 1.0  # seconds
_slowed = BoundedSemaphore(2)
"""So many requests of a process wait at once; more would hold up those who guess nothing."""
TOO_MANY = "too_many_login_attempts"
"""The code of that fault."""


class AccountAdapter(DefaultAccountAdapter):
    """Signing in by name and password."""

    error_messages = DefaultAccountAdapter.error_messages | {
        "username_password_mismatch": said_later(words.WRONG()),
        "invalid_login": said_later(words.WRONG()),
        TOO_MANY: said_later(words.TOO_MANY_PASSWORDS()),
        "incorrect_password": said_later(words.PASSWORD_WRONG()),
        "enter_current_password": said_later(words.PASSWORD_WRONG()),
        "incorrect_code": said_later(words.CODE_WRONG()),
        "invalid_password_reset": said_later(words.LINK_OVER()),
        "rate_limited": said_later(words.TOO_MANY_TRIES()),
    }

    def get_client_ip(self, request: HttpRequest) -> str:
        """The place that limits count by."""
        return place_of(request)

    def is_ajax(self, request: HttpRequest) -> bool:
        """Only the page of sign-in asks for data: what a passkey has to sign."""
        return request.path == reverse("mfa_login_webauthn") and super().is_ajax(request)

    def get_login_stages(self) -> list[str]:
        """After the password: the second factor, and nothing else."""
        return ["pages.account.stages.CodeStage"]

    def add_message(self, *_: Any, **__: Any) -> None:
        """The library's own sentences are not said: pages say what was done."""

    def is_reauthentication_required(self, **_: Any) -> bool:
        """Pages ask again by themselves (`pages.account.again`).

        The library would keep the request that waits, cookies and all, in the session's row.
        """
        return False

    def respond_user_inactive(
        self,
        request: HttpRequest,
        user: AbstractBaseUser,  # noqa: ARG002
    ) -> HttpResponse:
        """Somebody who may not sign in is told what anybody is."""
        refuse(request, words.WRONG())
        return redirect("account_login")

    def send_password_reset_mail(
        self, user: AbstractBaseUser, email: str, context: dict[str, Any]
    ) -> None:
        """A link for a lost password, in the language of its reader, by our own mail.

        To the site's own address: what host a request names is whoever sent it.
        """
        assert isinstance(user, Person)
        path = urlsplit(context["password_reset_url"]).path
        context = context | {"password_reset_url": settings.SITE_URL + path}
        with spoken_to(user.language, user.units):
            text = render_to_string("account/reset_mail.txt", context)
            subject = say(words.RESET_SUBJECT())
            message = letter(email, subject, text)
        try:
            message.send()
        except (OSError, SMTPException):  # whether the address is known is told by no answer
            _log.exception("a link for a lost password was not sent")

    def _get_login_attempts_cache_key(self, request: HttpRequest, **credentials: Any) -> str:
        """By name within a place: nobody is kept out by guesses made elsewhere."""
        return f"{place_of(request)} {_name(credentials)}"

    def pre_authenticate(self, request: HttpRequest, **credentials: Any) -> None:
        """Count the try; whether it is too many is said once the password was looked at."""
        self._login_failed_rl_usage = self._counted(
            request,
            "login_failed",
            None,
            self._get_login_attempts_cache_key(request, **credentials),
        )
        self._by_name = self._counted(request, "by_name", BY_NAME, _name(credentials))
        if self._by_name is None:
            _slow_down()

    @staticmethod
    def _counted(request: HttpRequest, action: str, config: Any, key: str) -> Any:
        return ratelimit.consume(
            request, app="allauth.account", action=action, config=config, key=key
        )

    def authenticate(self, request: HttpRequest, **credentials: Any) -> Person | None:
        """Who it is. Where too many were wrong: only whoever is asked for more than a password."""
        person = super().authenticate(request, **credentials)
        assert person is None or isinstance(person, Person)
        if person is not None and self._by_name is not None:
            self._by_name.rollback()
        lone = person is None or factor_live(person) is None
        if self._login_failed_rl_usage is None and lone:
            raise self.validation_error(TOO_MANY)
        return person


def _name(credentials: dict[str, Any]) -> str:
    return str(credentials.get("username", "")).strip().casefold()


def _slow_down() -> None:
    """Let a guess at a name that many were made at take its time."""
    if _slowed.acquire(blocking=False):
        try:
            time.sleep(SLOW)
        finally:
            _slowed.release()


class MFAAdapter(DefaultMFAAdapter):
    """Second factors: sealed, and under our name."""

    error_messages = DefaultMFAAdapter.error_messages | {
        "incorrect_code": said_later(words.PASSKEY_WRONG()),
    }

    def encrypt(self, text: str) -> str:
        """Sealed with a key that is not in the database."""
        return seal(text, of=KEPT_AT)

    def decrypt(self, encrypted_text: str) -> str:
        """What was sealed."""
        return unseal(encrypted_text, of=KEPT_AT)

    def _get_user_identifier(self, user: AbstractBaseUser) -> str:
        return user.get_username()

    def _get_site_name(self) -> str:
        return "Studbay"
