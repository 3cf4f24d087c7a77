"""A person's wishes, a job's notices with who has seen what, and what the office must mend."""

from calendar import day_name
from typing import Any
from uuid import UUID
from zoneinfo import available_timezones

from django import forms
from django.conf import settings
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import ValidationError
from django.db import transaction
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from inspections.selectors import job_read, latest_revision
from jobs.access import role_in
from jobs.models import Membership, Person, Role, Shop
from notifications.models import Channel, Gateway, GatewayKind, Habits, Kind, Wish
from notifications.selectors import (
    address_read,
    addresses_of,
    delivery_read,
    feed_read,
    feeds_of,
    given_for_job,
    office_troubles,
)
from notifications.services import (
    address_add,
    address_remove,
    address_resume,
    delivery_retry,
    feed_open,
    feed_withdraw,
    gateway_add,
    habits_set,
    rules_set,
    wish_set,
)
from pages.asking import attempt, found_or_404, id_or_404, render_at, render_in, site_only
from pages.refused import valid

ZONES = [(name, name) for name in sorted(available_timezones())]


class ClockField(forms.TimeField):
    """An hour of the day, as a browser's own field for it."""

    widget = forms.TimeInput(format="%H:%M", attrs={"type": "time"})


class HabitsForm(forms.Form):
    """Quiet hours and the one message a day."""

    time_zone = forms.ChoiceField(choices=ZONES, label="my time zone")
    quiet_from = ClockField(required=False, label="quiet from")
    quiet_to = ClockField(required=False, label="quiet until")
    digest_at = ClockField(required=False, label="one message a day, at")


class AddressForm(forms.Form):
    """One more way to be reached."""

    channel = forms.ChoiceField(choices=Channel.choices, label="by")
    target = forms.CharField(max_length=500, label="address, number or URL", strip=False)
    gateway = forms.ModelChoiceField(
        Gateway.objects.none(), required=False, label="through (for a message)"
    )

    def __init__(self, shop: Shop, *args: Any) -> None:
        super().__init__(*args)
        self.fields["gateway"].queryset = shop.gateways.exclude(kind="").order_by("name")


def _shop_of(request: HttpRequest) -> Shop:
    """The reader's shop; the first one when there are several."""
    own = Membership.objects.filter(person=request.user).select_related("shop").order_by("id")
    membership = own.first()
    if membership is None:
        raise Http404
    return membership.shop


@login_required
@require_GET
def wishes(request: HttpRequest) -> HttpResponse:
    """How the reader is told: addresses, quiet hours, a wish for each kind, calendars."""
    shop = _shop_of(request)
    habits = Habits.objects.filter(person=request.user).first()
    start = {"time_zone": shop.time_zone}
    if habits is not None:
        names = ("time_zone", "quiet_from", "quiet_to", "digest_at")
        start = {}
        for name in names:
            start[name] = getattr(habits, name)
    kept = {wish.kind: wish for wish in Wish.objects.filter(person=request.user)}
    context = {
        "shop": shop,
        "addresses": addresses_of(request.user),
        "habits": HabitsForm(initial=start),
        "address": AddressForm(shop),
        "kinds": [(kind, label, kept.get(kind)) for kind, label in Kind.choices],
        "ways": Wish.Way.choices,
        "feeds": feeds_of(request.user),
        "office": role_in(request.user, shop) == Role.OFFICE,
    }
    return render_in(request, shop, "wishes.html", context)


@login_required
@require_POST
def habits(request: HttpRequest) -> HttpResponse:
    """Keep the reader's hours."""
    given = valid(request, HabitsForm(request.POST))
    if given is not None:
        attempt(request, habits_set, **given)
    return redirect("wishes")


