"""Local amendments: a small overlay on a rulebook, with a reason for each change.

name = "What Fernhollow asks for"

[[amend]]
limit = "counter-receptacles.min_width_mm"
value = 254
unit = "mm"
reason = "by-law 12, counters over ten inches"
"""

import tomllib
from collections.abc import Collection, Iterator
from dataclasses import replace
from math import isfinite
from pathlib import Path
from typing import Any

from config.messages.message import Text

from . import rulebook_messages as words
from .house.fixtures import FixtureKind
from .house.rooms import OpeningKind, RoomKind
from .rulebook import HERE, Limit, LimitFault, Rulebook, RulebookFault, plain_rulebook
from .units import to_inner_unit

KEYS = ("limit", "value", "unit", "reason")
ROOMS = ("rooms", "unheated", "passages", "receptacle_rooms")
WORDS: dict[str, tuple[str, ...]] = {
    **dict.fromkeys(ROOMS, tuple(RoomKind)),
    "breaks": tuple(OpeningKind),
    "kinds": tuple(FixtureKind),
}
"""What a limit that is a list of words may hold, by the last part of its name."""
MEASURES = ("mm", "m²", "mL", "mL/mm")


def amendment_sets() -> dict[str, str]:
    """The overlays that come with Studbay as examples: name and TOML text."""
    by_stem: dict[str, str] = {}
    for path in sorted(_sets()):
        by_stem[path.stem] = path.read_text("utf-8")
    return by_stem


def _sets() -> Iterator[Path]:
    return (HERE / "amendments").glob("*.toml")


def amend(rulebook: Rulebook, text: str) -> Rulebook:
    """The rulebook with the overlay laid over it; RulebookFault names every fault at once."""
    try:
        overlay = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise RulebookFault(LimitFault("amendments", words.NOT_TOML(why=str(error)))) from None
    if faults := list(_faults(rulebook, overlay)):
        raise RulebookFault(*faults)
    limits = dict(rulebook.limits)
    for entry in overlay["amend"]:
        limits[entry["limit"]] = _amended(rulebook.limits[entry["limit"]], entry)
    return replace(
        rulebook,
        limits=limits,
        amendments=overlay.get("name") or "local amendments",
    )


def _amended(limit: Limit, entry: dict[str, Any]) -> Limit:
    value, unit = to_inner_unit(entry["value"], entry["unit"])
    printed = ""
    if unit != entry["unit"]:
        printed = f"{entry['value']} {entry['unit']}"
    return replace(
        limit, value=value, amended_from=limit.value, reason=entry["reason"], printed=printed
    )


def _faults(rulebook: Rulebook, overlay: dict[str, Any]) -> Iterator[LimitFault]:
    yield from _unknown_keys(overlay, ("name", "amend"))
    if not isinstance(overlay.get("name", ""), str):
        yield LimitFault("name", words.NAME_TEXT())
    entries = overlay.get("amend")
    if not isinstance(entries, list) or not entries:
        yield LimitFault("amend", words.NO_AMEND())
        return
    named: set[str] = set()
    for index, entry in enumerate(entries):
        at = f"amend[{index}]"
        if not isinstance(entry, dict):
            yield LimitFault(at, words.NO_TABLE(keys=", ".join(KEYS)))
            continue
        for fault in _entry_faults(rulebook, entry):
            yield LimitFault(f"{at}.{fault.path}", fault.says)
        name = entry.get("limit")
        if isinstance(name, str):
            if name in named:
                yield LimitFault(f"{at}.limit", words.TWICE(limit=repr(name)))
            named.add(name)


def _unknown_keys(table: dict[str, Any], known: Collection[str]) -> Iterator[LimitFault]:
    for key in table:
        if key not in known:
            yield LimitFault(key, words.UNKNOWN_KEY())


def _entry_faults(rulebook: Rulebook, entry: dict[str, Any]) -> Iterator[LimitFault]:
    yield from _unknown_keys(entry, KEYS)
    for key in KEYS:
        if key not in entry:
            yield LimitFault(key, words.MISSING())
    reason = entry.get("reason", "-")
    if not isinstance(reason, str) or not reason.strip():
        yield LimitFault("reason", words.NO_REASON())
    if "limit" in entry:
        yield from _limit_faults(rulebook, entry)


def _limit_faults(rulebook: Rulebook, entry: dict[str, Any]) -> Iterator[LimitFault]:
    """What is wrong with the limit that an entry names, and with its unit and value for it."""
    name = entry["limit"]
    limit = None
    if isinstance(name, str):
        limit = rulebook.get(name)
    if limit is None:
        yield LimitFault("limit", words.NO_LIMIT(rulebook=rulebook.id, limit=repr(name)))
        return
    unit = entry.get("unit", limit.unit)
    if not isinstance(unit, str) or to_inner_unit(0.0, unit)[1] != limit.unit:
        yield LimitFault("unit", words.UNIT(unit=repr(limit.unit), given=repr(unit)))
    if "value" in entry and (fault := _value_fault(limit, entry["value"])):
        yield LimitFault("value", fault)


def _value_fault(limit: Limit, value: Any) -> Text | None:
    """Why the value cannot take the limit's place; None when it can."""
    was = limit.value
    if isinstance(was, bool):
        if isinstance(value, bool):
            return None
        return words.TRUTH(given=repr(value))
    if isinstance(was, list):
        return _list_fault(WORDS.get(limit.name.rpartition(".")[2]), value)
    if isinstance(was, dict):
        if _has_numbers_for(was, value):
            return None
        return words.NUMBERS(names=", ".join(was))
    if not _number(value):
        return words.NUMBER(given=repr(value))
    if limit.unit in MEASURES and was > 0 and value == 0:
        return words.NOT_ZERO()
    return None


def _list_fault(known: tuple[str, ...] | None, value: Any) -> Text | None:
    """Why the value is no list of those words, or of any where none are set."""
    if known is None:
        if isinstance(value, list) and all(isinstance(word, str) for word in value):
            return None
        return words.WORDS()
    if isinstance(value, list) and all(word in known for word in value):
        return None
    return words.WORDS_OF(words=", ".join(known))


def _has_numbers_for(was: dict[str, Any], value: Any) -> bool:
    if not isinstance(value, dict) or set(value) != set(was):
        return False
    return all(map(_number, value.values()))


def _number(value: Any) -> bool:
    plain = isinstance(value, int | float) and not isinstance(value, bool)
    return plain and isfinite(value) and 0 <= value <= 1e6


def load_rulebook(rulebook_id: str, amendments: str | None = None) -> Rulebook:
    """The rulebook of that id with an amendment overlay (TOML text) laid over it.

    Raises RulebookFault for an unknown id or a fault in the overlay.
    """
    plain = plain_rulebook(rulebook_id)
    if not amendments:
        return plain
    return amend(plain, amendments)
