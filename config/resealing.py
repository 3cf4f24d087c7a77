"""Rotation: every sealed value is sealed anew with the first key.

Each row in a transaction of its own, locked while it is done, so that it may run while people work,
be stopped anywhere and be run again. What is in clear yet is sealed.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from functools import partial
from typing import Any

from django.apps import apps
from django.db import models, transaction

from config.sealed_field import Sealed, SealedField
from config.sealing import SealFault, first_key_id, is_sealed, key_id, seal, unseal

BATCH = 200
WITHIN = (("mfa", "Authenticator", "data"), ("sessions", "Session", "session_data"))
"""Columns of libraries that hold sealed text, or JSON with sealed values in it: app, model, column.
One that is not installed is passed over."""


@dataclass(slots=True)
class ResealingSummary:
    """What a run did."""

    resealed: int = 0
    good: int = 0
    left: int = 0
    faults: set[str] = field(default_factory=set)


@dataclass(frozen=True, slots=True)
class SealedColumn:
    """A column that holds sealed values, and what a value of it becomes."""

    model: type[models.Model]
    column: str
    anew: Callable[[Any], Any]
    """The same value when it need not change. Raises SealFault when it cannot be opened."""


def reseal() -> ResealingSummary:
    """Seal everything with the first key; what cannot be opened stays, and is told."""
    told = ResealingSummary()
    for place in _places():
        for key, value in _values(place):
            try:
                _row(place, key, value, told)
            except SealFault as fault:
                told.left += 1
                told.faults.add(str(fault))
    return told


def _places() -> Iterator[SealedColumn]:
    for model in apps.get_models(include_auto_created=True):
        for each in model._meta.concrete_fields:
            if isinstance(each, SealedField):
                yield SealedColumn(model, each.attname, _text)
    for app, name, column in WITHIN:
        if app in apps.app_configs:
            model = apps.get_model(app, name)
            of = f"{model._meta.db_table}.{column}"
            yield SealedColumn(model, column, partial(_json, of=of))


def _values(place: SealedColumn) -> Iterator[tuple[Any, Any]]:
    """Key and value of every row, read piece by piece: no reader stays open between writes."""
    rows = place.model._base_manager.order_by("pk")
    keys = list(rows.values_list("pk", flat=True))
    for start in range(0, len(keys), BATCH):
        yield from list(
            rows.filter(pk__in=keys[start : start + BATCH]).values_list("pk", place.column)
        )


def _row(place: SealedColumn, key: Any, value: Any, told: ResealingSummary) -> None:
    if not value:
        return
    if place.anew(value) is value:
        told.good += 1
        return
    with transaction.atomic():
        row = place.model._base_manager.filter(pk=key)
        found = list(row.select_for_update().values_list(place.column, flat=True))
        if not found:
            return  # it went meanwhile
        anew = place.anew(found[0])
        if anew is found[0]:
            return  # somebody wrote it meanwhile, with the first key
        row.update(**{place.column: anew})
    told.resealed += 1


def _text(value: Any) -> Any:
    if isinstance(value, Sealed):
        if key_id(value.text) == first_key_id():
            return value
        return value.opened()
    if value:
        return _Clear(value)
    return value


class _Clear(str):
    """Text that is not sealed yet: another object than what was read, so that it is written."""


def _json(value: Any, *, of: str) -> Any:
    if isinstance(value, dict):
        by_name = {name: _json(each, of=of) for name, each in value.items()}
        return _unless_same(value, by_name, zip(value.values(), by_name.values(), strict=True))
    if isinstance(value, list):
        items = [_json(each, of=of) for each in value]
        return _unless_same(value, items, zip(value, items, strict=True))
    if isinstance(value, str) and is_sealed(value) and key_id(value) != first_key_id():
        return seal(unseal(value, of=of), of=of)
    return value


def _unless_same(old: Any, new: Any, pairs: Iterable[tuple[Any, Any]]) -> Any:
    """The new one when any of its values is another, else the very one that was there."""
    for before, after in pairs:
        if after is not before:
            return new
    return old
