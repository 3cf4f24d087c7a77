"""Whoever is invited comes in by a link."""

from typing import Any

from allauth.account.internal.flows.login import record_authentication
from django import forms
from django.conf import settings
from django.contrib.auth import login
from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from config.languages import said_later
from jobs.invitations import InvitationGone, invitation_open
from jobs.models import (
    Invitation,
    Person,
    Role,
)
from jobs.services.people import invitation_accept
from pages.account import account_messages as words
from pages.account.forms import password_field
from pages.refusals import refuse, valid


class JoinForm(forms.Form):
    """Who somebody new will be."""

    full_name = forms.CharField(max_length=120, label=said_later(words.FULL_NAME()))
    username = forms.CharField(max_length=150, label=said_later(words.SIGN_IN_NAME()))
    password = password_field(words.PASSWORD(), "new-password")


@never_cache
@require_http_methods(["GET", "POST"])
def join(request: HttpRequest, secret: str) -> HttpResponse:
    """Come into a shop by an invitation: as who is signed in, or as somebody new."""
    person = None
    if request.user.is_authenticated:
        person = request.user
    form = JoinForm(None if person else request.POST or None)
    try:
        invitation = invitation_open(secret)
        given = None
        if request.method == "POST":
            given = _comer(request, person, form)
        if given is not None:
            joined = invitation_accept(person, invitation=invitation, **given)
            if person is None:
                login(request, joined, backend=settings.AUTHENTICATION_BACKENDS[0])
                record_authentication(request, joined, method="password")
            site = person is None and invitation.role != Role.OFFICE
            following = "jobs"
            if site:
                following = "passkeys-first"
            return redirect("guide" if invitation.role == Role.OFFICE else following)
    except Invitation.DoesNotExist:
        raise Http404 from None
    except InvitationGone as gone:
        return render(request, "account/join_gone.html", {"why": gone.text}, status=410)
    except ValidationError as refused:
        refuse(request, refused)
    return render(request, "account/join.html", {"form": form, "invitation": invitation})


def _comer(request: HttpRequest, person: Person | None, form: JoinForm) -> dict[str, Any] | None:
    """Who somebody new says to be; nothing is asked of who is signed in."""
    if person:
        return {}
    return valid(request, form)
