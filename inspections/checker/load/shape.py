"""Faults of shape: types, ranges, missing and unknown keys, said in plain words."""

import difflib
import json
from collections.abc import Iterable, Iterator
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from config.messages.message import Text, Value

from ..house import House
from . import fault_messages as words
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


def _message(error: ErrorDetails) -> Text:
    kind, context, given = error["type"], error.get("ctx", {}), error["input"]
    if kind in words.BOUNDS:
        return words.BOUNDS[kind](limit=_figure(next(iter(context.values()))))
    if kind == "missing":
        return words.MISSING()
    if kind == "extra_forbidden":
        return _unknown_key(str(error["loc"][-1]))
    if kind == "finite_number":
        return words.FINITE()
    if kind in ("enum", "literal_error"):
        choices = context["expected"].replace(" or ", ", ")
        return words.ONE_OF(choices=choices, given=_shown(given))
    if kind in words.KINDS:
        return words.KINDS[kind](given=_kind_of(given))
    return _other(kind, context, given)


def _other(kind: str, context: dict[str, Any], given: Any) -> Text:
    if kind == "string_pattern_mismatch":
        return words.SHORT_NAME(given=_shown(given))
    if kind == "string_too_short":
        return words.EMPTY_TEXT()
    if kind == "string_too_long":
        return words.TOO_LONG(n=context["max_length"])
    if kind == "too_short":
        return words.TOO_FEW(n=context["min_length"])
    if kind == "too_long":
        return words.TOO_MANY(n=context["max_length"])
    if kind == "union_tag_invalid":
        return words.SURFACE(surfaces=", ".join(_SURFACES), given=_shown(context["tag"]))
    if kind == "union_tag_not_found":
        return words.NO_SURFACE(surfaces=", ".join(_SURFACES))
    return words.UNFIT(kind=kind.replace("_", " "))


def _figure(value: Any) -> Value:
    if isinstance(value, int | float):
        return value
    return str(value)


def _kind_of(value: Any) -> Value:
    if value is None:
        return "null"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return words.GIVEN_TEXT(given=_shown(value))
    if isinstance(value, int | float):
        return f"{value}"[:40]
    if isinstance(value, list):
        return words.GIVEN_LIST()
    return words.GIVEN_OBJECT()


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


def _unknown_key(key: str) -> Text:
    near = difflib.get_close_matches(key, _keys(), 1)
    if near:
        return words.UNKNOWN_KEY_NEAR(near=near[0])
    return words.UNKNOWN_KEY()
