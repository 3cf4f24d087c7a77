"""A person's second factor: on with a code of the phone, off with another, or by the office."""

import re
from collections.abc import Callable
from typing import Any
from uuid import UUID

import segno
from allauth.mfa.adapter import get_adapter
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import ValidationError
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_GET, require_POST

from config.languages import say
from jobs.models import Membership, SecondFactor
from jobs.requests import SignedIn
from jobs.services.factors import (
    codes_left,
    factor_begin,
    factor_codes,
    factor_confirm,
    factor_end,
    factor_lift,
    factor_live,
    factor_pending,
    phone_on,
)
from pages.account import account_messages as words
from pages.refusals import refuse
from pages.responses import attempt, office_shop, render_in


@never_cache
@login_required
@require_GET
def second_factor(request: SignedIn) -> HttpResponse:
    """Whether it is on; what was begun, with the square that a phone reads."""
    on, pending = factor_live(request.user), factor_pending(request.user)
    ended = SecondFactor.objects.filter(person=request.user).exclude(ended_at=None)
    context: dict[str, Any] = {"on": on, "ended": ended.select_related("ended_by").last()}
    context |= {"phone": phone_on(request.user), "left": codes_left(request.user)}
    if pending and not context["phone"]:
        secret = pending.pending
        address = get_adapter().build_totp_url(request.user, secret)
        context["secret"] = " ".join(re.findall("....", secret))
        context["square"] = segno.make(address, error="m").png_data_uri(scale=5, border=4)
    return render_in(request, None, "account/second_factor.html", context)


@require_POST
def second_factor_begin(request: SignedIn) -> HttpResponse:
    """Begin to set it up; who it is was asked before, so that an open screen is not enough."""
    attempt(request, factor_begin)
    return redirect("second-factor")


@never_cache
@login_required
@sensitive_post_parameters("code")
@require_POST
def second_factor_confirm(request: SignedIn) -> HttpResponse:
    """Turn it on by a first code; the recovery codes are shown this once."""
    return _codes(request, factor_confirm)


@never_cache
@login_required
@sensitive_post_parameters("code")
@require_POST
def codes(request: SignedIn) -> HttpResponse:
    """New recovery codes, shown this once; the old ones are good no more."""
    return _codes(request, factor_codes)


def _codes(request: SignedIn, service: Callable[..., list[str]]) -> HttpResponse:
    """Codes go into this answer alone: a message for the next page would be kept in a cookie."""
    try:
        made = service(request.user, code=request.POST.get("code", "")[:40])
    except ValidationError as refused:
        refuse(request, refused, at="code")
        return redirect("second-factor")
    return render(request, "account/second_factor_codes.html", {"codes": made})


@login_required
@sensitive_post_parameters("code")
@require_POST
def second_factor_off(request: SignedIn) -> HttpResponse:
    """Turn it off."""
    try:
        factor_end(request.user, code=request.POST.get("code", "")[:40])
    except ValidationError as refused:
        refuse(request, refused, at="code")
    else:
        messages.success(request, say(words.CODES_OFF()))
    return redirect("second-factor")


@login_required
@require_POST
def lift(request: SignedIn, membership_id: UUID) -> HttpResponse:
    """The office turns it off for somebody who lost the phone."""
    found = get_object_or_404(Membership, id=membership_id, shop=office_shop(request))
    attempt(request, factor_lift, membership=found)
    return redirect("people")
