"""Addresses of the way in and of one's account, by the library's names where it asks for them.

Of the library's addresses only these are open: nobody signs up, people join by an invitation.
"""

from collections.abc import Callable

from django.http.response import HttpResponseBase
from django.urls import path, register_converter
from django.views.decorators.http import require_http_methods

from pages.account import (
    joining,
    language,
    own,
    passkeys,
    passwords,
    programs,
    second_factor,
    signing,
    wishes,
)
from pages.account.again import asks_again

View = Callable[..., HttpResponseBase]


class Plain:
    """Letters and digits: who it is, in a link of a mail."""

    regex = "[0-9A-Za-z]+"

    def to_python(self, value: str) -> str:
        """As it stands."""
        return value

    to_url = to_python


register_converter(Plain, "plain")


def _asked_or_sent(view: View) -> View:
    """A form of the library's by the two methods of forms; it would take others too."""
    return require_http_methods(["GET", "HEAD", "POST"])(view)


urlpatterns = [
    path("sign-in/", _asked_or_sent(signing.SignIn.as_view()), name="account_login"),
    path(
        "sign-in/code/", _asked_or_sent(signing.SecondFactorCode.as_view()), name="mfa_authenticate"
    ),
    path(
        "sign-in/passkey/", _asked_or_sent(signing.ByPasskey.as_view()), name="mfa_login_webauthn"
    ),
    path(
        "sign-in/forgotten/",
        _asked_or_sent(passwords.Forgotten.as_view()),
        name="account_reset_password",
    ),
    path(
        "sign-in/forgotten/sent/",
        passwords.ForgottenSent.as_view(),
        name="account_reset_password_done",
    ),
    path(
        "reset/<plain:uidb36>-<str:key>/",
        _asked_or_sent(passwords.FromMail.as_view()),
        name="account_reset_password_from_key",
    ),
    path("back/<str:secret>", passwords.come_back, name="way-back"),
    path("sign-out/", signing.SignOut.as_view(), name="account_logout"),
    path("account/", own.account, name="account"),
    path(
        "account/password/",
        _asked_or_sent(passwords.ChangePassword.as_view()),
        name="account_change_password",
    ),
    path("account/first/", passkeys.first_passkey, name="passkeys-first"),
    path("account/passkeys/", asks_again(passkeys.add, looking=True), name="passkey-new"),
    path("account/passkeys/<int:passkey_id>/", asks_again(passkeys.rename), name="passkey-rename"),
    path(
        "account/passkeys/<int:passkey_id>/remove/",
        asks_again(passkeys.remove),
        name="passkey-remove",
    ),
    path("account/sessions/end/", asks_again(own.end_others), name="sessions-end"),
    path(
        "account/sessions/<uuid:session_id>/end/", asks_again(own.end_session), name="session-end"
    ),
    path("account/mail/", asks_again(own.mail), name="mail-new"),
    path("mail/<str:token>", own.mail_kept, name="mail-kept"),
    path("people/<uuid:membership_id>/factor/", asks_again(second_factor.lift), name="factor-lift"),
    path("second-factor/", second_factor.second_factor, name="second-factor"),
    path(
        "second-factor/begin/", asks_again(second_factor.second_factor_begin), name="factor-begin"
    ),
    path("second-factor/confirm/", second_factor.second_factor_confirm, name="factor-confirm"),
    path("second-factor/codes/", second_factor.codes, name="factor-codes"),
    path("second-factor/off/", second_factor.second_factor_off, name="factor-end"),
    path("join/<str:secret>", joining.join, name="join"),
    path("programs/", asks_again(programs.programs), name="programs"),
    path("programs/<uuid:token_id>/revoke/", programs.revoke, name="token-revoke"),
    path("language/", language.language, name="language"),
    path("wishes/", wishes.wishes, name="wishes"),
    path("wishes/hours/", wishes.habits, name="habits"),
    path("wishes/kinds/", wishes.wish, name="wish"),
    path("wishes/addresses/", wishes.address_new, name="address-new"),
    path("wishes/addresses/<uuid:address_id>/", wishes.address_change, name="address-change"),
    path("wishes/calendars/", wishes.feed_new, name="feed-new"),
    path("wishes/calendars/<uuid:feed_id>/", wishes.feed_end, name="feed-end"),
]
