"""Rows of any table with whatever its columns take: odd texts, far days, often nothing."""

from datetime import UTC, date, datetime, time, timedelta
from random import Random
from typing import Any
from uuid import UUID

from django.db import Error, models, transaction

TRIES = 6
LETTERS = "aZ09 éŒ中🔌'\"\\%_;\n-"


def add(model: type[models.Model], count: int, chance: Random) -> None:
    """Put up to so many rows into a table, and one at least; what is refused is tried again."""
    put = 0
    for _ in range(TRIES * count):
        put += _put(model, chance)
        if put == count:
            return
    assert put, f"{model.__name__} takes no row of chance"


def _put(model: type[models.Model], chance: Random) -> bool:
    row = model()
    for field in model._meta.concrete_fields:
        setattr(row, field.attname, value(field, chance))
    try:
        with transaction.atomic():
            model._base_manager.bulk_create([row])  # without what follows a save
    except Error:
        return False
    return True


def value(field: "models.Field[Any, Any]", chance: Random) -> Any:
    """Something that a column may hold."""
    if field.null and chance.random() < 0.3:
        return None
    if field.choices:
        return chance.choice([key for key, _ in field.flatchoices])
    if isinstance(field, models.ForeignKey):
        return _key_of(field, chance)
    if isinstance(field, models.JSONField):
        return _tree(chance)
    if isinstance(field, models.CharField | models.TextField):
        return _text(chance, min(field.max_length or 40, 40))
    if isinstance(field, models.BooleanField):
        return chance.random() < 0.5
    if isinstance(field, models.IntegerField):
        return chance.randint(0, 500)
    return _measured(field, chance)


def _measured(field: "models.Field[Any, Any]", chance: Random) -> Any:
    if isinstance(field, models.UUIDField):
        return UUID(int=chance.getrandbits(128), version=4)
    if isinstance(field, models.FloatField):
        return chance.uniform(0, 100)
    if isinstance(field, models.DateTimeField):
        return datetime(2026, 1, 1, tzinfo=UTC) + timedelta(seconds=chance.uniform(-1e9, 1e9))
    if isinstance(field, models.DateField):
        return date(2026, 1, 1) + timedelta(days=chance.randint(-900, 900))
    if isinstance(field, models.TimeField):
        return time(chance.randint(0, 23), chance.randint(0, 59))
    raise TypeError(f"say what may be in a {type(field).__name__}")


def _key_of(field: models.ForeignKey[Any, Any], chance: Random) -> Any:
    """Of a row that is there; none where there is none yet."""
    there = sorted(field.related_model._default_manager.values_list("pk", flat=True))
    return chance.choice(there) if there else None


def _text(chance: Random, longest: int) -> str:
    return "".join(chance.choices(LETTERS, k=chance.randint(0, longest)))


def _tree(chance: Random) -> Any:
    return chance.choice([[], {}, [_text(chance, 9)], {"a": None, "b": [1.5, True, "é"]}])
