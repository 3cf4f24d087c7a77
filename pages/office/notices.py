"""When notices are told, by which gateways, and what did not arrive."""

from calendar import day_name
from typing import Any
from uuid import UUID

from django import forms
from django.conf import settings
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods, require_POST

from jobs.models import Membership, Person, Role, Shop
from jobs.requests import SignedIn
from notifications.models import GatewayKind
from notifications.selectors import (
    delivery_read,
    office_troubles,
)
from notifications.services.outbox import delivery_retry
from notifications.services.rules import rules_set
from notifications.services.wishes import gateway_add
from pages.fields import ClockField, DaysField, choose_among
from pages.refusals import valid
from pages.responses import attempt, found_or_404, render_in


class RulesForm(forms.Form):
    """When the shop's notices are told."""

    morning = ClockField(label="what the calendar gives is told at")
    list_at = ClockField(label="next day's lists and visits are told at")
    permit_wait_days = forms.IntegerField(
        min_value=1, max_value=365, label="a permit not issued is told after days"
    )
    acknowledge_minutes = forms.IntegerField(
        min_value=1, max_value=1440, label="an urgent notice goes on after minutes"
    )
    permit_days = DaysField(label="a permit that ends is told so many days before")
    cover_days = DaysField(label="a cover date of a held area is told so many days before")
    owner = forms.ModelChoiceField(
        Person.objects.none(),
        required=False,
        empty_label="everybody in the office",
        label="the weekly summary goes to",
    )
    summary_on = forms.TypedChoiceField(
        choices=list(enumerate(day_name)), coerce=int, label="on the morning of"
    )

    def __init__(self, shop: Shop, *args: Any, **given: Any) -> None:
        super().__init__(*args, **given)
        office = Person.objects.filter(memberships__shop=shop, memberships__role=Role.OFFICE)
        choose_among(self, "owner", office.order_by("username"))


class GatewayForm(forms.Form):
    """A service for text messages, chat or push."""

    name = forms.CharField(max_length=60, label="name")
    kind = forms.ChoiceField(choices=GatewayKind.choices, label="what it is")
    url = forms.CharField(max_length=500, label="its address, {to} for the number, topic or room")
    account = forms.CharField(max_length=200, required=False, label="account, if it has one")
    secret = forms.CharField(
        max_length=500,
        required=False,
        strip=False,
        label="its token or password",
        widget=forms.PasswordInput(attrs={"autocomplete": "off"}),
    )
    sender = forms.CharField(max_length=60, required=False, label="number it sends from")


@login_required
@require_http_methods(["GET", "POST"])
def office(request: SignedIn) -> HttpResponse:
    """What did not arrive and why, and what the shop sets."""
    shop = _office_shop(request)
    rules = shop.notice_rules
    form = RulesForm(shop, request.POST or None, initial=vars(rules) | {"owner": rules.owner_id})
    given = None
    if request.method == "POST":
        given = valid(request, form)
    if given is not None and attempt(request, rules_set, shop=shop, **given) is not None:
        return redirect("notice-office")
    troubles = office_troubles(shop)
    context = {"shop": shop, "form": form, "gateway": GatewayForm(), "troubles": troubles}
    context["filed"] = settings.EMAIL_BACKEND.endswith("FiledEmailBackend")
    return render_in(request, shop, "office/notices.html", context)


@login_required
@require_POST
def gateway_new(request: SignedIn) -> HttpResponse:
    """Add a gateway."""
    shop = _office_shop(request)
    given = valid(request, GatewayForm(request.POST))
    if given is not None:
        attempt(request, gateway_add, shop=shop, **given)
    return redirect("notice-office")


@login_required
@require_POST
def retry(request: SignedIn, delivery_id: UUID) -> HttpResponse:
    """Try once more what was given up."""
    attempt(
        request, delivery_retry, delivery=found_or_404(delivery_read, request.user, delivery_id)
    )
    return redirect("notice-office")


def _office_shop(request: SignedIn) -> Shop:
    office = Membership.objects.filter(person=request.user, role=Role.OFFICE).order_by("id")
    membership = office.select_related("shop__notice_rules").first()
    if membership is None:
        raise Http404
    return membership.shop
