"""Faults of shape: types, ranges, missing and unknown keys, said in plain words."""

import difflib
import json
from collections.abc import Iterable, Iterator
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from ..house import House
from .faults import HouseFault, path_of

_SURFACES = ("wall", "ceiling", "floor", "counter", "space")


def validated(data: Any) -> tuple[House | None, list[ErrorDetails]]:
    """The house, or what its shape lacks."""
    try:
        # JSON mode: lists may stand for tuples, text for choices; nothing else is coerced.
        return House.model_validate_json(json.dumps(data)), []
    except ValidationError as error:
        return None, error.errors(include_url=False)


def shape_faults(errors: Iterable[ErrorDetails]) -> Iterator[HouseFault]:
    """The faults in plain words."""
    for error in errors:
        yield HouseFault(path_of(_location(error["loc"])), _message(error))


def _location(found: Iterable[str | int]) -> tuple[str | int, ...]:
    """Where a fault is, without the surface by which pydantic tells one kind of place from
    another: it follows `place`, and is no key of the file."""
    location: list[str | int] = []
    before: str | int = ""
    for part in found:
        if not (before == "place" and part in _SURFACES):
            location.append(part)
        before = part
    return tuple(location)


def _message(error: ErrorDetails) -> str:
    kind, context, given = error["type"], error.get("ctx", {}), error["input"]
    if kind in _BOUNDS:
        return f"must be {_BOUNDS[kind]} {_figure(next(iter(context.values())))}"
    if kind == "missing":
        return "is missing"
    if kind == "extra_forbidden":
        return "is not a known key" + _nearest(str(error["loc"][-1]))
    if kind == "finite_number":
        return "must be a finite number"
    if kind in ("enum", "literal_error"):
        return f"must be one of {context['expected'].replace(' or ', ', ')}, not {_shown(given)}"
    if kind in _KINDS:
        return f"must be {_KINDS[kind]}, not {_kind_of(given)}"
    return _other(kind, context, given)


def _other(kind: str, context: dict[str, Any], given: Any) -> str:
    if kind == "string_pattern_mismatch":
        return f"must be a short name of letters, digits, . _ / or -, not {_shown(given)}"
    if kind == "string_too_short":
        return "must not be empty"
    if kind == "string_too_long":
        return f"must be at most {context['max_length']} characters"
    if kind in ("too_short", "too_long"):
        bound = context.get("min_length", context.get("max_length"))
        return f"must have {'at least' if kind == 'too_short' else 'at most'} {bound} entries"
    if kind == "union_tag_invalid":
        return f"surface must be one of {', '.join(_SURFACES)}, not {_shown(context['tag'])}"
    if kind == "union_tag_not_found":
        return f"surface is missing; give one of {', '.join(_SURFACES)}"
    return kind.replace("_", " ")


_BOUNDS = {
    "greater_than": "more than",
    "greater_than_equal": "at least",
    "less_than": "less than",
    "less_than_equal": "at most",
}
_KINDS = {
    "float_type": "a number",
    "float_parsing": "a number",
    "int_type": "a whole number",
    "int_parsing": "a whole number",
    "int_from_float": "a whole number",
    "int_parsing_size": "a whole number of usual size",
    "string_type": "text",
    "bool_type": "true or false",
    "bool_parsing": "true or false",
    "tuple_type": "a list",
    "list_type": "a list",
    "model_type": "an object",
    "model_attributes_type": "an object",
    "dict_type": "an object",
}


def _figure(value: Any) -> str:
    if isinstance(value, int | float):
        return f"{value:,}".removesuffix(".0")
    return str(value)


def _kind_of(value: Any) -> str:
    if value is None:
        return "null"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f"text {_shown(value)}"
    if isinstance(value, int | float):
        return f"{value}"[:40]
    if isinstance(value, list):
        return "a list"
    return "an object"


def _shown(value: Any) -> str:
    text = repr(value)
    if len(text) <= 60:
        return text
    return f"{text[:57]}…"


def _keys() -> list[str]:
    schema = House.model_json_schema()
    parts = [schema, *schema["$defs"].values()]
    keys = set()
    for part in parts:
        for key in part.get("properties", {}):
            keys.add(key)
    return sorted(keys)


def _nearest(key: str) -> str:
    near = difflib.get_close_matches(key, _keys(), 1)
    if near:
        return f"; did you mean {near[0]}?"
    return "; take it out"
