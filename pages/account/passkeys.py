"""Passkeys: added on the phone that shall sign in, named, removed."""

from allauth.account.internal.flows.login import record_authentication
from allauth.mfa.models import Authenticator
from allauth.mfa.webauthn.internal import auth as webauthn
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from config.languages import say
from jobs.requests import SignedIn
from jobs.services.factors import passkey_added, passkey_remove, passkeys_of
from pages.account import account_messages as words
from pages.account.forms import AddPasskey
from pages.refusals import refuse
from pages.responses import attempt, render_in

LONGEST = 80


@never_cache
@sensitive_post_parameters("credential")
@require_http_methods(["GET", "POST"])
def add(request: SignedIn) -> HttpResponse:
    """Add one; the codes for its loss are shown this once."""
    if request.method == "POST" and (made := _added(request)) is not None:
        if made:
            return render_in(request, None, "account/second_factor_codes.html", {"codes": made})
        messages.success(request, say(words.PASSKEY_ADDED()))
        return redirect("account")
    context = {"options": webauthn.begin_registration(request.user, passwordless=True)}
    return render_in(request, None, "account/passkey.html", context)


def _added(request: SignedIn) -> list[str] | None:
    """Recovery codes that came with it, if they are the first; None when it was refused."""
    person = request.user
    name = request.POST.get("name", "").strip()[:LONGEST]
    given = {"name": name, "credential": request.POST.get("credential", ""), "passwordless": "on"}
    form = AddPasskey(given, user=person)
    if not form.is_valid():
        refuse(request, words.PASSKEY_REFUSED(), unshown=["credential"])
        return None
    name = name or say(words.PASSKEY_NUMBER(n=passkeys_of(person).count() + 1))
    kept = webauthn.WebAuthn.add(person, name, form.cleaned_data["credential"]).instance
    made = passkey_added(person)
    record_authentication(request, person, "mfa", id=kept.pk, type=kept.type)
    return made


@login_required
@require_GET
def first_passkey(request: SignedIn) -> HttpResponse:
    """What somebody who has just joined is asked: will this device sign you in?"""
    return render_in(request, None, "account/first.html", {"passkeys": passkeys_of(request.user)})


def _own(request: SignedIn, passkey_id: int) -> Authenticator:
    passkey: Authenticator = get_object_or_404(passkeys_of(request.user), id=passkey_id)
    return passkey


@require_POST
def rename(request: SignedIn, passkey_id: int) -> HttpResponse:
    """Call one something else."""
    passkey = _own(request, passkey_id)
    name = request.POST.get("name", "").strip()[:LONGEST]
    if not name:
        refuse(request, words.PASSKEY_UNNAMED(), at="name")
    else:
        passkey.data["name"] = name
        passkey.save(update_fields=["data"])
    return redirect("account")


@require_POST
def remove(request: SignedIn, passkey_id: int) -> HttpResponse:
    """Remove a passkey."""
    attempt(request, passkey_remove, passkey=_own(request, passkey_id))
    return redirect("account")
