"""The sheets of a house workbook, drawn from the house model, so that no field is forgotten.

A list of parts is a sheet; a part within a part is columns of its sheet; a list within a part is
a sheet whose first columns name the part it belongs to.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic.fields import FieldInfo

from ..house import House
from ..house.parts import Gauge, Part

UNITS = {
    "mm": "mm", "ml": "mL", "kg": "kg", "a": "A", "va": "VA", "deg": "°", "c": "°C", "m3": "m³",
    "ohm": "Ω", "percent": "%",
}  # fmt: skip
"""The ending of a field's name, and the unit that its header shows."""
NAMED_UNITS = {"amperes": "A", "volts": "V", "volt_amperes": "VA", "loss_w_per_k": "W/K"}
OWN = ("service", "grounding")
"""Parts of the house itself that have a sheet of their own; the others stand on the first."""
TITLES = {
    ("through",): "Passed boxes",
    ("along",): "Counter walls",
    ("interruptions",): "Sinks and ranges",
    ("service", "hookup", "wants"): "Hookup wants",
    ("service", "temporary", "on_it"): "Temporary circuits",
    ("service", "temporary", "receptacles"): "Temporary receptacles",
}
SINGULAR = {"boxes": "box"}


class CellKind(StrEnum):
    """How the cells of a column are read."""

    TEXT = "text"
    CHOICE = "choice"
    YES = "yes or no"
    NUMBER = "number"
    WHOLE = "whole number"
    GAUGE = "wire size"
    RECORDED = "recorded"


PLAIN: dict[type, tuple[CellKind, tuple[str, ...]]] = {
    bool: (CellKind.YES, ("yes", "no")),
    int: (CellKind.WHOLE, ()),
    float: (CellKind.NUMBER, ()),
    str: (CellKind.TEXT, ()),
}
"""The kind of a plain value, and what may be chosen for it."""


@dataclass(frozen=True, slots=True)
class Column:
    """A column: the value it holds within its part, and how its cells are read."""

    path: tuple[str, ...]
    kind: CellKind
    header: str
    unit: str = ""
    choices: tuple[str, ...] = ()
    note: str = ""
    default: Any = None
    required: bool = False
    several: bool = False
    """A list of values in one cell, parted by semicolons."""
    nullable: bool = False
    """A list that may be missing, which is not the same as empty."""
    a_list: bool = False
    """Recorded: the thing is a list with a sheet of its own."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet: a list of parts, or what is said once of the house."""

    title: str
    within: tuple[str, ...]
    """Where its list stands in the part it belongs to; empty for what is said once."""
    parent: "Sheet | None"
    columns: tuple[Column, ...]

    @property
    def keys(self) -> tuple[str, ...]:
        """The headers of the columns that name the part which each row belongs to."""
        owner = self.parent
        if owner is None or not owner.within:
            return ()
        return (*owner.keys, SINGULAR.get(owner.within[-1], owner.within[-1].removesuffix("s")))

    @property
    def headers(self) -> tuple[str, ...]:
        """Every header, left to right."""
        headers = []
        for column in self.columns:
            headers.append(column.header)
        return (*self.keys, *headers)


@cache
def sheets() -> tuple[Sheet, ...]:
    """Every sheet, a part's own before those of its lists; the first is of the house itself."""
    columns, lists = _walk(House, ())
    own = {}
    for name in OWN:
        cs = []
        for c in columns:
            if c.path[0] == name:
                cs.append(c)
        own[name] = tuple(cs)
    rest = []
    for c in columns:
        if c.path[0] not in OWN:
            rest.append(c)
    first = Sheet("House", (), None, tuple(rest))
    singles = []
    for name, found in own.items():
        singles.append(Sheet(name.capitalize(), (), None, found))
    return (first, *_lists(lists, first), *singles)


def _lists(lists: list[tuple[tuple[str, ...], type[Part]]], parent: Sheet) -> Iterator[Sheet]:
    for path, model in lists:
        columns, inner = _walk(model, ())
        title = TITLES.get(path, path[-1].replace("_", " ").capitalize())
        sheet = Sheet(title, path, parent, tuple(columns))
        yield sheet
        yield from _lists(inner, sheet)


def _walk(
    model: type[Part], before: tuple[str, ...]
) -> tuple[list[Column], list[tuple[tuple[str, ...], type[Part]]]]:
    """The columns of a part, and the lists of parts within it."""
    columns: dict[tuple[str, ...], Column] = {}
    lists: list[tuple[tuple[str, ...], type[Part]]] = []
    for name, field in model.model_fields.items():
        path = (*before, name)
        inner, nullable = bare_type(field.annotation)
        if models := _models(inner):
            if nullable:
                columns[path] = _recorded(path, field)
            lists += _walk_into(models, path, columns)
        elif get_origin(inner) is tuple and _models(part := get_args(inner)[0]):
            if nullable:
                columns[path] = _recorded(path, field, a_list=True)
            lists.append((path, part))
        elif get_origin(inner) is dict:
            for key in get_args(inner)[0]:
                columns[*path, str(key)] = _column((*path, str(key)), get_args(inner)[1], field)
        else:
            columns[path] = _column(path, field.annotation, field)
    return list(columns.values()), lists


