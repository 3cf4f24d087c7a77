"""The programs that act for a reader, by tokens that the reader makes and revokes."""

from uuid import UUID

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_http_methods, require_POST

from jobs.models import ApiToken
from jobs.services import token_make, token_revoke
from pages.asking import attempt, render_in
from pages.refused import valid


class TokenForm(forms.Form):
    """A program to let in."""

    name = forms.CharField(max_length=80, label="program")
    scope = forms.ChoiceField(choices=ApiToken.Scope.choices, label="it may")


@login_required
@require_http_methods(["GET", "POST"])
def programs(request: HttpRequest) -> HttpResponse:
    """Every live token with when it was last used; a new one is shown this once."""
    form = TokenForm(request.POST or None)
    given = valid(request, form) if request.method == "POST" else None
    if given is not None:
        scope = ApiToken.Scope(given["scope"])
        if made := attempt(request, token_make, name=given["name"], scope=scope):
            messages.success(request, f"For {made[0].name}, shown this once: {made[1]}")
            return redirect("programs")
    tokens = ApiToken.objects.filter(person=request.user, revoked_at=None)
    return render_in(request, None, "programs.html", {"tokens": tokens, "form": form})


@login_required
@require_POST
def revoke(request: HttpRequest, token_id: UUID) -> HttpResponse:
    """Let a token open nothing from now on."""
    token = get_object_or_404(ApiToken, id=token_id, person=request.user)
    attempt(request, token_revoke, token=token)
    return redirect("programs")
