"""Asking again who it is before what an open screen must not do.

What was typed goes along in the page that asks, hidden, and is sent once more with the proof; so
nothing is lost and nothing waits on the server. The library's own way keeps the request that waits,
with the cookie that opens the session, in the row of that session.
"""

from collections.abc import Callable
from functools import wraps
from typing import Any

from allauth.account.internal.flows.login import record_authentication
from allauth.core.internal import ratelimit
from allauth.mfa.base.internal.flows import post_authentication
from allauth.mfa.webauthn.internal import auth as webauthn
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters

from config.proof import proven_lately
from jobs.requests import SignedIn
from jobs.services.factors import TooManyTries, factor_live, factor_used, passkeys_of
from pages.account import account_messages as words
from pages.account.forms import LONGEST, PasskeyAgain
from pages.account.presence import fresh_key
from pages.refusals import refuse

View = Callable[..., HttpResponse]
PROOFS = ("again_password", "again_code", "again_credential")
UNSENT = {"csrfmiddlewaretoken", "again", "again_look", *PROOFS}


def asks_again(view: View, *, looking: bool = False) -> View:
    """Let a view write only for somebody who has just proved who they are.

    With `looking` it shows nothing before either.
    """

    @wraps(view)
    @never_cache
    @login_required
    @sensitive_post_parameters(*PROOFS)
    def answer(request: SignedIn, *args: Any, **given: Any) -> HttpResponse:
        looks = request.method in ("GET", "HEAD")
        if (looks and not looking) or proven_lately(request):
            return view(request, *args, **given)
        if request.method != "POST" or "again" not in request.POST:
            return _ask(request, looks)
        if not _proved(request):
            return _ask(request, "again_look" in request.POST)
        if "again_look" in request.POST:
            return redirect(request.get_full_path())
        return view(request, *args, **given)

    return answer


def _ask(request: SignedIn, looks: bool) -> HttpResponse:
    """The page that asks, with all that was typed."""
    person = request.user
    typed = []
    for name, values in request.POST.lists():
        if name not in UNSENT:
            for value in values:
                typed.append((name, value))
    factor, passkeys = factor_live(person), passkeys_of(person).exists()
    context = {
        "typed": typed,
        "looks": looks,
        "codes": factor is not None,
        "password": person.has_usable_password(),
        "options": webauthn.begin_authentication(person) if passkeys else None,
        "to": request.get_full_path(),
    }
    return render(request, "account/again.html", context, status=403)


def _proved(request: SignedIn) -> bool:
    """Whether what was given is the password, a code or a passkey; a refusal says what is wrong."""
    counted = ratelimit.consume(
        request, app="allauth.account", action="reauthenticate", user=request.user
    )
    if not counted:
        refuse(request, words.TOO_MANY_TRIES(), status=429)
        return False
    if request.POST.get("again_credential"):
        return _by_passkey(request)
    if request.POST.get("again_code"):
        return _by_code(request)
    return _by_password(request)


def _by_password(request: SignedIn) -> bool:
    person = request.user
    if not person.check_password(request.POST.get("again_password", "")[:LONGEST]):
        refuse(request, words.PASSWORD_WRONG(), at="again_password")
        return False
    fresh_key(request)
    record_authentication(request, person, method="password", reauthenticated=True)
    return True


def _by_code(request: SignedIn) -> bool:
    try:
        used = factor_used(request.user, code=request.POST["again_code"][:40])
    except TooManyTries:
        refuse(request, words.TOO_MANY_TRIES(), at="again_code", status=429)
        return False
    if used is None:
        refuse(request, words.CODE_WRONG(), at="again_code")
        return False
    used.user = request.user
    fresh_key(request)
    post_authentication(request, used, reauthenticated=True)
    return True


def _by_passkey(request: SignedIn) -> bool:
    given = {"credential": request.POST["again_credential"]}
    form = PasskeyAgain(given, user=request.user)
    if not form.is_valid():
        refuse(request, words.PASSKEY_WRONG(), unshown=["again_credential"])
        return False
    used = form.cleaned_data["credential"]
    used.user = request.user
    fresh_key(request)
    post_authentication(request, used, reauthenticated=True)
    return True
