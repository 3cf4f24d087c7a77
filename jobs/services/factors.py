"""Writes of second factors: turned on by their person, asked for at sign-in, turned off."""

import re
import secrets
from datetime import datetime, timedelta

import pyotp
from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone
from pyotp.utils import strings_equal

from jobs.access import require_role
from jobs.models import Membership, Person, RecoveryCode, Role, SecondFactor
from jobs.secrets import digest_of

STEPS = (-1, 0, 1)
"""Codes that are taken, by steps of 30 seconds: a phone's clock may be that much off."""
TRIES, WAIT = 10, timedelta(minutes=15)
"""As for passwords: after so many wrong codes in a row none is looked at for so long."""
CODES = 10
ALPHABET = "abcdefghjkmnpqrstuvwxyz23456789"
"""Letters and digits that are not taken for one another."""


class TooManyTries(Exception):
    """Too many codes were wrong; wait until then."""

    def __init__(self, until: datetime) -> None:
        super().__init__("Too many codes were wrong. Wait a quarter of an hour, then try again.")
        self.until = until


def factor_live(person: Person) -> SecondFactor | None:
    """The second factor that a person is asked for."""
    return _live(person).first()


def factor_pending(person: Person) -> SecondFactor | None:
    """The one that the person has begun to set up."""
    begun = SecondFactor.objects.filter(person=person, confirmed_at=None, ended_at=None)
    return begun.order_by("begun_at", "id").last()


def _live(person: Person):
    on = SecondFactor.objects.filter(person=person, ended_at=None)
    return on.exclude(confirmed_at=None)


@transaction.atomic
def factor_begin(actor: Person) -> SecondFactor:
    """Begin to set a second factor up; it asks for nothing until a code of it was right."""
    if factor_live(actor):
        raise ValidationError("It is on already; turn it off first.")
    SecondFactor.objects.filter(person=actor, confirmed_at=None).delete()
    return SecondFactor.objects.create(
        person=actor, secret=pyotp.random_base32(), begun_at=timezone.now()
    )


@transaction.atomic
def factor_confirm(actor: Person, *, code: str, now: datetime | None = None) -> list[str]:
    """Turn on what was begun, by a first code of it; gives recovery codes, told this once."""
    now = now or timezone.now()
    pending = factor_pending(actor)
    if pending is None:
        raise ValidationError("Nothing is being set up; begin again.")
    factor = SecondFactor.objects.select_for_update().get(id=pending.id)
    step = _step(factor, _plain(code), now)
    if step is None:
        raise ValidationError(
            "That is not the code of this moment. Is the phone's clock set by itself?"
        )
    if factor_live(actor):
        raise ValidationError("It is on already; turn it off first.")
    factor.confirmed_at, factor.last_step = now, step
    factor.save()
    return _new_codes(factor)


def _new_codes(factor: SecondFactor) -> list[str]:
    factor.recovery_codes.all().delete()
    made = ["".join(secrets.choice(ALPHABET) for _ in range(16)) for _ in range(CODES)]
    RecoveryCode.objects.bulk_create(
        RecoveryCode(factor=factor, digest=digest_of(code)) for code in made
    )
    return ["-".join(re.findall("....", code)) for code in made]


def factor_check(person: Person, *, code: str, now: datetime | None = None) -> bool:
    """Whether a code is one that signs in now; it is used up by that. Counts wrong ones.

    Raises TooManyTries, for a right code too, once too many were wrong.
    """
    now = now or timezone.now()
    with transaction.atomic():
        factor = _live(person).select_for_update().first()
        if factor is None:
            return False
        if factor.wait_until is None or factor.wait_until <= now:
            good = _used(factor, _plain(code), now)
            factor.wrong = 0 if good else factor.wrong + 1
            factor.wait_until = None
            if factor.wrong >= TRIES:
                factor.wrong, factor.wait_until = 0, now + WAIT
            factor.save(update_fields=["wrong", "wait_until", "last_step"])
    if factor.wait_until is not None:
        raise TooManyTries(factor.wait_until)
    return good


def _used(factor: SecondFactor, code: str, now: datetime) -> bool:
    """Use a code up, of the phone or for its loss."""
    step = _step(factor, code, now)
    if step is not None:
        factor.last_step = step
        return True
    unused = factor.recovery_codes.filter(digest=digest_of(code), used_at=None)
    return bool(unused.update(used_at=now))


def _step(factor: SecondFactor, code: str, now: datetime) -> int | None:
    """The step whose code it is, if that is near and later than the last that was taken."""
    totp = pyotp.TOTP(factor.secret)
    middle = totp.timecode(now)
    for step in (middle + each for each in STEPS):
        if step > factor.last_step and strings_equal(totp.generate_otp(step), code):
            return step
    return None


def _plain(code: str) -> str:
    """A code without the spaces and strokes that people and phones put in."""
    return re.sub(r"[\s-]", "", code).lower()


def factor_codes(actor: Person, *, code: str) -> list[str]:
    """New recovery codes in place of the old ones, for whoever has a code that is good."""
    _require_code(actor, code)
    with transaction.atomic():
        return _new_codes(_live(actor).select_for_update().get())


def factor_end(actor: Person, *, code: str) -> SecondFactor:
    """Turn one's own off, with a code of it or a recovery code."""
    _require_code(actor, code)
    return _end(actor, actor)


def _require_code(actor: Person, code: str) -> None:
    try:
        good = factor_check(actor, code=code)
    except TooManyTries as refusal:
        raise ValidationError(str(refusal)) from None
    if not good:
        raise ValidationError("That code is not good, or was used already.")


def factor_lift(actor: Person, *, membership: Membership) -> SecondFactor:
    """Turn off the second factor of somebody of the shop who lost it. It stays recorded by whom."""
    require_role(actor, membership.shop, Role.OFFICE)
    if membership.person_id == actor.id:
        raise ValidationError("Turn your own off with a code, or ask another of the office.")
    others = Membership.objects.filter(person=membership.person).exclude(shop=membership.shop)
    if others.exists():
        raise ValidationError(
            f"{membership.person} works with other shops too, which rely on it; "
            "whoever runs the server can turn it off."
        )
    return _end(actor, membership.person)


def factor_lift_by_server(person: Person) -> SecondFactor:
    """Turn it off for whoever runs the server."""
    return _end(None, person)


@transaction.atomic
def _end(actor: Person | None, person: Person) -> SecondFactor:
    factor = _live(person).select_for_update().first()
    if factor is None:
        raise ValidationError(f"{person} has no second factor on.")
    factor.ended_at, factor.ended_by, factor.secret = timezone.now(), actor, ""
    factor.save(update_fields=["ended_at", "ended_by", "secret"])
    factor.recovery_codes.all().delete()
    return factor
