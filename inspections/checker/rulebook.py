"""A rulebook: one edition of one code as data, with local amendments on top.

A rulebook file is TOML. Each limit stands in a table named after the rule that reads it:

    [box-fill.device_yoke]
    value = 2
    unit = "conductors"
    looser = "less"
    section = "314.16(B)(4)"
    known = "memory"

`known` is `read` (with `source`, a key of the file's `[sources]`), `memory` or `practice`
(common practice, no source). `looser` says which way a change loosens the limit: `more`,
`less`, or `none` where it is neither. A file that names `based_on` holds only the differences
from that rulebook; `dropped = true` in a limit takes it away, and the rule is then silent there.
The limits of loads stand in a file of the same name in `loads/`. A limit of another book than
the code, a federal standard for one, names it as its `edition`.
"""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cache
from pathlib import Path
from typing import Any

from config.messages.message import Joined, Text, Value
from config.messages.saying import said

from . import rulebook_messages as words
from .facts import digest, facts_json
from .units import to_inner_unit

HERE = Path(__file__).parent / "rulebooks"
KNOWN = ("read", "memory", "practice")
LOOSER = ("more", "less", "none")


@dataclass(frozen=True, slots=True)
class LimitFault:
    """One fault of a rulebook or an amendment, with the path to what it is about."""

    path: str
    says: Text

    @property
    def text(self) -> Text:
        """Where it is and what is wrong."""
        if self.path:
            return words.AT(place=self.path, fault=self.says)
        return self.says


class RulebookFault(Exception):
    """A rulebook or amendment that cannot be used; its text names each fault and its remedy."""

    def __init__(self, *faults: LimitFault) -> None:
        self.faults = faults
        lines: list[Value] = []
        for fault in faults:
            lines.append(fault.text)
        self.text = Joined(tuple(lines), "\n")
        super().__init__(said(self.text))


@dataclass(frozen=True, slots=True)
class Limit:
    """One figure of a code: its value, where it stands and how it is known."""

    name: str
    value: Any
    unit: str
    section: str
    edition: str
    known: str
    source: str = ""
    looser: str = "none"
    note: str = ""
    amended_from: Any = None
    reason: str = ""
    printed: str = ""
    """The figure as the code prints it, when that is in another unit."""

    @property
    def amended(self) -> bool:
        """Whether a local amendment set this value."""
        return bool(self.reason)

    @property
    def loosened(self) -> bool:
        """Whether the amendment asks for less than the code does."""
        if not self.amended or self.looser == "none":
            return False
        was, now = self.amended_from, self.value
        if isinstance(was, dict):
            changes = []
            for key in was:
                changes.append((was[key], now[key]))
        else:
            changes = [(was, now)]
        for a, b in changes:
            if b > a if self.looser == "more" else b < a:
                return True
        return False


@dataclass(frozen=True)
class Rulebook:
    """The limits of one edition, by `rule.limit` name."""

    id: str
    code: str
    edition: str
    title: str
    limits: Mapping[str, Limit]
    amendments: str = ""
    _values: dict[str, Any] = field(init=False, default_factory=dict, repr=False, compare=False)
    _by_rule: dict[str, list[Limit]] = field(
        init=False, default_factory=dict, repr=False, compare=False
    )

    def __post_init__(self) -> None:
        for name, limit in self.limits.items():
            self._values[name] = limit.value
            self._by_rule.setdefault(name.partition(".")[0], []).append(limit)

    @property
    def digest(self) -> str:
        """What stands for its limits with their amendments: another when one of them is."""
        values = sorted((name, facts_json(limit.value)) for name, limit in self.limits.items())
        return digest(values)

    def get(self, name: str) -> Limit | None:
        """The limit of that name, or None where this code has none."""
        return self.limits.get(name)

    def __getitem__(self, name: str) -> Limit:
        return self.limits[name]

    def __contains__(self, name: str) -> bool:
        return name in self.limits

    def value(self, name: str, default: Any = None) -> Any:
        """The value alone, for arithmetic."""
        return self._values.get(name, default)

    def limits_of(self, rule: str) -> list[Limit]:
        """Every limit of the rule."""
        return list(self._by_rule.get(rule, ()))

    def speaks_on(self, rule: str) -> bool:
        """Whether this code has any limit for the rule."""
        return bool(self.limits_of(rule))

    @property
    def amended(self) -> tuple[Limit, ...]:
        """The limits that local amendments changed."""
        limits = []
        for limit in self.limits.values():
            if limit.amended:
                limits.append(limit)
        return tuple(limits)


def rulebook_ids() -> tuple[str, ...]:
    """The rulebooks that come with Studbay."""
    stems = []
    for path in HERE.glob("*.toml"):
        stems.append(path.stem)
    return tuple(sorted(stems))


@cache
def plain_rulebook(rulebook_id: str) -> Rulebook:
    """The rulebook of that id as its code has it; RulebookFault for an unknown id."""
    if rulebook_id not in rulebook_ids():
        unknown = words.UNKNOWN(rulebook=repr(rulebook_id), known=", ".join(rulebook_ids()))
        raise RulebookFault(LimitFault("", unknown))
    files = (HERE / f"{rulebook_id}.toml", HERE / "loads" / f"{rulebook_id}.toml")
    tables = []
    for path in files:
        if path.exists():
            tables.append(tomllib.loads(path.read_text("utf-8")))
    return _read(tables, rulebook_id)


def _read(parts: list[dict[str, Any]], rulebook_id: str) -> Rulebook:
    head = parts[0].pop("rulebook")
    base = None
    if "based_on" in head:
        base = plain_rulebook(head["based_on"])
    edition = f"{head['code']} {head['edition']}"
    limits = {}
    if base:
        limits = dict(base.limits)
    for name, limit in limits.items():
        if base and limit.edition == f"{base.code} {base.edition}":
            limits[name] = replace(limit, edition=edition)
    for data in parts:
        sources = data.pop("sources", {})
        for rule, table in data.items():
            for short, entry in table.items():
                name = f"{rule}.{short}"
                if entry.get("dropped"):
                    del limits[name]
                else:
                    limits[name] = _limit(name, entry, entry.get("edition", edition), sources)
    return Rulebook(rulebook_id, head["code"], head["edition"], head["title"], limits)


def _limit(name: str, entry: dict[str, Any], edition: str, sources: dict[str, str]) -> Limit:
    known, looser = entry["known"], entry.get("looser", "none")
    if known not in KNOWN or looser not in LOOSER:
        says = words.KNOWN_AND_LOOSER(known=", ".join(KNOWN), looser=", ".join(LOOSER))
        raise RulebookFault(LimitFault(name, says))
    if known == "read" and entry.get("source") not in sources:
        raise RulebookFault(LimitFault(name, words.NO_SOURCE()))
    printed_in = entry.get("unit", "")
    value, unit = to_inner_unit(entry["value"], printed_in)
    turned = unit != printed_in and not isinstance(value, dict)
    return Limit(
        name=name,
        value=value,
        unit=unit,
        section=entry["section"],
        edition=edition,
        known=known,
        source=sources.get(entry.get("source", ""), ""),
        looser=looser,
        note=entry.get("note", ""),
        printed=f"{entry['value']} {printed_in}" if turned else "",
    )
