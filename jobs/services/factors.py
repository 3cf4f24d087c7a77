"""Writes of second factors: turned on by their person, asked for at sign-in, turned off.

Keys are kept by `allauth.mfa` and read by its functions. What it cannot hold is done here, under a
lock: that a code is taken once and none before it (the library notes used codes in a cache, which a
process has to itself and which forgets), and that wrong codes are counted whoever races.
"""

import re
from datetime import datetime, timedelta

from allauth.mfa.models import Authenticator
from allauth.mfa.recovery_codes.internal.auth import RecoveryCodes
from allauth.mfa.totp.internal import auth as totp
from allauth.mfa.utils import decrypt
from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import QuerySet
from django.utils import timezone

from config.languages import said_later
from jobs.access import require_role
from jobs.models import Membership, Person, Role, SecondFactor
from jobs.secrets import digest_of
from jobs.services import refusal_messages as words

PERIOD = 30  # seconds
STEPS = (-1, 0, 1)
"""Codes that are taken, by steps of 30 seconds: a phone's clock may be that much off."""
TRIES, WAIT = 10, timedelta(minutes=15)
"""As for passwords: after so many wrong codes in a row none is looked at for so long."""
Type = Authenticator.Type


class TooManyTries(Exception):
    """Too many codes were wrong; wait until then."""

    def __init__(self, until: datetime) -> None:
        super().__init__(said_later(words.FACTOR_TRIES()))
        self.until = until


def factor_live(person: Person) -> SecondFactor | None:
    """The second factor that a person is asked for."""
    return _live(person).first()


def factor_pending(person: Person) -> SecondFactor | None:
    """The one that the person has begun to set up."""
    begun = SecondFactor.objects.filter(person=person, confirmed_at=None, ended_at=None)
    return begun.order_by("begun_at", "id").last()


def _live(person: Person) -> QuerySet[SecondFactor]:
    on = SecondFactor.objects.filter(person=person, ended_at=None)
    return on.exclude(confirmed_at=None)


def _kept(person: Person, kind: Type) -> Authenticator | None:
    return Authenticator.objects.filter(user=person, type=kind).first()


def phone_on(person: Person) -> Authenticator | None:
    """What the codes of the person's phone are computed from."""
    return _kept(person, Type.TOTP)


def codes_left(person: Person) -> int:
    """How many recovery codes the person has still."""
    kept = _kept(person, Type.RECOVERY_CODES)
    if kept:
        return len(kept.wrap().get_unused_codes())
    return 0


def passkeys_of(person: Person) -> QuerySet[Authenticator]:
    """The passkeys of a person, the oldest first."""
    return Authenticator.objects.filter(user=person, type=Type.WEBAUTHN).order_by("created_at")


@transaction.atomic
def factor_begin(actor: Person) -> SecondFactor:
    """Begin to set codes of a phone up; it asks for nothing until one of them was right."""
    if phone_on(actor):
        raise ValidationError(said_later(words.FACTOR_ON()))
    SecondFactor.objects.filter(person=actor, confirmed_at=None).delete()
    return SecondFactor.objects.create(
        person=actor, pending=totp.generate_totp_secret(), begun_at=timezone.now()
    )


@transaction.atomic
def factor_confirm(actor: Person, *, code: str, now: datetime | None = None) -> list[str]:
    """Turn on what was begun, by a first code of it; gives recovery codes, shown only once."""
    now = now or timezone.now()
    begun = factor_pending(actor)
    if begun is None:
        raise ValidationError(said_later(words.FACTOR_NOT_BEGUN()))
    pending = SecondFactor.objects.select_for_update().get(id=begun.id)
    step = _step(pending.pending, _plain(code), now, after=-1)
    if step is None:
        raise ValidationError(said_later(words.FACTOR_CODE()))
    if phone_on(actor):
        raise ValidationError(said_later(words.FACTOR_ON()))
    totp.TOTP.activate(actor, pending.pending)
    factor = _on(actor, pending, now)
    factor.last_step = step
    factor.save()
    return codes_renew(actor)


def _on(person: Person, pending: SecondFactor, now: datetime) -> SecondFactor:
    """The row under which codes are counted: that of a passkey which is on already, or this."""
    factor = _live(person).select_for_update().first()
    if factor is None:
        pending.confirmed_at, pending.pending = now, ""
        return pending
    pending.delete()
    return factor


@transaction.atomic
def passkey_added(actor: Person) -> list[str]:
    """Note that a passkey was added: from now on the password alone signs nobody in.

    Gives recovery codes, told this once, where the person has none yet.
    """
    now = timezone.now()
    if _live(actor).select_for_update().first() is None:
        SecondFactor.objects.create(person=actor, begun_at=now, confirmed_at=now)
    if codes_left(actor):
        return []
    return codes_renew(actor)


@transaction.atomic
def passkey_remove(actor: Person, *, passkey: Authenticator) -> None:
    """Remove one of the person's own passkeys."""
    if passkey.user_id != actor.id or passkey.type != Type.WEBAUTHN:
        raise Authenticator.DoesNotExist
    passkey.delete()
    if not phone_on(actor) and not passkeys_of(actor).exists():
        _end(actor, actor)


