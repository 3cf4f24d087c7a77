"""Addresses of the way in and of one's account, by the library's names where it asks for them.

Of the library's addresses only these are open: nobody signs up, people join by an invitation.
"""

from collections.abc import Callable

from django.http import HttpResponse
from django.urls import path, register_converter
from django.views import View
from django.views.decorators.http import require_http_methods

from pages.account import own, passkeys, passwords, signing
from pages.account.again import asks_again


class Plain:
    """Letters and digits: who it is, in a link of a mail."""

    regex = "[0-9A-Za-z]+"

    def to_python(self, value: str) -> str:
        """As it stands."""
        return value

    to_url = to_python


register_converter(Plain, "plain")


def _asked_or_sent(view: type[View]) -> Callable[..., HttpResponse]:
    """A form of the library's by the two methods of forms; it would take others too."""
    return require_http_methods(["GET", "HEAD", "POST"])(view.as_view())


urlpatterns = [
    path("sign-in/", _asked_or_sent(signing.SignIn), name="account_login"),
    path("sign-in/code/", _asked_or_sent(signing.Code), name="mfa_authenticate"),
    path("sign-in/passkey/", _asked_or_sent(signing.ByPasskey), name="mfa_login_webauthn"),
    path("sign-in/forgotten/", _asked_or_sent(passwords.Forgotten), name="account_reset_password"),
    path(
        "sign-in/forgotten/sent/",
        passwords.ForgottenSent.as_view(),
        name="account_reset_password_done",
    ),
    path(
        "reset/<plain:uidb36>-<str:key>/",
        _asked_or_sent(passwords.FromMail),
        name="account_reset_password_from_key",
    ),
    path("back/<str:secret>", passwords.way_back, name="way-back"),
    path("sign-out/", signing.SignOut.as_view(), name="account_logout"),
    path("account/", own.account, name="account"),
    path("account/password/", _asked_or_sent(passwords.Change), name="account_change_password"),
    path("account/first/", passkeys.first, name="passkeys-first"),
    path("account/passkeys/", asks_again(passkeys.add, looking=True), name="passkey-new"),
    path("account/passkeys/<int:passkey_id>/", asks_again(passkeys.rename), name="passkey-rename"),
    path(
        "account/passkeys/<int:passkey_id>/remove/",
        asks_again(passkeys.remove),
        name="passkey-remove",
    ),
    path("account/sessions/end/", asks_again(own.end_others), name="sessions-end"),
    path("account/sessions/<uuid:session_id>/end/", asks_again(own.end), name="session-end"),
    path("account/mail/", asks_again(own.mail), name="mail-new"),
    path("mail/<str:token>", own.mail_kept, name="mail-kept"),
]
