"""When notifications go out, by which gateways, and what did not arrive."""

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
from pages.fields import DAYS, ClockField, DaysField, choose_among
from pages.office.labels import EVERYBODY, GATEWAY, NOTICES
from pages.refusals import valid
from pages.responses import attempt, found_or_404, render_in


class RulesForm(forms.Form):
    """When the shop's notifications go out."""

    morning = ClockField(label=NOTICES["morning"])
    list_at = ClockField(label=NOTICES["list_at"])
    permit_wait_days = forms.IntegerField(
        min_value=1, max_value=365, label=NOTICES["permit_wait_days"]
    )
    acknowledge_minutes = forms.IntegerField(
        min_value=1, max_value=1440, label=NOTICES["acknowledge_minutes"]
    )
    permit_days = DaysField(label=NOTICES["permit_days"])
    cover_days = DaysField(label=NOTICES["cover_days"])
    owner = forms.ModelChoiceField(
        Person.objects.none(),
        required=False,
        empty_label=EVERYBODY,
        label=NOTICES["owner"],
    )
    summary_on = forms.TypedChoiceField(choices=DAYS, coerce=int, label=NOTICES["summary_on"])

    def __init__(self, shop: Shop, *args: Any, **given: Any) -> None:
        super().__init__(*args, **given)
        office = Person.objects.filter(memberships__shop=shop, memberships__role=Role.OFFICE)
        choose_among(self, "owner", office.order_by("username"))


class GatewayForm(forms.Form):
    """A service for text messages, chat or push."""

    name = forms.CharField(max_length=60, label=GATEWAY["name"])
    kind = forms.ChoiceField(choices=GatewayKind.choices, label=GATEWAY["kind"])
    url = forms.CharField(max_length=500, label=GATEWAY["url"])
    account = forms.CharField(max_length=200, required=False, label=GATEWAY["account"])
    secret = forms.CharField(
        max_length=500,
        required=False,
        strip=False,
        label=GATEWAY["secret"],
        widget=forms.PasswordInput(attrs={"autocomplete": "off"}),
    )
    sender = forms.CharField(max_length=60, required=False, label=GATEWAY["sender"])


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
