"""Local amendments: a small overlay on a rulebook, with a reason for each change.

name = "What Fernhollow asks for"

[[amend]]
limit = "counter-receptacles.min_space_mm"
value = 254
unit = "mm"
reason = "by-law 12, counters over ten inches"
"""

import tomllib
from dataclasses import replace
from typing import Any

from .rulebook import Limit, Rulebook, RulebookFault
from .units import inside

KEYS = {"limit", "value", "unit", "reason"}


def amend(rulebook: Rulebook, text: str) -> Rulebook:
    """The rulebook with the overlay laid over it; RulebookFault names every fault at once."""
    try:
        overlay = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise RulebookFault(f"amendments: not TOML: {error}") from None
    entries = overlay.get("amend")
    if not isinstance(entries, list) or not all(isinstance(entry, dict) for entry in entries):
        raise RulebookFault("amend: is missing; give at least one [[amend]] table")
    faults = [fault for i, entry in enumerate(entries) for fault in _faults(rulebook, i, entry)]
    if not isinstance(overlay.get("name", ""), str):
        faults.append("name: must be text")
    faults += [f"{key}: is not a known key" for key in overlay if key not in ("name", "amend")]
    if faults:
        raise RulebookFault("\n".join(faults))
    limits = dict(rulebook.limits)
    for entry in entries:
        name = entry["limit"]
        limits[name] = _amended(limits[name], entry)
    return Rulebook(
        rulebook.id,
        rulebook.code,
        rulebook.edition,
        rulebook.title,
        limits,
        overlay.get("name") or "local amendments",
    )


def _amended(limit: Limit, entry: dict[str, Any]) -> Limit:
    value, _ = inside(entry["value"], entry["unit"])
    if isinstance(limit.value, float) and isinstance(value, int):
        value = float(value)
    return replace(limit, value=value, amended_from=limit.value, reason=entry["reason"])


def _faults(rulebook: Rulebook, index: int, entry: dict[str, Any]) -> list[str]:
    at = f"amend[{index}]"
    faults = [f"{at}.{key}: is missing" for key in sorted(KEYS - set(entry))]
    faults += [f"{at}.{key}: is not a known key" for key in entry if key not in KEYS]
    if faults:
        return faults
    limit = rulebook.get(entry["limit"]) if isinstance(entry["limit"], str) else None
    if limit is None:
        return [f"{at}.limit: {rulebook.id} has no limit called {entry['limit']!r}"]
    if not isinstance(entry["unit"], str) or inside(1, entry["unit"])[1] != limit.unit:
        faults.append(f"{at}.unit: must be {limit.unit!r} or a unit that turns into it")
    if not _same_kind(limit.value, entry["value"]):
        faults.append(f"{at}.value: must be of the kind {limit.value!r} is")
    if not isinstance(entry["reason"], str) or not entry["reason"].strip():
        faults.append(f"{at}.reason: must say why, in a sentence")
    return faults


def _same_kind(was: Any, now: Any) -> bool:
    if isinstance(was, bool) or isinstance(now, bool):
        return isinstance(was, bool) and isinstance(now, bool)
    if isinstance(was, int | float):
        return isinstance(now, int | float) and now >= 0
    return type(was) is type(now)
