"""Writes of how a person is reached, each by the person or by the office of the shop."""

from datetime import time
from uuid import UUID

from django.conf import settings
from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import Max
from django.utils import timezone

from config.languages import said_later
from jobs.access import NotAllowed, require_role, role_in
from jobs.models import Person, Role, Shop
from jobs.secrets import digest_of
from notifications.channels.gateways import refuse_unfit
from notifications.messages import refusals
from notifications.models import Address, Channel, Gateway, Habits, Notice, NoticeRules, Wish
from notifications.services.planning import deliveries_plan


def _require_own_or_office(actor: Person, person: Person, shop: Shop) -> None:
    if role_in(person, shop) is None:
        raise NotAllowed(said_later(refusals.ADDRESS_STRANGER(person=str(person), shop=shop.name)))
    if actor.id != person.id:
        require_role(actor, shop, Role.OFFICE)


@transaction.atomic
def address_add(
    actor: Person,
    *,
    person: Person,
    shop: Shop,
    channel: Channel,
    target: str,
    gateway: Gateway | None = None,
) -> Address:
    """One more way to reach a person, after those that are there. A webhook gets a secret.

    Whoever could not be reached before is told what still stands.
    """
    _require_own_or_office(actor, person, shop)
    _refuse_gateway(shop, channel, gateway)
    last = Address.objects.filter(person=person).aggregate(last=Max("position"))["last"]
    target, whose = target.strip(" "), {"person": person, "channel": channel}
    # One that ended when they left is theirs again: whoever comes back may give it anew.
    ended = Address.objects.select_for_update().filter(**whose, ended_at__isnull=False)
    address = ended.filter(digest=digest_of(target)).first() or Address(**whose)
    address.shop, address.target, address.ended_at = shop, target, None
    address.paused_at, address.paused_because = None, ""
    address.gateway, address.secret, address.position = None, "", 0
    if channel == Channel.MESSAGE:
        address.gateway = gateway
    if channel == Channel.WEBHOOK:
        address.secret = webhook_secret()
    if last is not None:
        address.position = last + 1
    address.full_clean()
    address.save()
    _tell_untold(person, shop)
    return address


def _refuse_gateway(shop: Shop, channel: Channel, gateway: Gateway | None) -> None:
    """Raise ValidationError for a gateway that no message could go through, and for none."""
    if gateway is not None and gateway.shop_id != shop.id:
        raise ValidationError({"gateway": said_later(refusals.GATEWAY_OTHER_SHOP())})
    if gateway is not None and not gateway.kind:
        raise ValidationError({"gateway": said_later(refusals.GATEWAY_GONE())})
    if channel == Channel.MESSAGE and gateway is None:
        raise ValidationError({"gateway": said_later(refusals.GATEWAY_CHOOSE())})


def _tell_untold(person: Person, shop: Shop) -> None:
    """What stands and could not be sent, since there was nowhere to send it, goes out now."""
    still = Notice.objects.filter(person=person, shop=shop, seen_at=None, moot_at=None)
    untold = list(still.filter(deliveries=None).order_by("due_at", "id"))
    rules = NoticeRules.objects.select_related("shop").get(shop=shop)
    deliveries_plan(untold, rules, timezone.now())


def webhook_secret() -> str:
    """A signing secret as the Standard Webhooks specification writes it."""
    import base64
    import secrets

    return "whsec_" + base64.b64encode(secrets.token_bytes(24)).decode()


@transaction.atomic
def address_remove(actor: Person, *, address: Address) -> None:
    """Forget a way to reach a person, with what waited for it."""
    _require_own_or_office(actor, address.person, address.shop)
    address.delete()


@transaction.atomic
def address_resume(actor: Person, *, address: Address) -> Address:
    """Write to an address again that was paused, now that it was looked into."""
    _require_own_or_office(actor, address.person, address.shop)
    address.paused_at, address.paused_because = None, ""
    address.save(update_fields=["paused_at", "paused_because"])
    _tell_untold(address.person, address.shop)
    return address


@transaction.atomic
def habits_set(
    actor: Person,
    *,
    time_zone: str,
    quiet_from: time | None = None,
    quiet_to: time | None = None,
    digest_at: time | None = None,
) -> Habits:
    """A person's quiet hours and the hour of the one message a day."""
    if (quiet_from is None) != (quiet_to is None):
        raise ValidationError({"quiet_to": said_later(refusals.QUIET_ENDS())})
    if quiet_from is not None and quiet_from == quiet_to:
        raise ValidationError({"quiet_to": said_later(refusals.QUIET_NEVER())})
    habits = Habits(
        person=actor,
        time_zone=time_zone,
        quiet_from=quiet_from,
        quiet_to=quiet_to,
        digest_at=digest_at,
    )
    habits.full_clean(validate_unique=False)
    habits.save()
    return habits


@transaction.atomic
def wish_set(actor: Person, *, kind: str, way: str, at_once: bool = False) -> Wish:
    """By which channel a person wishes to be told of a kind, or not at all."""
    wish = Wish.objects.filter(person=actor, kind=kind).first() or Wish(person=actor, kind=kind)
    wish.way, wish.at_once = way, at_once
    wish.full_clean()
    wish.save()
    return wish


@transaction.atomic
def stop_kind(*, address_id: UUID, kind: str) -> Address | None:
    """End messages of a kind, as the link in one of them asks; no sign-in. The address it was."""
    address = Address.objects.select_related("person").filter(id=address_id).first()
    if address is not None:
        wish_set(address.person, kind=kind, way=Wish.Way.NOT)
    return address


@transaction.atomic
def gateway_add(
    actor: Person,
    *,
    shop: Shop,
    name: str,
    kind: str,
    url: str,
    account: str = "",
    secret: str = "",
    sender: str = "",
) -> Gateway:
    """A service that the shop sends text messages, chat or push through.

    One of that name whose kind is not offered any more is entered anew, so that whoever is
    reached through it need not give a number again.
    """
    require_role(actor, shop, Role.OFFICE)
    past = Gateway.objects.select_for_update().filter(shop=shop, name=name, kind="").first()
    gateway = past or Gateway(shop=shop, name=name)
    gateway.kind, gateway.url, gateway.fault = kind, url.strip(), ""
    gateway.account, gateway.secret, gateway.sender = account, secret, sender
    refuse_unfit(gateway, plain=bool(settings.ENVIRONMENT.studbay_private_networks))
    gateway.full_clean()
    gateway.save()
    return gateway


def seen_by_link(notice_id: UUID) -> Notice | None:
    """The one who has the link has seen the notice. None when it is no more."""
    from notifications.services.notices import mark_seen

    notice = Notice.objects.select_related("person", "job").filter(id=notice_id).first()
    if notice is not None:
        mark_seen(notice)
    return notice
