"""Writes of what a shop sets otherwise than a rulebook does."""

from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from config.languages import said_later
from inspections.checker.amendments import load_rulebook
from inspections.checker.rulebook import LimitFault, RulebookFault
from inspections.houses.amendments import amendments_of, checked_otherwise, overlay
from inspections.models import Amendment, HouseRevision
from inspections.services import refusal_messages as words
from inspections.services.houses import house_record
from jobs.access import require_role
from jobs.models import Job, Person, Role, Shop


def limit_amend(
    actor: Person, *, shop: Shop, rulebook: str, limit: str, value: Any, unit: str, reason: str
) -> Amendment:
    """Set a limit of a rulebook for houses that are recorded from now on.

    Raises ValidationError with every fault, and nothing written, when the rulebook cannot be
    amended so.
    """
    given = {"limit": limit, "value": value, "unit": unit, "reason": reason.strip()}
    return _write(actor, shop, rulebook, given)


def limit_restore(
    actor: Person, *, shop: Shop, rulebook: str, limit: str, reason: str
) -> Amendment:
    """Have a limit as the code has it again."""
    if limit not in amendments_of(shop, rulebook):
        raise ValidationError(said_later(words.AS_THE_CODE(limit=limit)))
    given = {"limit": limit, "value": None, "unit": "", "reason": reason.strip()}
    return _write(actor, shop, rulebook, given)


def _write(actor: Person, shop: Shop, rulebook: str, given: dict[str, Any]) -> Amendment:
    require_role(actor, shop, Role.OFFICE)
    if not given["reason"]:
        raise ValidationError({"reason": said_later(words.AMENDED_WHY())})
    with transaction.atomic():
        Shop.objects.select_for_update(no_key=True).get(id=shop.id)
        made = Amendment(
            shop=shop, rulebook=rulebook, made_by=actor, made_at=timezone.now(), **given
        )
        if made.value is not None:
            if not _is_a_value(made.value):
                raise ValidationError({"value": said_later(words.NO_VALUE())})
            _check(shop, made)
        made.full_clean()
        made.save()
    return made


def _is_a_value(value: Any) -> bool:
    """Whether it is made of what a rulebook may hold, however deep."""
    if isinstance(value, list):
        for each in value:
            if not _is_a_value(each):
                return False
        return True
    if isinstance(value, dict):
        return all(isinstance(key, str) for key in value) and _is_a_value([*value.values()])
    return isinstance(value, str | int | float)


def _check(shop: Shop, made: Amendment) -> None:
    """Refuse what the rulebook cannot be amended with, alone and beside what stands."""
    together = {**amendments_of(shop, made.rulebook), made.limit: made}
    try:
        load_rulebook(made.rulebook, overlay(shop, {made.limit: made}))
        load_rulebook(made.rulebook, overlay(shop, together))
    except RulebookFault as fault:
        said = []
        for each in fault.faults:
            own = LimitFault(each.path.removeprefix("amend[0]."), each.says)
            said.append(said_later(own.text))
        raise ValidationError(said) from None


def house_check_again(actor: Person, *, job: Job) -> HouseRevision:
    """Record the house of a job as it is once more, by the shop's amendments as they stand."""
    revision = checked_otherwise(job)
    if revision is None:
        raise ValidationError(said_later(words.AMENDED_ALREADY()))
    return house_record(
        actor,
        job=job,
        house=revision.house.encode(),
        rulebook=revision.rulebook,
        why="local amendments changed",
        base=revision.number,
    )
