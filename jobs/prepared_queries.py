"""Queries that are put together once a process, and then asked with other values.

Django spends some twenty times as long building a query as SQLite takes to answer it. What a
settling asks, again and again for every job that is due, and what is asked on the way from a tick
to the settling after it, is therefore built and compiled once, with marks in place of its values;
asking it then is a matter of a cursor. Rows become objects by Django's own code, by some names of
it that are private: `tests/jobs/test_prepared_queries.py` compares each of these queries with the
plain one. Everything else asks plain query sets.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from itertools import count
from typing import Any, Generic, TypeVar
from uuid import UUID, uuid4

from django.db import DEFAULT_DB_ALIAS, connections
from django.db.models import DateField, Field, Model, QuerySet, UUIDField
from django.db.models.query import (
    FlatValuesListIterable,
    ModelIterable,
    ValuesListIterable,
    get_related_populators,
)
from django.db.transaction import TransactionManagementError

Row = TypeVar("Row")
Place = tuple[int, int]
"""Of a value: the argument, and where within it."""

Shape = tuple[int, type]

_UUID, _DATE = UUIDField(), DateField()
_ITERABLES = (ModelIterable, ValuesListIterable, FlatValuesListIterable)
_numbers = count(1)
_populators: Callable[..., Sequence[Any]] = get_related_populators
"""A later Django asks it for one thing more."""


def _adapted(value: object, connection: Any) -> object:
    """The value as this database is given it."""
    if isinstance(value, UUID):
        return _UUID.get_db_prep_value(value, connection, prepared=True)
    if isinstance(value, date):
        return _DATE.get_db_prep_value(value, connection, prepared=True)
    return value


def _mark(value: object) -> object:
    """A value of the same kind that no query holds by itself."""
    if isinstance(value, UUID):
        return uuid4()
    if type(value) is date:  # a moment is one too, and no query asks with one
        return date(9000, 1, 1) + timedelta(days=next(_numbers))
    if isinstance(value, str):
        return f"mark {uuid4().hex}"  # no id, so that an id as text is refused where one is asked
    raise TypeError(f"no query is prepared with {type(value).__name__}")


def _padded(values: Iterable[object]) -> list[object]:
    """As many values as the next power of two, the last one again: few lengths are compiled."""
    found = list(values)
    return found + found[-1:] * ((1 << (len(found) - 1).bit_length()) - len(found))


def _shape(given: object) -> Shape:
    """What a compiled query rests on: how many values of which kind."""
    if isinstance(given, list):
        return (len(given), type(given[0]))
    return (0, type(given))


def _of(given: Sequence[object]) -> dict[Place, object]:
    """Every value by its place."""
    by_place: dict[Place, object] = {}
    for number, one in enumerate(given):
        for within, value in enumerate(one if isinstance(one, list) else [one]):
            by_place[(number, within)] = value
    return by_place


def _column(model: type[Model], name: str) -> "Field[Any, Any]":
    """The column of a name, that of a reference by either of its names."""
    field = model._meta.get_field(name.removesuffix("_id"))
    assert isinstance(field, Field)
    return field


@dataclass(slots=True)
class _Compiled:
    """A query in the words of the database, and which of its parameters are whose place."""

    sql: str
    params: tuple[object, ...]
    places: list[tuple[int, Place]]

    @classmethod
    def of(
        cls, sql: str, params: Sequence[object], marks: dict[Place, object], db: Any
    ) -> "_Compiled":
        """Find the marks among the parameters; each has to be there."""
        whose = {}
        for place, mark in marks.items():
            whose[_adapted(mark, db)] = place
        places = []
        for n, p in enumerate(params):
            if _hashable(p) and p in whose:
                places.append((n, whose[p]))
        if missing := set(marks) - {place for _, place in places}:
            raise ValueError(f"not in the query: {sorted(missing)}")
        return cls(sql, tuple(params), places)

    def bound(self, given: Sequence[object], connection: Any) -> list[Any]:
        """The parameters with what was given in place of the marks."""
        params, values = list(self.params), _of(given)
        for number, place in self.places:
            params[number] = _adapted(values[place], connection)
        return params


def _hashable(value: object) -> bool:
    return value is None or isinstance(value, (UUID, str, date, int, float))


@dataclass(slots=True)
class _Plan:
    """A compiled query, and how its rows become objects, as `ModelIterable` makes them."""

    compiled: _Compiled
    rows: type
    width: int
    """Columns that were asked for; what comes after them is there for the order alone."""
    locks: bool
    converters: list[tuple[int, Sequence[Callable[..., Any]], Any]]
    model: type[Model] | None = None
    columns: slice = field(default_factory=lambda: slice(0))
    names: Sequence[str] = ()
    related: Sequence[Any] = ()
    annotations: Sequence[tuple[str, int]] = ()

    @classmethod
    def of(cls, queryset: QuerySet[Any, Any], marks: dict[Place, object]) -> "_Plan":
        """Compile a query."""
        inner: Any = queryset  # what follows are Django's own parts, of which no type is told
        if inner._iterable_class not in _ITERABLES or inner._prefetch_related_lookups:
            raise TypeError("prepare objects without a prefetch, or a list of values")
        connection = connections[DEFAULT_DB_ALIAS]
        compiler = inner.query.get_compiler(DEFAULT_DB_ALIAS)
        sql, params = compiler.as_sql()
        compiled = _Compiled.of(sql, params, marks, connection)
        width = compiler.col_count
        expressions = []
        for each in compiler.select[:width]:
            expressions.append(each[0])
        converters = compiler.get_converters(expressions)
        conversions = []
        for number, each in converters.items():
            conversions.append((number, *each))
        plan = cls(
            compiled,
            inner._iterable_class,
            width,
            inner.query.select_for_update,
            conversions,
        )
        if plan.rows is ModelIterable:
            info, select = compiler.klass_info, compiler.select
            plan.model = info["model"]
            plan.columns = slice(info["select_fields"][0], info["select_fields"][-1] + 1)
            plan.names = [each[0].target.attname for each in select[plan.columns]]
            plan.related = _populators(info, select, DEFAULT_DB_ALIAS)
            plan.annotations = list((compiler.annotation_col_map or {}).items())
        return plan

    def asked(self, given: Sequence[object]) -> tuple[tuple[Any, ...], ...]:
        """The rows as the database tells them."""
        connection = connections[DEFAULT_DB_ALIAS]
        if self.locks and not connection.in_atomic_block:
            raise TransactionManagementError("rows are locked within a transaction")
        with connection.cursor() as cursor:
            cursor.execute(self.compiled.sql, self.compiled.bound(given, connection))
            return tuple(cursor.fetchall())

    def made(self, raw: tuple[tuple[Any, ...], ...]) -> list[Any]:
        """What Django makes of the rows."""
        connection = connections[DEFAULT_DB_ALIAS]
        found: list[Any] = []
        for told in raw:
            row = list(told[: self.width])
            for number, converters, column in self.converters:
                for converted in converters:
                    row[number] = converted(row[number], column, connection)
            found.append(self._one(row))
        return found

    def _one(self, row: list[Any]) -> Any:
        if self.model is None:
            if self.rows is FlatValuesListIterable:
                return row[0]
            return tuple(row)
        one = self.model.from_db(DEFAULT_DB_ALIAS, self.names, row[self.columns])
        for related in self.related:
            related.populate(row, one)
        for name, number in self.annotations:
            setattr(one, name, row[number])
        return one


@dataclass(slots=True)
class Prepared(Generic[Row]):
    """A query that `build` makes of its arguments, each a single value or a list for an `IN`.

    `build` is called once for each length of lists, with marks instead of values: it must do
    nothing with them but filter. Without anything in a list nothing is found, and not asked.
    """

    build: Callable[..., QuerySet[Any, Any]]
    _plans: dict[tuple[Shape, ...], _Plan] = field(default_factory=dict)

    def __call__(self, *values: Any) -> list[Row]:
        """What the query finds with these values."""
        given: list[Any] = []
        for value in values:
            if isinstance(value, (list, tuple, set, frozenset, dict)):
                if not value:
                    return []
                given.append(_padded(value))
            else:
                given.append(value)
        shape = tuple(map(_shape, given))
        plan = self._plans.get(shape)
        if plan is None:
            plan = self._plans[shape] = self._planned(given)
        return plan.made(plan.asked(given))

    def _planned(self, given: Sequence[Any]) -> _Plan:
        marks = []
        for one in given:
            marks.append([*map(_mark, one)] if isinstance(one, list) else _mark(one))
        return _Plan.of(self.build(*marks), _of(marks))


class PreparedUpdate:
    """Writes some columns of rows found by their key: `UPDATE` alone, without signals."""

    def __init__(self, model: type[Model], key: str, columns: Sequence[str]) -> None:
        self.model, self.names = model, (*columns, key)
        self._sql = ""

    def __call__(self, rows: Sequence[Model]) -> None:
        """Write the columns of each row as its object has them."""
        connection = connections[DEFAULT_DB_ALIAS]
        fields = []
        for name in self.names:
            fields.append(_column(self.model, name))
        told = []
        for row in rows:
            told.append(
                [
                    field.get_db_prep_save(getattr(row, field.attname), connection)
                    for field in fields
                ]
            )
        with connection.cursor() as cursor:
            if len(told) == 1:
                cursor.execute(self._written(connection, fields), told[0])
            elif told:
                cursor.executemany(self._written(connection, fields), told)

    def _written(self, connection: Any, fields: Sequence[Any]) -> str:
        if not self._sql:
            quoted = connection.ops.quote_name
            *given, key = [f"{quoted(field.column)} = %s" for field in fields]
            table = quoted(self.model._meta.db_table)
            self._sql = f"UPDATE {table} SET {', '.join(given)} WHERE {key}"  # noqa: S608 - names
        return self._sql