def _walk_into(
    models: tuple[type[Part], ...],
    path: tuple[str, ...],
    columns: dict[tuple[str, ...], Column],
) -> list[tuple[tuple[str, ...], type[Part]]]:
    """Put the columns of what stands at a path among the others; the lists within it."""
    lists = []
    for each in models:
        inner, deeper = _walk(each, path)
        for column in inner:
            columns[column.path] = _joined(columns.get(column.path), column)
        lists += deeper
    return lists


def _joined(before: Column | None, column: Column) -> Column:
    """One column for a key that several kinds of place have; a choice of any of them."""
    if before is None:
        return column
    choices = tuple(dict.fromkeys((*before.choices, *column.choices)))
    return Column(
        column.path, before.kind, before.header, before.unit, choices, before.note,
        before.default, before.required and column.required,
    )  # fmt: skip


def bare_type(annotation: Any) -> tuple[Any, bool]:
    """A type without what is annotated to it and without None, and whether None is allowed."""
    nullable = False
    while True:
        if get_origin(annotation) is Annotated:
            annotation = get_args(annotation)[0]
        elif get_origin(annotation) in (Union, UnionType) and NoneType in get_args(annotation):
            rest = []
            for each in get_args(annotation):
                if each is not NoneType:
                    rest.append(each)
            annotation, nullable = Union[tuple(rest)], True  # noqa: UP007
        else:
            return annotation, nullable


def _models(annotation: Any) -> tuple[type[Part], ...]:
    """The parts that a type may be, one or several."""
    if get_origin(annotation) in (Union, UnionType):
        found = get_args(annotation)
    else:
        found = (annotation,)
    classes = []
    for each in found:
        classes.append(bare_type(each)[0])
    bared = tuple(classes)
    if all(isinstance(b, type) and issubclass(b, Part) for b in bared):
        return bared
    return ()


def _recorded(path: tuple[str, ...], field: FieldInfo, *, a_list: bool = False) -> Column:
    note = (field.description or "").replace("\n", " ")
    told = "yes: recorded, even where nothing more is filled in; blank: as the rest says"
    return Column(
        path, CellKind.RECORDED, f"{_words(path)} recorded", choices=("yes", "no"),
        note=f"{note} {told}".strip(), a_list=a_list,
    )  # fmt: skip


def _words(path: tuple[str, ...]) -> str:
    said = []
    for name in path:
        said.append(_without_unit(name).replace("_", " "))
    return " ".join(said)


def _without_unit(name: str) -> str:
    stem, _, ending = name.rpartition("_")
    if stem and ending in UNITS and name not in NAMED_UNITS:
        return stem
    return name


def _unit(path: tuple[str, ...]) -> str:
    for name in reversed(path):
        if name in NAMED_UNITS:
            return NAMED_UNITS[name]
        if (ending := name.rpartition("_")[2]) in UNITS and "_" in name:
            return UNITS[ending]
    return ""


def _column(path: tuple[str, ...], annotation: Any, field: FieldInfo) -> Column:
    inner, nullable = bare_type(annotation)
    several = get_origin(inner) is tuple
    if several:
        inner, _ = bare_type(get_args(inner)[0])
    kind, choices = _kind(inner)
    unit = ""
    if kind in (CellKind.NUMBER, CellKind.WHOLE):
        unit = _unit(path)
    if unit:
        header = f"{_words(path)} ({unit})"
    else:
        header = _words(path)
    required = field.is_required()
    default = field.default
    if required or get_origin(bare_type(field.annotation)[0]) is dict:
        default = None
    return Column(
        path, kind, header, unit, choices, _note(kind, field, default, several=several),
        default, required, several, nullable,
    )  # fmt: skip


def _kind(inner: Any) -> tuple[CellKind, tuple[str, ...]]:
    if inner == Gauge:
        return CellKind.GAUGE, _texts(get_args(inner))
    if get_origin(inner) is Literal:
        return _kind_of_choices(get_args(inner)), _texts(get_args(inner))
    if isinstance(inner, type) and issubclass(inner, StrEnum):
        return CellKind.CHOICE, _texts(inner)
    return PLAIN[inner]


def _texts(choices: Iterable[Any]) -> tuple[str, ...]:
    return tuple(str(choice) for choice in choices)


def _kind_of_choices(choices: tuple[Any, ...]) -> CellKind:
    if all(isinstance(choice, int) for choice in choices):
        return CellKind.WHOLE
    return CellKind.CHOICE


def _note(kind: CellKind, field: FieldInfo, default: Any, *, several: bool) -> str:
    said = [(field.description or "").replace("\n", " ")]
    if field.is_required():
        said.append("Must be filled in.")
    elif default not in (None, "", ()):
        shown = default
        if kind is CellKind.YES:
            shown = {True: "yes", False: "no"}.get(default, default)
        said.append(f"Blank: {shown}.")
    if several:
        said.append("Several parted by semicolons; (none) for a list that is known to be empty.")
    sentences = []
    for each in said:
        if each:
            sentences.append(each)
    return " ".join(sentences)
