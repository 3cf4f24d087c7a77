"""Findings: what a rule says about one subject, with everything its working rests on.

A rule computes numbers; words are made from those numbers only when somebody reads them.
So a finding carries its data, and `says`, `working` and `remedy` are read off it.
"""

import hashlib
import json
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from .measures import Measure, Tape, first_measure
from .rulebook import Limit
from .site import HouseByCode
from .spot import Spot


class Verdict(StrEnum):
    """What a rule can say. Unknown never passes; look waits for eyes or a tape."""

    MEETS = "meets"
    SHORT = "short"
    LOOK = "look"
    UNKNOWN = "unknown"


def fault_verdict(faults: Collection[Any], missing: Collection[Any]) -> Verdict:
    """Short by any fault; unknown where none is known and a fact is missing."""
    if faults:
        return Verdict.SHORT
    if missing:
        return Verdict.UNKNOWN
    return Verdict.MEETS


@dataclass(frozen=True, slots=True)
class FindingWords:
    """A finding as a person reads it."""

    says: str
    figure: str = ""
    limit: str = ""
    working: tuple[str, ...] = ()
    remedy: str = ""


class Scope(StrEnum):
    """What a rule's findings rest on, so that a change asks again only what it could touch."""

    HOUSE = "house"
    """On anything in the house."""
    ALARMS = "alarms"
    """As wiring, and on where boxes with an alarm stand."""
    PLACED = "placed"
    """On the room that the finding is in, what stands there, and the wiring of the whole house."""
    WIRING = "wiring"
    """On anything but where boxes stand within their rooms, unless the finding is placed there."""
    ROOM = "room"
    """On the room that the finding is in, what stands there, and the cables at its boxes."""


@dataclass(frozen=True, slots=True)
class Rule:
    """One requirement: its identity, what it is about, how it checks and how it speaks."""

    id: str
    topic: str
    stage: str
    title: str
    check: Callable[[HouseByCode], Iterator["Finding"]]
    tell: Callable[["Finding"], FindingWords]
    doc: str = ""
    scope: Scope = Scope.HOUSE
    tapes: tuple[Tape, ...] = ()
    """What is measured on site for its items; the first that a finding holds a limit of counts."""

    def __reduce__(self) -> tuple[Callable[[str], "Rule"], tuple[str]]:
        """A rule goes to another process by its name."""
        return _named, (self.id,)


@dataclass(frozen=True, slots=True)
class Finding:
    """A verdict on one subject. `data` holds every fact and figure that it rests on."""

    rule: Rule
    subject: str
    verdict: Verdict
    spot: Spot
    data: Mapping[str, Any]
    limits: tuple[Limit, ...]

    @property
    def key(self) -> str:
        """The identity of its item through revisions: rule and subject."""
        return f"{self.rule.id}:{self.subject}"

    @property
    def words(self) -> FindingWords:
        """The finding in words, with its working."""
        return self.rule.tell(self)

    @property
    def section(self) -> str:
        """The sections its limits stand in."""
        sections = []
        for limit in self.limits:
            sections.append(limit.section)
        return ", ".join(dict.fromkeys(sections))

    @property
    def edition(self) -> str:
        """The code and edition of its limits."""
        editions = []
        for limit in self.limits:
            editions.append(limit.edition)
        return ", ".join(dict.fromkeys(editions))

    @property
    def imperial(self) -> bool:
        """Whether its readers measure in feet and inches."""
        return self.spot.imperial

    @property
    def measure(self) -> Measure | None:
        """What a tape is held against on site, if the rule has anything measured."""
        return first_measure(self.rule.tapes, self)

    @property
    def known(self) -> str:
        """How its least certain limit is known: read, memory or practice."""
        ways = set()
        for limit in self.limits:
            ways.add(limit.known)
        for way in ("memory", "practice", "read"):
            if way in ways:
                return way
        return "read"

    @property
    def fingerprint(self) -> str:
        """A digest of the facts and limits it rests on; it changes when one of them does.

        The order of a list in `data` is that of the house file, and no fact; a tuple's is one.
        """
        data = {}
        for name, value in self.data.items():
            if isinstance(value, list):
                data[name] = sorted(value, key=_text)
            else:
                data[name] = value
        limits = []
        for limit in self.limits:
            limits.append((limit.name, limit.value))
        return digest([self.key, data, sorted(limits, key=_text)])


def digest(value: Any) -> str:
    """Sixteen hex digits that stand for a JSON value, keys in any order."""
    return hashlib.sha256(_text(value).encode()).hexdigest()[:16]


def _text(value: Any) -> str:
    return json.dumps(value, sort_keys=True, separators=(",", ":"), default=str)


_RULES: dict[str, Rule] = {}


def _named(rule_id: str) -> Rule:
    return _RULES[rule_id]


def rule(
    rule_id: str,
    *,
    topic: str,
    title: str,
    tell: Callable[[Finding], FindingWords],
    stage: str = "rough-in",
    scope: Scope = Scope.HOUSE,
    tapes: Iterable[Tape] = (),
) -> Callable[[Callable[[Rule, HouseByCode], Iterable[Finding]]], Rule]:
    """Register the decorated function as a rule; it is given the rule itself and the site."""

    def register(check: Callable[[Rule, HouseByCode], Iterable[Finding]]) -> Rule:
        if rule_id in _RULES:
            raise ValueError(f"two rules are called {rule_id}")
        made = Rule(
            rule_id,
            topic,
            stage,
            title,
            lambda site: iter(check(made, site)),
            tell,
            check.__doc__ or "",
            scope,
            tuple(tapes),
        )
        _RULES[rule_id] = made
        return made

    return register


def rules() -> Mapping[str, Rule]:
    """Every registered rule by id."""
    return _RULES
