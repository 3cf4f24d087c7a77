"""Writes of the way back: a link by which somebody who lost phone or password comes in once."""

from datetime import timedelta

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from config.languages import said_later
from jobs.access import require_role
from jobs.models import Membership, Person, Role, WayBack
from jobs.secrets import digest_of, new_secret
from jobs.services import refusal_messages as words
from jobs.services.factors import factor_drop, require_no_other_shop
from jobs.services.sessions import everything_end

GOOD_FOR = timedelta(days=1)


class WayBackGone(Exception):
    """The link was good once and no longer is; the text says whom to ask."""


@transaction.atomic
def way_back_make(actor: Person, *, membership: Membership) -> tuple[WayBack, str]:
    """A link that lets somebody of the shop in once, and its secret, which is shown only once.

    At once everything that opened the account before ends: password, phone, passkeys, sessions and
    tokens, since whoever found the phone has them too. The row stays, with who made it.
    """
    require_role(actor, membership.shop, Role.OFFICE)
    if membership.person_id == actor.id:
        raise ValidationError(said_later(words.LINK_OWN()))
    require_no_other_shop(membership)
    person = Person.objects.select_for_update().get(id=membership.person_id)
    now, secret = timezone.now(), new_secret()
    WayBack.objects.filter(person=person, used_at=None, expires_at__gt=now).update(expires_at=now)
    made = WayBack.objects.create(
        shop=membership.shop,
        person=person,
        digest=digest_of(secret),
        made_by=actor,
        made_at=now,
        expires_at=now + GOOD_FOR,
    )
    person.set_unusable_password()
    person.save(update_fields=["password"])
    factor_drop(actor, person)
    everything_end(person)
    return made, secret


def way_back_open(secret: str) -> WayBack:
    """The link of that secret. Raises WayBack.DoesNotExist, or WayBackGone when it is over."""
    found = WayBack.objects.select_related("person", "shop").get(digest=digest_of(secret))
    _require_good(found)
    return found


def _require_good(link: WayBack) -> None:
    if link.used_at is not None:
        raise WayBackGone(said_later(words.LINK_USED()))
    gone = not link.person.is_active
    if gone or link.expires_at <= timezone.now() or not _works_there(link):
        raise WayBackGone(said_later(words.LINK_OVER(shop=link.shop.name)))


def _works_there(link: WayBack) -> bool:
    return Membership.objects.filter(person=link.person_id, shop=link.shop_id).exists()


@transaction.atomic
def way_back_use(*, link: WayBack, password: str) -> Person:
    """Choose a new password by the link, which is used up.

    Raises WayBackGone, or ValidationError for a password that will not do.
    """
    fresh = WayBack.objects.select_for_update(of=("self",)).select_related("person", "shop")
    kept = fresh.get(id=link.id)
    _require_good(kept)
    person = kept.person
    try:
        validate_password(password, person)
    except ValidationError as refused:
        raise ValidationError({"password": refused.messages}) from None
    person.set_password(password)
    person.save(update_fields=["password"])
    kept.used_at = timezone.now()
    kept.save(update_fields=["used_at"])
    return person
