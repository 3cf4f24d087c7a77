"""The rows of the stranger shop: read from the file, and put into a database past all signals."""

import json
from functools import cache
from pathlib import Path
from typing import Any

from django.apps import apps
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.db import connection, models, transaction

from tests.sure import sure

ROWS = Path(__file__).with_name("rows.json")
APPS = ("jobs", "inspections", "notifications", "api")


def kinds() -> list[type[models.Model]]:
    """Every table of the project, those that only join two others among them."""
    found = apps.get_models(include_auto_created=True)
    return [model for model in found if model._meta.app_label in APPS]


def there() -> bool:
    """Whether the database holds it now."""
    from jobs.models import Shop

    return Shop.objects.filter(id=_shop_id()).exists()


@cache
def _kept() -> dict[str, Any]:
    kept: dict[str, Any] = json.loads(ROWS.read_text("utf-8"))
    return kept


def rows_of(label: str) -> list[dict[str, Any]]:
    """The stranger's rows of a table, as the file keeps them."""
    rows: list[dict[str, Any]] = _kept()["rows"][label]
    return rows


def tables() -> list[str]:
    """The tables in which it has rows."""
    return list(_kept()["rows"])


def _shop_id() -> str:
    return str(rows_of("jobs.shop")[0]["id"])


def put() -> int:
    """Put every row in, as one transaction; how many there are."""
    inserts = _inserts(connection.vendor)
    with transaction.atomic(), connection.cursor() as cursor:
        for sql, rows in inserts:
            cursor.executemany(sql, rows)
    return sum(len(rows) for _, rows in inserts)


def put_files() -> None:
    """Keep the pictures that the rows name."""
    for name, hexed in _kept()["files"].items():
        if not default_storage.exists(name):
            default_storage.save(name, ContentFile(bytes.fromhex(hexed)))


def put_back() -> None:
    """Put it in again where a test has emptied the database."""
    if not there():
        put()


def take_out() -> None:
    """Leave the database empty, what is kept for good among it."""
    from inspections.append_only import make_append_only, release

    with transaction.atomic():
        release(connection)
        with connection.cursor() as cursor:
            for model in kinds():
                cursor.execute(f"DELETE FROM {connection.ops.quote_name(model._meta.db_table)}")
        if connection.vendor == "postgresql":  # a table that waits for a check cannot be altered
            connection.check_constraints()
        make_append_only(connection)


@cache
def _inserts(_vendor: str) -> list[tuple[str, list[list[Any]]]]:
    """What writes the rows of each table, in the words of this database."""
    by_label = {model._meta.label_lower: model for model in kinds()}
    return [_insert(by_label[label], rows) for label, rows in _kept()["rows"].items() if rows]


def _insert(model: type[models.Model], rows: list[dict[str, Any]]) -> tuple[str, list[list[Any]]]:
    """A column that came later than the rows is left to its default."""
    made = [model(**{name: _value(model, name, row[name]) for name in row}) for row in rows]
    fields = [
        field
        for field in model._meta.concrete_fields
        if field.attname in rows[0] or field.has_default()
    ]
    quote = connection.ops.quote_name
    columns = ", ".join(quote(sure(field.column)) for field in fields)
    marks = ", ".join("%s" for _ in fields)
    sql = f"INSERT INTO {quote(model._meta.db_table)} ({columns}) VALUES ({marks})"
    values = [
        [field.get_db_prep_save(getattr(row, field.attname), connection) for field in fields]
        for row in made
    ]
    return sql, values


def _value(model: type[models.Model], name: str, kept: Any) -> Any:
    field = model._meta.get_field(name)
    if kept is None or isinstance(field, models.JSONField):
        return kept
    assert isinstance(field, models.Field), "the file keeps what is a column"
    return field.to_python(kept)


def taken(model: type[models.Model]) -> list[dict[str, Any]]:
    """The rows of a table as the file keeps them. A number that the database gives is left out."""
    fields = [f for f in model._meta.concrete_fields if not isinstance(f, models.AutoField)]
    return [
        {field.attname: _told(field, row) for field in fields}
        for row in model._base_manager.order_by("pk")
    ]


def _told(field: "models.Field[Any, Any]", row: models.Model) -> Any:
    value = getattr(row, field.attname)
    plain = value is None or isinstance(value, bool | int | float | str)
    if plain or isinstance(field, models.JSONField):
        return value
    if isinstance(field, models.DateTimeField):
        return value.isoformat()
    return field.value_to_string(row)
