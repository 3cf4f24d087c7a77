"""The library's forms with our fields and words."""

import struct
from typing import Any

from allauth.account import forms as account
from allauth.account.adapter import get_adapter
from allauth.mfa.adapter import get_adapter as mfa_adapter
from allauth.mfa.base.forms import AuthenticateForm
from allauth.mfa.webauthn import forms as webauthn
from django import forms
from django.contrib.auth.base_user import AbstractBaseUser
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError

from config.languages import said_later
from config.messages.message import Text
from jobs.models import Person
from jobs.services.factors import TooManyTries, factor_used
from pages.account import account_messages as words

LONGEST = 200  # characters of a password; more is not typed, and costs to look at


def password_field(label: Text, autocomplete: str) -> forms.CharField:
    """A field that is never given back."""
    widget = forms.PasswordInput(attrs={"autocomplete": autocomplete})
    return forms.CharField(label=said_later(label), max_length=LONGEST, strip=False, widget=widget)


class SignInForm(account.LoginForm):
    """A name and a password."""

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["login"].label = said_later(words.NAME())
        self.fields["password"] = password_field(words.PASSWORD(), "current-password")


class CodeForm(AuthenticateForm):
    """A code of the phone, or a recovery code."""

    wait = False

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["code"] = forms.CharField(max_length=40, label=said_later(words.CODE()))

    def clean_code(self) -> str:
        """Use the code up, counted by ourselves: races cannot cheat that."""
        code: str = self.cleaned_data["code"]
        try:
            used = factor_used(self.user, code=code)
        except TooManyTries:
            self.wait = True
            raise ValidationError(said_later(words.TOO_MANY_TRIES())) from None
        if used is None:
            raise ValidationError(said_later(words.CODE_WRONG()))
        used.user = self.user
        self.authenticator = used
        return code


def _checked(form: forms.Form, person: AbstractBaseUser | None) -> str:
    assert person is None or isinstance(person, Person)
    password: str = form.cleaned_data["password1"]
    validate_password(password, person)
    return password


class ChangeForm(account.ChangePasswordForm):
    """The password that is, and the one that shall be."""

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        del self.fields["password2"]  # one field that can be shown beats two that cannot
        self.fields["oldpassword"] = password_field(words.PASSWORD_NOW(), "current-password")
        self.fields["password1"] = password_field(words.PASSWORD_NEXT(), "new-password")

    def clean_oldpassword(self) -> str:
        """The password that is; guesses count as at sign-in."""
        given: str = self.cleaned_data["oldpassword"]
        assert self.user is not None
        if not get_adapter().reauthenticate(self.user, given):
            raise get_adapter().validation_error("enter_current_password")
        return given

    def clean_password1(self) -> str:
        """One that will do."""
        return _checked(self, self.user)


class NewPasswordForm(account.ResetPasswordKeyForm):
    """A new password, by a link from a mail."""

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        del self.fields["password2"]
        self.fields["password1"] = password_field(words.PASSWORD_NEXT(), "new-password")

    def clean_password1(self) -> str:
        """One that will do."""
        return _checked(self, self.user)


class ForgottenForm(account.ResetPasswordForm):
    """Where a link shall be sent."""

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["email"].label = said_later(words.EMAIL())


MALFORMED = (AttributeError, LookupError, TypeError, ValueError, struct.error)
"""What the library lets out where somebody sends what no browser makes."""


class _Whole(forms.Form):
    """A form with what a passkey gave: whatever that is, it is refused in words."""

    def full_clean(self) -> None:
        """As the library cleans it."""
        try:
            super().full_clean()
        except MALFORMED:
            self.add_error("credential", mfa_adapter().error_messages["incorrect_code"])


class AddPasskey(_Whole, webauthn.AddWebAuthnForm):
    """A passkey that was made."""


class ByPasskeyForm(_Whole, webauthn.LoginWebAuthnForm):
    """A passkey that signs in."""


class PasskeyAsCode(_Whole, webauthn.AuthenticateWebAuthnForm):
    """A passkey after a password."""


class PasskeyAgain(_Whole, webauthn.ReauthenticateWebAuthnForm):
    """A passkey that shows who it is again."""
