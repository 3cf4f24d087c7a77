"""Writes of authorities: from a template or from rules given, edited by the office."""

import tomllib
from datetime import time
from pathlib import Path
from typing import Any

from django.db import transaction

from jobs.access import require_role
from jobs.models import Authority, Person, Role, Shop
from jobs.signals import rules_changed

TEMPLATES = Path(__file__).parent.parent / "authorities" / "published_rules.toml"


def authority_templates() -> dict[str, dict[str, Any]]:
    """What public authorities have published, by template id, each with its source."""
    templates: dict[str, dict[str, Any]] = {}
    for each in tomllib.loads(TEMPLATES.read_text())["template"]:
        templates[each["id"]] = each
    return templates


@transaction.atomic
def authority_add(
    *, shop: Shop, name: str, template: str = "", actor: Person | None = None, **rules: Any
) -> Authority:
    """An authority of the shop, from a template or from rules given, to be edited later.

    Without an actor it is added by whoever runs the server.
    """
    if actor is not None:
        require_role(actor, shop, Role.OFFICE)
    given: dict[str, Any] = {}
    if template:
        given = authority_templates()[template]
    names = set()
    for field in Authority._meta.get_fields():
        names.add(field.name)
    known = names - {"id", "shop", "name"}
    chosen = {}
    for key, value in (given | rules).items():
        if key in known:
            chosen[key] = value
    for hour in ("cut_off", "from_hour", "to_hour"):
        if isinstance(chosen.get(hour), str):
            chosen[hour] = time.fromisoformat(chosen[hour])
    authority = Authority(shop=shop, name=name, **chosen)
    authority.full_clean()
    authority.save()
    return authority


@transaction.atomic
def authority_change(actor: Person, *, authority: Authority, **rules: Any) -> Authority:
    """Edit what an authority asks. The sweep draws anew what follows for its jobs."""
    require_role(actor, authority.shop, Role.OFFICE)
    for name, value in rules.items():
        setattr(authority, name, value)
    authority.full_clean()
    authority.save()
    rules_changed.send(sender=Authority, jobs=authority.jobs.all())
    return authority
