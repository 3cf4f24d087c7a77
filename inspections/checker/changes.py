"""What differs between two houses, part by part, as a person would say it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import zip_longest
from typing import Any

from pydantic import BaseModel

from .house import House

MOST_FIELDS = 6
SINGULAR = {"boxes": "box", "counters": "counter", "notches": "notch"}
YES_OR_NO = {True: "yes", False: "no"}


@dataclass(frozen=True, slots=True)
class Changed:
    """One part that came, went, or is otherwise: `fields` say what of it, from what to what."""

    how: str
    """`added`, `gone` or `changed`."""
    part: str
    fields: tuple[str, ...] = ()


def house_changes(before: House | None, after: House) -> list[Changed]:
    """Every part of the house after that is not as it was, in the order of a house file."""
    return list(_changes(before, after))


def _changes(before: House | None, after: House) -> Iterator[Changed]:
    for name in House.model_fields:
        old, new = getattr(before, name, None), getattr(after, name)
        if old == new:
            continue
        if _is_list(new) or _is_list(old):
            noun = SINGULAR.get(name) or name.removesuffix("s").replace("_", " ")
            yield from _parts(noun, _named(old or ()), _named(new or ()))
        else:
            yield Changed("changed", name.replace("_", " "), tuple(_fields(old, new)))


def _parts(noun: str, was: dict[str, Any], now: dict[str, Any]) -> Iterator[Changed]:
    """What is gone, added or changed of a list, in the order it had."""
    for key in dict.fromkeys([*was, *now]):
        if key not in now:
            yield Changed("gone", f"{noun} {key}")
        elif key not in was:
            yield Changed("added", f"{noun} {key}")
        elif was[key] != now[key]:
            yield Changed("changed", f"{noun} {key}", tuple(_fields(was[key], now[key])))


def _is_list(value: Any) -> bool:
    return isinstance(value, tuple)


def _named(parts: tuple[Any, ...]) -> dict[str, Any]:
    """Parts by what they are called; those without an id by their place in the list."""
    named: dict[str, Any] = {}
    for place, part in enumerate(parts, 1):
        named[getattr(part, "id", str(place))] = part
    return named


def _fields(old: Any, new: Any) -> Iterator[str]:
    """What of a part changed, a line each, and how many more when there are many."""
    lines = list(_lines(old, new, ""))
    yield from lines[:MOST_FIELDS]
    if len(lines) > MOST_FIELDS:
        yield f"and {len(lines) - MOST_FIELDS} more"


def _lines(old: Any, new: Any, name: str) -> Iterator[str]:
    if old == new:
        return
    if isinstance(old, BaseModel) and isinstance(new, BaseModel):
        names = dict.fromkeys([*type(old).model_fields, *type(new).model_fields])
        for each in names:
            inner = f"{name} {each}".strip()
            yield from _lines(getattr(old, each, None), getattr(new, each, None), inner)
    elif _is_list(old) and _is_list(new) and _holds_parts(*old, *new):
        for place, (was, now) in enumerate(zip_longest(old, new), 1):
            yield from _lines(was, now, f"{name} {place}".strip())
    else:
        words = name.replace("_", " ") or "it"
        yield f"{words}: {_said(old)} to {_said(new)}"


def _holds_parts(*values: Any) -> bool:
    return any(isinstance(value, BaseModel) for value in values)


def _said(value: Any) -> str:
    if value is None:
        return "not recorded"
    if isinstance(value, BaseModel):
        return "recorded"
    if isinstance(value, bool):
        return YES_OR_NO[value]
    if isinstance(value, Mapping):
        entries = []
        for key, each in value.items():
            entries.append(f"{key} {each}")
        return ", ".join(entries) or "none"
    if isinstance(value, tuple):
        return ", ".join(map(_said, value)) or "none"
    if isinstance(value, float):
        return f"{value:g}"
    return str(value)
