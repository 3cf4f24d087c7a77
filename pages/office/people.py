"""The office keeps who is in the shop."""

from typing import Any
from uuid import UUID

from django import forms
from django.contrib import messages
from django.contrib.auth import logout
from django.contrib.auth.decorators import login_required
from django.db.models import Prefetch
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from config.languages import say
from jobs.models import (
    Builder,
    Invitation,
    Membership,
    Role,
    SecondFactor,
    Shop,
    WayBack,
)
from jobs.requests import SignedIn
from jobs.services.people import (
    builder_add,
    invitation_make,
    invitation_withdraw,
    locations_set,
    membership_change,
    membership_end,
    office_first_set,
)
from jobs.services.ways_back import way_back_make
from pages.fields import choose_among
from pages.office.labels import FIRM, INVITED, SHOP_ITSELF, WAY_BACK
from pages.refusals import refusal_of, valid
from pages.responses import attempt, office_shop, render_in


class RoleForm(forms.Form):
    """A role in the shop, with the firm that a builder's person is of."""

    role = forms.ChoiceField(choices=Role.choices)
    builder = forms.ModelChoiceField(
        Builder.objects.none(), required=False, label=FIRM, empty_label=SHOP_ITSELF
    )

    def __init__(self, shop: Shop, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        choose_among(self, "builder", Builder.objects.filter(shop=shop).order_by("name"))


class InviteForm(RoleForm):
    """Somebody to invite."""

    for_whom = forms.CharField(max_length=120)


@login_required
@require_GET
def people(request: SignedIn) -> HttpResponse:
    """Everybody in the shop, who is invited, and the firms it works for."""
    shop = office_shop(request)
    members = shop.memberships.select_related("person", "builder").prefetch_related(
        Prefetch("person__second_factors", SecondFactor.objects.exclude(confirmed_at=None)),
        Prefetch("person__ways_back", WayBack.objects.filter(shop=shop).select_related("made_by")),
    )
    context = {
        "shop": shop,
        "members": members.order_by("role", "builder__name", "person__first_name", "id"),
        "invitations": shop.invitations.filter(used_at=None, withdrawn_at=None),
        "firms": shop.builders.order_by("name"),
        "roles": Role.choices,
        "invite": InviteForm(shop),
    }
    return render_in(request, shop, "office/people.html", context)


@login_required
@require_POST
def invite(request: SignedIn) -> HttpResponse:
    """Invite somebody; the address is shown this once."""
    shop = office_shop(request)
    given = _role_given(request, InviteForm(shop, request.POST))
    made = None
    if given:
        made = attempt(request, invitation_make, shop=shop, **given)
    if made:
        invitation, secret = made
        address = request.build_absolute_uri(reverse("join", args=[secret]))
        messages.success(request, say(INVITED(person=invitation.for_whom, url=address)))
    return redirect("people")


def _role_given(request: HttpRequest, form: RoleForm) -> dict[str, Any] | None:
    """What a form with a role was sent, as the services take it; None when it will not do."""
    given = valid(request, form)
    if given is None:
        return None
    return given | {"role": Role(given["role"])}


@login_required
@require_POST
def withdraw_invitation(request: SignedIn, invitation_id: UUID) -> HttpResponse:
    """Take an invitation back."""
    found = get_object_or_404(Invitation, id=invitation_id, shop=office_shop(request))
    attempt(request, invitation_withdraw, invitation=found)
    return redirect("people")


@login_required
@require_POST
def member(request: SignedIn, membership_id: UUID) -> HttpResponse:
    """Give somebody another role, or let them go."""
    shop = office_shop(request)
    found = get_object_or_404(Membership, id=membership_id, shop=shop)
    if "gone" in request.POST:
        attempt(request, membership_end, membership=found)
    elif given := _role_given(request, RoleForm(shop, request.POST)):
        attempt(request, membership_change, membership=found, **given)
    own = found.person_id == request.user.id
    if own and not request.user.memberships.exists():
        logout(request)  # their sessions ended with the membership
        return redirect("account_login")
    return redirect("jobs" if own and refusal_of(request) is None else "people")


@require_POST
def make_way_back(request: SignedIn, membership_id: UUID) -> HttpResponse:
    """Let somebody who lost phone or password come in once by a link, shown this once."""
    found = get_object_or_404(Membership, id=membership_id, shop=office_shop(request))
    if made := attempt(request, way_back_make, membership=found):
        link, secret = made
        address = request.build_absolute_uri(reverse("way-back", args=[secret]))
        messages.success(request, say(WAY_BACK(person=str(link.person), url=address)))
    return redirect("people")


@login_required
@require_POST
def firm(request: SignedIn) -> HttpResponse:
    """One more builder."""
    name = request.POST.get("name", "")[:120]
    attempt(request, builder_add, shop=office_shop(request), name=name)
    return redirect("people")


@login_required
@require_POST
def office_first(request: SignedIn) -> HttpResponse:
    """Whether the office looks at what people on site find otherwise before it is recorded."""
    shop = office_shop(request)
    attempt(request, office_first_set, shop=shop, first="first" in request.POST)
    return redirect("people")


@login_required
@require_POST
def locations(request: SignedIn) -> HttpResponse:
    """Whether photographs keep where they were taken."""
    shop = office_shop(request)
    attempt(request, locations_set, shop=shop, keep="keep" in request.POST)
    return redirect("people")
