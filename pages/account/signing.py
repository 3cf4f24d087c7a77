"""Signing in and out: name and password or a passkey, then a code for whoever asked for that."""

from typing import Any

from allauth.account.stages import LoginStageController
from allauth.account.views import LoginView, LogoutView
from allauth.mfa.base.views import AuthenticateView
from allauth.mfa.webauthn.views import LoginWebAuthnView
from django.conf import settings
from django.core.exceptions import NON_FIELD_ERRORS
from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import redirect, render
from django.utils.decorators import method_decorator
from django.views.decorators.debug import sensitive_post_parameters

from pages.account import account_messages as words
from pages.account.adapter import TOO_MANY
from pages.account.limits import allowed
from pages.account.stages import CodeStage
from pages.refusals import refuse


def form_refused(request: HttpRequest, form: Any) -> None:
    """Tell what a form of the library's refuses, as our own tell it."""
    said = {}
    for name, faults in form.errors.items():
        said[name] = [str(each) for each in faults]
    table = {}
    for name in said:
        table["" if name == "__all__" else name] = said[name]
    refuse(request, table)


class SignIn(LoginView):
    """Name and password. Whoever has a second factor is not signed in by these alone."""

    template_name = "account/sign_in.html"

    def form_invalid(self, form: Any) -> HttpResponse:
        """The page again, with the name; one sentence whatever was wrong."""
        if form.has_error(NON_FIELD_ERRORS, TOO_MANY):
            return too_many_tries(self.request)
        form_refused(self.request, form)
        return self.render_to_response(self.get_context_data(form=form))

    def _redirect_to_pending_stage(self, request: HttpRequest, stage: Any) -> None:
        """Whoever comes back here begins anew."""


def too_many_tries(request: HttpRequest) -> HttpResponse:
    """Too many tries: the page that says so."""
    return render(request, "account/later.html", status=429)


@method_decorator(sensitive_post_parameters("code", "credential"), name="dispatch")
class SecondFactorCode(AuthenticateView):
    """The code of the phone, one for its loss, or a passkey, after the right password."""

    template_name = "account/code.html"

    def dispatch(self, request: HttpRequest, *args: Any, **given: Any) -> HttpResponseBase:
        """Only while who gave the password may still come in by it."""
        stage = LoginStageController.enter(request, CodeStage.key)
        if stage is not None and not stage.stands:
            return redirect(settings.LOGIN_URL)
        return super().dispatch(request, *args, **given)

    def form_invalid(self, form: Any) -> HttpResponse:
        """The page again, or the one that says to wait."""
        if getattr(form, "wait", False):
            return too_many_tries(self.request)
        form_refused(self.request, form)
        return self.render_to_response(self.get_context_data())

    def get_context_data(self, **given: Any) -> dict[str, Any]:
        """What a passkey would have to sign, where the person has one."""
        context = super().get_context_data(**given)
        options = context.get("js_data", {}).get("request_options", {})
        has = bool(options.get("publicKey", {}).get("allowCredentials"))
        return context | {"options": options if has else None}


class ByPasskey(LoginWebAuthnView):
    """Signing in by a passkey alone, which is two factors: the device and its lock."""

    def get(self, request: HttpRequest, *args: Any, **given: Any) -> HttpResponse:
        """What there is to sign; each asking keeps a session, so there is a limit."""
        if not allowed(request, "passkey", ""):
            return too_many_tries(request)
        return super().get(request, *args, **given)

    def form_invalid(self, form: Any) -> HttpResponse:  # noqa: ARG002, its name
        """The page of sign-in, which says that it did not work."""
        refuse(self.request, words.PASSKEY_WRONG(), unshown=["credential"])
        return redirect(settings.LOGIN_URL)


class SignOut(LogoutView):
    """Out by a button; a link that somebody sends signs nobody out."""

    http_method_names = ["post", "options"]
