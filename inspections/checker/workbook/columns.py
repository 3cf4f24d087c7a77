"""The sheets of a workbook and their columns, read off the models of a house.

A list of parts is a sheet, a part of it a row; a part within a part has its fields as columns of
the same row, a list within a part a sheet of its own whose first columns name the part it is of.
"""

import types
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from enum import Enum
from functools import cache
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from ..house import House
from ..house.parts import Gauge

UNITS = {
    "_mm": "mm", "_ml": "mL", "_kg": "kg", "_a": "A", "_va": "VA", "_deg": "degrees", "_c": "°C",
    "_m3": "m³", "_percent": "%", "_ohm": "ohm", "_w_per_k": "W/K",
}  # fmt: skip
LEFT_OUT = ("format",)
"""Fields that say nothing of the house."""


class Kind(Enum):
    """What a cell of a column holds."""

    TEXT = "text"
    CHOICE = "choice"
    GAUGE = "gauge"
    YES = "yes or no"
    INTEGER = "whole number"
    NUMBER = "number"
    LENGTH = "length"
    THERE = "there"
    """Yes when a part is there whose own columns may all be empty."""
    NONE = "none"
    """`none` when a list is known to be empty; its rows are on another sheet."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column: the field it is, from the row's part inwards."""

    path: tuple[str, ...]
    kind: Kind
    choices: tuple[str, ...] = ()
    many: bool = False
    """Several values in one cell, with commas between."""
    gaps: bool = False
    """Whether single ones of several may be unknown, written as a question mark."""
    optional: bool = True
    note: str = ""

    @property
    def header(self) -> str:
        """What its first cell says: the field in words, with its unit."""
        *outer, last = self.path
        unit = ""
        for ending in sorted(UNITS, key=len, reverse=True):
            if last.endswith(ending):
                last, unit = last.removesuffix(ending), f" ({UNITS[ending]})"
                break
        return " / ".join(name.replace("_", " ") for name in (*outer, last)) + unit


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet: which list it is, what names the part that a row belongs to, its columns."""

    path: tuple[str, ...]
    keys: tuple[str, ...]
    columns: tuple[Column, ...]
    table: bool = False
    """Whether it is a table of values by key, and no list of parts."""
    name: str = ""
    note: str = ""
    steps: tuple[str, ...] = field(default=())
    """The lists on the way from the house to this one."""


@cache
def sheets() -> tuple[Sheet, ...]:
    """Every sheet, the house itself first, each list before the lists within it."""
    found = list(_sheets_of(House, (), (), ()))
    ends = [sheet.path[-1] if sheet.path else "house" for sheet in found]
    return tuple(
        Sheet(s.path, s.keys, s.columns, s.table, _name(s.path, ends), s.note, s.steps)
        for s in found
    )


def _name(path: tuple[str, ...], ends: list[str]) -> str:
    last = path[-1] if path else "house"
    return " ".join(path[-2:] if ends.count(last) > 1 else (last,)).replace("_", " ")


def _sheets_of(
    model: type[BaseModel], path: tuple[str, ...], keys: tuple[str, ...], steps: tuple[str, ...]
) -> Iterator[Sheet]:
    columns: list[Column] = []
    inner: list[Sheet] = []
    _gather(model, (), path, keys, steps, columns, inner)
    note = (model.__doc__ or "").split("\n")[0]
    yield Sheet(path, keys, _united(columns), note=note, steps=steps)
    yield from inner


def _united(columns: list[Column]) -> tuple[Column, ...]:
    """One column for each field; a part that may be of several kinds has the fields of all."""
    found: dict[tuple[str, ...], Column] = {}
    for column in columns:
        had = found.get(column.path)
        choices = (*had.choices, *column.choices) if had else column.choices
        found[column.path] = replace(had or column, choices=tuple(dict.fromkeys(choices)))
    return tuple(found.values())


def _gather(
    model: type[BaseModel],
    within: tuple[str, ...],
    path: tuple[str, ...],
    keys: tuple[str, ...],
    steps: tuple[str, ...],
    columns: list[Column],
    inner: list[Sheet],
) -> None:
    for name, info in model.model_fields.items():
        if name in LEFT_OUT:
            continue
        here, kind, optional = (*within, name), *_stripped(info.annotation)
        note = info.description or ""
        models = _models(kind)
        part = _listed(kind)
        if models:
            if optional:
                columns.append(Column(here, Kind.THERE, ("yes",), note=note))
            for each in models:
                _gather(each, here, path, keys, steps, columns, inner)
        elif part and (of := _models(part)):
            if optional:
                columns.append(Column(here, Kind.NONE, ("none",), note=note))
            own = (*keys, _singular(path[-1])) if path and "id" in model.model_fields else keys
            inner += _sheets_of(of[0], (*path, *here), own, (*steps, ".".join(here)))
        elif get_origin(kind) is dict:
            key, value = get_args(kind)
            both = (
                Column(("kind",), *_scalar("kind", key), optional=False),
                Column((_mm(name),), *_scalar(name, value), optional=False),
            )
            inner.append(Sheet((*path, *here), keys, both, True, note=note, steps=(*steps, name)))
        else:
            columns.append(_column(here, kind, optional, info, note))


def _mm(name: str) -> str:
    return "value_mm" if name.endswith("_mm") else "value"


def _column(here: tuple[str, ...], kind: Any, optional: bool, info: FieldInfo, note: str) -> Column:
    required = info.is_required()
    if part := _listed(kind):
        bare, gaps = _stripped(part)
        return Column(here, *_scalar(here[-1], bare), True, gaps, optional, note)
    return Column(here, *_scalar(here[-1], kind), optional=optional or not required, note=note)


def _stripped(annotation: Any) -> tuple[Any, bool]:
    """A type without its constraints, and whether it may be None."""
    while get_origin(annotation) is Annotated:
        annotation = get_args(annotation)[0]
    if get_origin(annotation) in (Union, types.UnionType):
        rest = [each for each in get_args(annotation) if each is not type(None)]
        if len(rest) < len(get_args(annotation)):
            bare = _stripped(rest[0])[0] if len(rest) == 1 else Union[tuple(rest)]  # noqa: UP007
            return bare, True
    return annotation, False


def _models(kind: Any) -> list[type[BaseModel]]:
    """The model that a type is, or the models that it is one of."""
    kind = _stripped(kind)[0]
    options = get_args(kind) if get_origin(kind) in (Union, types.UnionType) else (kind,)
    bare = [_stripped(option)[0] for option in options]
    return [each for each in bare if isinstance(each, type) and issubclass(each, BaseModel)]


def _listed(kind: Any) -> Any:
    """What a list is of; None when the type is no list."""
    return get_args(kind)[0] if get_origin(kind) is tuple else None


def _scalar(name: str, kind: Any) -> tuple[Kind, tuple[str, ...]]:
    kind = _stripped(kind)[0]
    if kind is Gauge:
        return Kind.GAUGE, get_args(Gauge)
    if get_origin(kind) is Literal:
        values = get_args(kind)
        if all(isinstance(each, int) for each in values):
            return Kind.INTEGER, ()
        return Kind.CHOICE, tuple(str(each) for each in values)
    if issubclass(kind, Enum):
        return Kind.CHOICE, tuple(str(each.value) for each in kind)
    if kind is bool:
        return Kind.YES, ("yes", "no")
    if kind is int:
        return Kind.INTEGER, ()
    if kind is float:
        return (Kind.LENGTH if name.endswith("_mm") else Kind.NUMBER), ()
    if kind is str:
        return Kind.TEXT, ()
    raise TypeError(f"{name}: no column is known for {kind}")


def _singular(name: str) -> str:
    return {"boxes": "box"}.get(name) or name.removesuffix("s")
