"""How a person is told: addresses, quiet hours, a wish for each kind, calendars."""

from typing import Any
from uuid import UUID

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import ValidationError
from django.db import transaction
from django.http import Http404, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_GET, require_POST

from config.languages import said_later, say
from inspections.selectors import job_read
from jobs.access import role_in
from jobs.models import Membership, Person, Role, Shop
from jobs.models.shops import zones
from jobs.requests import SignedIn
from notifications.models import Channel, Gateway, Habits, NoticeKind, Wish
from notifications.selectors import (
    address_read,
    addresses_of,
    feed_read,
    feeds_of,
)
from notifications.services.feeds import feed_open, feed_withdraw
from notifications.services.wishes import (
    address_add,
    address_remove,
    address_resume,
    habits_set,
    wish_set,
)
from pages.account import account_messages as words
from pages.fields import ClockField, choose_among
from pages.refusals import valid
from pages.responses import attempt, found_or_404, id_or_404, render_in

ZONES = [(name, name) for name in sorted(zones())]


class HabitsForm(forms.Form):
    """Quiet hours and the one message a day."""

    time_zone = forms.ChoiceField(choices=ZONES, label=said_later(words.TIME_ZONE()))
    quiet_from = ClockField(required=False, label=said_later(words.QUIET_FROM()))
    quiet_to = ClockField(required=False, label=said_later(words.QUIET_TO()))
    digest_at = ClockField(required=False, label=said_later(words.DIGEST_AT()))


class AddressForm(forms.Form):
    """One more way to be reached."""

    channel = forms.ChoiceField(choices=Channel.choices, label=said_later(words.CHANNEL()))
    target = forms.CharField(max_length=500, label=said_later(words.TARGET()), strip=False)
    gateway = forms.ModelChoiceField(
        Gateway.objects.none(), required=False, label=said_later(words.GATEWAY())
    )

    def __init__(self, shop: Shop, *args: Any) -> None:
        super().__init__(*args)
        choose_among(self, "gateway", shop.gateways.exclude(kind="").order_by("name"))


def _shop_of(request: SignedIn) -> Shop:
    """The reader's shop; the first one when there are several."""
    own = Membership.objects.filter(person=request.user).select_related("shop").order_by("id")
    membership = own.first()
    if membership is None:
        raise Http404
    return membership.shop


@login_required
@require_GET
def wishes(request: SignedIn) -> HttpResponse:
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
    kinds = []
    for kind, label in NoticeKind.choices:
        kinds.append((kind, label, kept.get(kind)))
    context = {
        "shop": shop,
        "addresses": addresses_of(request.user),
        "habits": HabitsForm(initial=start),
        "address": AddressForm(shop),
        "kinds": kinds,
        "ways": Wish.Way.choices,
        "feeds": feeds_of(request.user),
        "office": role_in(request.user, shop) == Role.OFFICE,
    }
    return render_in(request, shop, "account/wishes.html", context)


@login_required
@require_POST
def habits(request: SignedIn) -> HttpResponse:
    """Keep the reader's hours."""
    given = valid(request, HabitsForm(request.POST))
    if given is not None:
        attempt(request, habits_set, **given)
    return redirect("wishes")


@login_required
@require_POST
def wish(request: SignedIn) -> HttpResponse:
    """Keep the reader's wish for every kind."""

    @transaction.atomic  # all of them, or none
    def keep(person: Person) -> None:
        for kind in NoticeKind.values:
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
def address_new(request: SignedIn) -> HttpResponse:
    """Add an address of the reader's own; a webhook's secret is shown this once."""
    shop = _shop_of(request)
    given = valid(request, AddressForm(shop, request.POST))
    if given is not None:
        made = attempt(request, address_add, person=request.user, shop=shop, **given)
        if made is not None and made.secret:
            messages.success(request, say(words.WEBHOOK_SECRET(secret=made.secret)))
    return redirect("wishes")


@login_required
@require_POST
def address_change(request: SignedIn, address_id: UUID) -> HttpResponse:
    """Remove an address, or write to it again."""
    found = found_or_404(address_read, request.user, address_id)
    service = address_remove
    if "resume" in request.POST:
        service = address_resume
    attempt(request, service, address=found)
    return redirect("notice-office" if "office" in request.POST else "wishes")


@login_required
@require_POST
def feed_new(request: SignedIn) -> HttpResponse:
    """Open a calendar of the reader's own, or of one job."""
    job_id = request.POST.get("job", "")
    job = None
    if job_id:
        job = found_or_404(job_read, request.user, id_or_404(job_id))
    attempt(request, feed_open, shop=job.shop if job else _shop_of(request), job=job)
    return redirect("wishes")


@login_required
@require_POST
def feed_end(request: SignedIn, feed_id: UUID) -> HttpResponse:
    """Withdraw a calendar's link."""
    attempt(request, feed_withdraw, feed=found_or_404(feed_read, request.user, feed_id))
    return redirect("wishes")