@login_required
@require_POST
def wish(request: HttpRequest) -> HttpResponse:
    """Keep the reader's wish for every kind."""

    @transaction.atomic  # all of them, or none
    def keep(person: Person) -> None:
        for kind in Kind.values:
            way = request.POST.get(f"way-{kind}", Wish.Way.FIRST)
            at_once = f"at-once-{kind}" in request.POST
            try:
                wish_set(person, kind=kind, way=way, at_once=at_once)
            except ValidationError as refused:
                raise ValidationError({f"way-{kind}": refused.messages}) from None

    attempt(request, keep)
    return redirect("wishes")


@login_required
@require_POST
def address_new(request: HttpRequest) -> HttpResponse:
    """Add an address of the reader's own; a webhook's secret is shown this once."""
    shop = _shop_of(request)
    given = valid(request, AddressForm(shop, request.POST))
    if given is not None:
        made = attempt(request, address_add, person=request.user, shop=shop, **given)
        if made is not None and made.secret:
            messages.success(request, f"The signing secret, shown this once: {made.secret}")
    return redirect("wishes")


@login_required
@require_POST
def address_change(request: HttpRequest, address_id: UUID) -> HttpResponse:
    """Remove an address, or write to it again."""
    found = found_or_404(address_read, request.user, address_id)
    service = address_remove
    if "resume" in request.POST:
        service = address_resume
    attempt(request, service, address=found)
    return redirect("notice-office" if "office" in request.POST else "wishes")


@login_required
@require_POST
def feed_new(request: HttpRequest) -> HttpResponse:
    """Open a calendar of the reader's own, or of one job."""
    job_id = request.POST.get("job", "")
    job = None
    if job_id:
        job = found_or_404(job_read, request.user, id_or_404(job_id))
    attempt(request, feed_open, shop=job.shop if job else _shop_of(request), job=job)
    return redirect("wishes")


@login_required
@require_POST
def feed_end(request: HttpRequest, feed_id: UUID) -> HttpResponse:
    """Withdraw a calendar's link."""
    attempt(request, feed_withdraw, feed=found_or_404(feed_read, request.user, feed_id))
    return redirect("wishes")


@login_required
@require_GET
def of_job(request: HttpRequest, job_id: UUID) -> HttpResponse:
    """What was given about a job: to whom, how it went, who has seen it."""
    job = found_or_404(job_read, request.user, job_id)
    site_only(request.user, job.shop)
    context = {"job": job, "given": given_for_job(job), "revision": latest_revision(job)}
    return render_at(request, job, "job_notices.html", context)


class DaysField(forms.CharField):
    """Numbers of days, one after another."""

    def prepare_value(self, value: Any) -> Any:
        """`[30, 14, 7]` as a person writes it."""
        if isinstance(value, list):
            return ", ".join(map(str, value))
        return value

    def to_python(self, value: Any) -> list[int]:
        """The numbers, or a fault that says how to write them."""
        parts = super().to_python(value).replace(",", " ").split()
        if not all(part.isdecimal() and len(part) < 4 for part in parts):
            raise forms.ValidationError("Write numbers of days, as 30, 14, 7.")
        days: list[int] = []
        for part in parts:
            days.append(int(part))
        return days


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
        self.fields["owner"].queryset = office.order_by("username")


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
def office(request: HttpRequest) -> HttpResponse:
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
    return render_in(request, shop, "notice_office.html", context)


@login_required
@require_POST
def gateway_new(request: HttpRequest) -> HttpResponse:
    """Add a gateway."""
    shop = _office_shop(request)
    given = valid(request, GatewayForm(request.POST))
    if given is not None:
        attempt(request, gateway_add, shop=shop, **given)
    return redirect("notice-office")


@login_required
@require_POST
def retry(request: HttpRequest, delivery_id: UUID) -> HttpResponse:
    """Try once more what was given up."""
    attempt(
        request, delivery_retry, delivery=found_or_404(delivery_read, request.user, delivery_id)
    )
    return redirect("notice-office")


def _office_shop(request: HttpRequest) -> Shop:
    office = Membership.objects.filter(person=request.user, role=Role.OFFICE).order_by("id")
    membership = office.select_related("shop__notice_rules").first()
    if membership is None:
        raise Http404
    return membership.shop