@transaction.atomic
def codes_renew(person: Person) -> list[str]:
    """New recovery codes in place of the old ones; shown only once."""
    Authenticator.objects.filter(user=person, type=Type.RECOVERY_CODES).delete()
    made = RecoveryCodes.activate(person).generate_codes()
    grouped: list[str] = []
    for code in made:
        grouped.append("-".join(re.findall("....", code)))
    return grouped


def factor_check(person: Person, *, code: str, now: datetime | None = None) -> bool:
    """Whether a code is one that signs in now; it is used up by that. Counts wrong ones.

    Raises TooManyTries, for a right code too, once too many were wrong.
    """
    return factor_used(person, code=code, now=now) is not None


def factor_used(person: Person, *, code: str, now: datetime | None = None) -> Authenticator | None:
    """As `factor_check`: what the code is of, or None where it is not good."""
    now = now or timezone.now()
    with transaction.atomic():
        factor = _live(person).select_for_update().first()
        if factor is None:
            return None
        used = None
        if factor.wait_until is None or factor.wait_until <= now:
            used = _use(factor, _plain(code), now)
            if used:
                factor.wrong = 0
            else:
                factor.wrong = factor.wrong + 1
            factor.wait_until = None
            if factor.wrong >= TRIES:
                factor.wrong, factor.wait_until = 0, now + WAIT
            factor.save(update_fields=["wrong", "wait_until", "last_step"])
    if factor.wait_until is not None:
        raise TooManyTries(factor.wait_until)
    return used


def _use(factor: SecondFactor, code: str, now: datetime) -> Authenticator | None:
    """Use a code up, of the phone or for its loss."""
    phone = _kept(factor.person, Type.TOTP)
    if phone is not None:
        step = _step(decrypt(phone.data["secret"]), code, now, after=factor.last_step)
        if step is not None:
            factor.last_step = step
            return phone
    codes = _kept(factor.person, Type.RECOVERY_CODES)
    if codes is None:
        return None
    of_old = "migrated_codes" in codes.data  # digests are all that was kept of these
    good = codes.wrap().validate_code(digest_of(code) if of_old else code)
    if good:
        return codes
    return None


def _step(secret: str, code: str, now: datetime, *, after: int) -> int | None:
    """The step whose code it is, if that is near and later than the last that was taken."""
    middle = int(now.timestamp()) // PERIOD
    for step in (middle + each for each in STEPS):
        shown = totp.format_hotp_value(totp.hotp_value(secret, step))
        if step > after and totp.compare_user_code(actual=code, expected=shown):
            return step
    return None


def _plain(code: str) -> str:
    """A code without the spaces and strokes that people and phones put in."""
    return re.sub(r"[\s-]", "", code).lower()


def factor_codes(actor: Person, *, code: str) -> list[str]:
    """New recovery codes in place of the old ones, for whoever has a code that is good."""
    _require_code(actor, code)
    return codes_renew(actor)


@transaction.atomic
def factor_end(actor: Person, *, code: str) -> None:
    """Turn one's own phone off, with a code of it or a recovery code; passkeys stay."""
    _require_code(actor, code)
    Authenticator.objects.filter(user=actor, type=Type.TOTP).delete()
    if not passkeys_of(actor).exists():
        _end(actor, actor)


def _require_code(actor: Person, code: str) -> None:
    try:
        good = factor_check(actor, code=code)
    except TooManyTries as refusal:
        raise ValidationError(*refusal.args) from None
    if not good:
        raise ValidationError(said_later(words.FACTOR_CODE_USED()))


def factor_lift(actor: Person, *, membership: Membership) -> SecondFactor:
    """Turn off the second factor of somebody of the shop who lost it. It stays recorded by whom."""
    require_role(actor, membership.shop, Role.OFFICE)
    if membership.person_id == actor.id:
        raise ValidationError(said_later(words.FACTOR_OWN()))
    require_no_other_shop(membership)
    return _end(actor, membership.person)


def require_no_other_shop(membership: Membership) -> None:
    """Refuse where another shop relies on how the person signs in."""
    others = Membership.objects.filter(person=membership.person).exclude(shop=membership.shop)
    if others.exists():
        fault = words.SIGN_IN_SHARED(person=str(membership.person))
        raise ValidationError(said_later(fault))


def factor_lift_by_server(person: Person) -> SecondFactor:
    """Turn it off for whoever runs the server."""
    return _end(None, person)


@transaction.atomic
def _end(actor: Person | None, person: Person) -> SecondFactor:
    factor = _live(person).select_for_update().first()
    if factor is None:
        raise ValidationError(said_later(words.FACTOR_OFF(person=str(person))))
    factor_drop(actor, person)
    factor.refresh_from_db()
    return factor


@transaction.atomic
def factor_drop(actor: Person | None, person: Person) -> None:
    """Take every key of a person away: phone, passkeys, recovery codes, whatever was begun."""
    Authenticator.objects.filter(user=person).delete()
    SecondFactor.objects.filter(person=person, confirmed_at=None).delete()
    _live(person).update(ended_at=timezone.now(), ended_by=actor)
