"""Writes of what a shop set about its notices."""

from typing import Any

from django.db import transaction

from jobs.access import require_role
from jobs.models import Job, Person, Role, Shop
from jobs.signals import rules_changed
from notifications.models import NoticeRules


@transaction.atomic
def rules_set(actor: Person, *, shop: Shop, **given: Any) -> NoticeRules:
    """Edit a shop's choices; what follows from them is drawn anew by the next sweep."""
    require_role(actor, shop, Role.OFFICE)
    rules = NoticeRules.objects.select_for_update(no_key=True).get(shop=shop)
    for name, value in given.items():
        setattr(rules, name, value)
    rules.next_at = None
    rules.full_clean()
    rules.save()
    rules_changed.send(sender=NoticeRules, jobs=Job.objects.filter(shop=shop))
    return rules
