"""The programs that act for a reader, by tokens that the reader makes and revokes."""

from uuid import UUID

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from config.languages import said_later, say
from jobs.models import ApiToken
from jobs.requests import SignedIn
from jobs.services.tokens import token_make, token_revoke
from pages.account import account_messages as words
from pages.refusals import valid
from pages.responses import attempt, render_in

GOOD_FOR = (
    (30, said_later(words.DAYS(n=30))),
    (90, said_later(words.DAYS(n=90))),
    (365, said_later(words.A_YEAR())),
)
SCOPES = {
    ApiToken.Scope.READ: words.SCOPE_READ(),
    ApiToken.Scope.OBSERVE: words.SCOPE_OBSERVE(),
    ApiToken.Scope.WRITE: words.SCOPE_WRITE(),
}


def scope_choices() -> list[tuple[str, str]]:
    """What a token may allow, as its maker reads it."""
    return [(scope.value, say(text)) for scope, text in SCOPES.items()]


class TokenForm(forms.Form):
    """A program to let in."""

    name = forms.CharField(max_length=80, label=said_later(words.PROGRAM()))
    scope = forms.ChoiceField(choices=scope_choices, label=said_later(words.SCOPE()))
    days = forms.TypedChoiceField(choices=GOOD_FOR, coerce=int, label=said_later(words.VALID_FOR()))


@login_required
@require_http_methods(["GET", "POST"])
def programs(request: SignedIn) -> HttpResponse:
    """Every live token with when it was last used; a new one is shown this once."""
    form = TokenForm(request.POST or None)
    given = None
    if request.method == "POST":
        given = valid(request, form)
    if given is not None:
        scope = ApiToken.Scope(given["scope"])
        asked = {"name": given["name"], "scope": scope, "days": given["days"]}
        if made := attempt(request, token_make, **asked):
            token, secret = made
            text = words.TOKEN_MADE(program=token.name, secret=secret)
            messages.success(request, say(text))
            return redirect("programs")
    tokens = []
    for each in ApiToken.objects.filter(person=request.user, revoked_at=None):
        tokens.append((each, SCOPES[ApiToken.Scope(each.scope)]))
    context = {"tokens": tokens, "form": form, "now": timezone.now()}
    return render_in(request, None, "account/programs.html", context)


@login_required
@require_POST
def revoke(request: SignedIn, token_id: UUID) -> HttpResponse:
    """Let a token open nothing from now on."""
    token = get_object_or_404(ApiToken, id=token_id, person=request.user)
    attempt(request, token_revoke, token=token)
    return redirect("programs")
