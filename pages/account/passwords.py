"""Passwords: changed by whoever knows the one that is, reset by mail or by the office's link."""

from typing import Any, Protocol

from allauth.account.views import (
    PasswordChangeView,
    PasswordResetDoneView,
    PasswordResetFromKeyView,
    PasswordResetView,
)
from django import forms
from django.conf import settings
from django.contrib import messages
from django.contrib.auth import login
from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse_lazy
from django.utils.decorators import method_decorator
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from config.languages import say
from config.sessions import kept_key
from jobs.models import Person, WayBack
from jobs.services.sessions import sessions_end
from jobs.services.ways_back import WayBackGone, way_back_open, way_back_use
from pages.account import account_messages as words
from pages.account.forms import password_field
from pages.account.signing import form_refused
from pages.refusals import refuse, valid

MODEL_BACKEND = settings.AUTHENTICATION_BACKENDS[0]


class Page(Protocol):
    """What a view of the library's has, as far as a refusal needs it."""

    request: HttpRequest

    def get_context_data(self, **given: Any) -> dict[str, Any]:
        """What its template is given."""

    def render_to_response(self, context: dict[str, Any]) -> HttpResponse:
        """Its template, filled."""


class Refusing:
    """A view of the library's that tells what it refuses as our own do."""

    def form_invalid(self: Page, form: Any) -> HttpResponse:
        """The page again, each fault beside its field."""
        form_refused(self.request, form)
        return self.render_to_response(self.get_context_data(form=form))


@method_decorator(never_cache, name="dispatch")
class ChangePassword(Refusing, PasswordChangeView):
    """A new password by the one that is; every other session ends."""

    template_name = "account/password.html"
    success_url = reverse_lazy("account")

    def dispatch(self, request: HttpRequest, *args: Any, **given: Any) -> HttpResponse:
        """Whoever has none, since passkeys sign them in, gets one by a link."""
        if request.user.is_authenticated and not request.user.has_usable_password():
            return redirect("account")
        response: HttpResponse = super().dispatch(request, *args, **given)
        return response

    def get_default_success_url(self) -> str:
        """The page of the account."""
        return str(self.success_url)

    def form_valid(self, form: Any) -> HttpResponse:
        """Keep it, and end what was open by the old one elsewhere (OWASP ASVS 5.0, 7.4.3)."""
        response: HttpResponse = super().form_valid(form)
        person = self.request.user
        assert isinstance(person, Person)
        sessions_end(person, but=kept_key(self.request.session.session_key) or "")
        messages.success(self.request, say(words.PASSWORD_CHANGED()))
        return response


@method_decorator(never_cache, name="dispatch")
class Forgotten(Refusing, PasswordResetView):
    """A link by mail. The answer is the same whoever asks for whom."""

    template_name = "account/forgotten.html"


class ForgottenSent(PasswordResetDoneView):
    """What happens next."""

    template_name = "account/forgotten_sent.html"


@method_decorator(never_cache, name="dispatch")
@method_decorator(sensitive_post_parameters("password1"), name="dispatch")
class FromMail(Refusing, PasswordResetFromKeyView):
    """A new password by the link of a mail, which is good once."""

    template_name = "account/from_mail.html"
    success_url = reverse_lazy("account_login")

    def render_to_response(self, context: dict[str, Any], **options: Any) -> HttpResponse:
        """The form, or that the link is over."""
        if not context.get("token_fail"):
            return super().render_to_response(context, **options)
        why = {"why": words.LINK_OVER()}
        return render(self.request, "account/over.html", why, status=410)

    def form_valid(self, form: Any) -> HttpResponse:
        """Keep it, and end whatever was open."""
        response: HttpResponse = super().form_valid(form)
        sessions_end(self.reset_user)
        messages.success(self.request, say(words.PASSWORD_NEW()))
        return response


class PasswordForm(forms.Form):
    """A password for whoever comes back by a link of the office."""

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["password"] = password_field(words.PASSWORD_NEXT(), "new-password")


@never_cache
@sensitive_post_parameters("password")
@require_http_methods(["GET", "POST"])
def come_back(request: HttpRequest, secret: str) -> HttpResponse:
    """Come back in by the office's link: a new password, then a passkey on the new phone."""
    form = PasswordForm(request.POST or None)
    try:
        link = way_back_open(secret)
        given = None
        if request.method == "POST":
            given = valid(request, form)
        if given is not None:
            person = way_back_use(link=link, password=given["password"])
            login(request, person, backend=MODEL_BACKEND)
            return redirect("passkeys-first")
    except WayBack.DoesNotExist:
        raise Http404 from None
    except WayBackGone as gone:
        return render(
            request, "account/over.html", {"why": getattr(gone, "text", str(gone))}, status=410
        )
    except ValidationError as refused:
        refuse(request, refused)
    return render(request, "account/way_back.html", {"form": form, "link": link})
