"""The facts of a finding as plain JSON, and the digest by which an answer belongs to them.

A rule declares its facts as a frozen dataclass: quantities with their unit in the name, ids, enums
and counts, never a sentence and never what a person typed but ids. The digest is of the values in
the order of the class; a number is digested to the millionth, so that no arithmetic and no library
changes it.
"""

import dataclasses
import hashlib
import json
from collections.abc import Mapping
from enum import Enum
from typing import Any

_ENCODER = json.JSONEncoder(sort_keys=True, separators=(",", ":"), default=str)


def facts_json(facts: Any) -> Any:
    """Facts as JSON: each field by its name, a frozenset in order, a tuple as it stands.

    Raises TypeError for a value that is no fact.
    """
    match facts:
        case Enum():
            return facts.value
        case None | bool() | int() | str():
            return facts
        case float():
            return _plain(facts)
        case tuple() | list():
            return [facts_json(each) for each in facts]
        case frozenset():
            return sorted((facts_json(each) for each in facts), key=canonical)
        case Mapping():
            return {str(facts_json(name)): facts_json(each) for name, each in facts.items()}
        case _:
            return _fields(facts)


def _fields(facts: Any) -> dict[str, Any]:
    if not dataclasses.is_dataclass(facts):
        raise TypeError(f"{facts!r} is no fact: use a dataclass, an enum, an id or a number")
    by_name = {}
    for field in dataclasses.fields(facts):
        by_name[field.name] = facts_json(getattr(facts, field.name))
    return by_name


def _plain(number: float) -> float | int:
    """A number to the millionth; a whole one as such, so that 150.0 is 150."""
    rounded = round(number, 6)
    if rounded == int(rounded):
        return int(rounded)
    return rounded


def digest(value: Any) -> str:
    """Sixteen hex digits that stand for a JSON value, keys in any order."""
    return hashlib.sha256(canonical(value).encode()).hexdigest()[:16]


def canonical(value: Any) -> str:
    """A JSON value as one text, whatever the order of its keys."""
    return _ENCODER.encode(value)
