"""From bytes to plain JSON values, with faults that say where."""

import json
import re
from collections.abc import Iterator
from typing import Any

from config.messages.message import Text

from . import fault_messages as words
from .faults import HouseFault, HouseFaults, path_of

LARGEST = 5_000_000  # bytes; a large house is under one million
MOST_VALUES = 80_000  # marks between values; a house of 118 boxes has 4,500 values
DEEPEST = 40  # brackets within brackets; a house needs seven
NO_LETTER = re.compile("[\\x00\\ud800-\\udfff]")
"""What JSON can spell, as an escape alone, and no database takes: NUL, and halves of a letter."""


def read_json(raw: bytes) -> Any:
    """The values in a JSON file. Raises HouseFaults, and never runs out of stack."""
    if len(raw) > LARGEST:
        _refuse(words.TOO_LARGE(most=LARGEST // 1_000_000))
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        _refuse(words.NOT_UTF_8(byte=error.start))
    if not text.strip():
        _refuse(words.EMPTY())
    _refuse_depth(text)
    if text.count(",") + text.count("[") + text.count("{") > MOST_VALUES:
        _refuse(words.TOO_MANY_VALUES(most=MOST_VALUES))
    try:
        return json.loads(text, object_pairs_hook=_pairs, parse_constant=_constant)
    except json.JSONDecodeError as error:
        why = error.msg.lower()
        _refuse(words.NOT_JSON(line=str(error.lineno), column=str(error.colno), why=why))
    except ValueError as error:  # a number with more digits than Python will turn
        _refuse(words.NOT_USABLE(why=str(error)))


def text_faults(data: Any) -> Iterator[HouseFault]:
    """Each text and key of the file that holds what is no letter; no database would take it."""
    waiting: list[tuple[tuple[str | int, ...], Any]] = [((), data)]
    while waiting:
        path, value = waiting.pop()
        if isinstance(value, str):
            if found := NO_LETTER.search(value):
                code = f"U+{ord(found.group()):04X}"
                yield HouseFault(path_of(path), words.NO_LETTER(code=code))
        elif isinstance(value, dict):
            for key, member in value.items():
                if NO_LETTER.search(key):
                    yield HouseFault(path_of(path), words.NO_TEXT(key=ascii(key)))
                else:
                    waiting.append(((*path, key), member))
        elif isinstance(value, list):
            for place, member in enumerate(value):
                waiting.append(((*path, place), member))


def _refuse(fault: Text) -> Any:
    raise HouseFaults((HouseFault("", fault),))


def _refuse_depth(text: str) -> None:
    """Count brackets outside strings, so that nesting is refused before it is followed."""
    if text.count("[") + text.count("{") <= DEEPEST:
        return
    depth = 0
    for place, bracket in _brackets(text):
        if bracket in "]}":
            depth -= 1
            continue
        depth += 1
        if depth > DEEPEST:
            line = text.count("\n", 0, place) + 1
            _refuse(words.TOO_DEEP(most=DEEPEST, line=str(line)))


def _brackets(text: str) -> Iterator[tuple[int, str]]:
    """Each bracket outside strings, and its place."""
    quoted = False
    escaped = False
    for place, char in enumerate(text):
        if quoted:
            if escaped:
                escaped = False
            elif char == "\\":
                escaped = True
            elif char == '"':
                quoted = False
        elif char == '"':
            quoted = True
        elif char in "[]{}":
            yield place, char


def _pairs(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    members: dict[str, Any] = {}
    for key, value in pairs:
        if key in members:
            _refuse(words.KEY_TWICE(key=repr(key)))
        members[key] = value
    return members


def _constant(name: str) -> float:
    return float(name.replace("Infinity", "inf"))
