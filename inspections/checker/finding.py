"""Findings: what a rule says about one subject, with everything its working rests on.

A rule computes facts; words are made from those facts only when somebody reads them.
So a finding carries its facts, and `says`, `working` and `remedy` are read off it.
"""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import Any

from config.messages.message import Text, Value, message

from .facts import canonical, digest, facts_json
from .house import House
from .house.fixes import Fix
from .measures import Measure, Tape, first_measure
from .rulebook import Limit
from .site import HouseByCode
from .spot import Spot


class Verdict(StrEnum):
    """What the figures say. What is not known is never OK."""

    OK = "ok"
    NOT_TO_CODE = "not_to_code"
    VERIFY = "verify"
    """By eye or tape on site."""
    INFO_NEEDED = "info_needed"


TO_DO = message("finding.to-do", "To do: {remedy}")


def fault_verdict(faults: Collection[Any], missing: Collection[Any]) -> Verdict:
    """Not to code by any fault; info needed where none is known and a fact is missing."""
    if faults:
        return Verdict.NOT_TO_CODE
    if missing:
        return Verdict.INFO_NEEDED
    return Verdict.OK


@dataclass(frozen=True, slots=True)
class FindingWords:
    """A finding as a person reads it: messages, said in his language and units.

    `says` holds what was found, its figure and the limit, each once; `figure` and `limit` are the
    same by themselves, for a mark on a plan or a column on paper, empty where there is none.
    """

    says: Value
    figure: Value = ""
    limit: Value = ""
    working: tuple[Value, ...] = ()
    remedy: Value = ""


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
    version: int = 1
    """Of its facts: it rises when they change their shape or meaning."""
    facts: Any = None
    """The class or classes of its findings' facts."""
    workmanship: bool = False
    """Whether hands make what it is about: a drawing that complies is no wall that does, so its
    items are OK on plan until somebody on site has confirmed them."""

    carries: Callable[[Mapping[str, Any], "Finding"], bool] | None = None
    """Whether a finding kept by an older version means the same, where verdict, place, limits of
    the measure and sections do not say it all."""

    fixes: Callable[["Finding", House], Iterable[Fix]] | None = None
    """The facts whose change can settle a finding that is not to code or lacks info."""

    @property
    def named(self) -> Text:
        """Its title as a message."""
        return Text(title_id(self.id))

    def __reduce__(self) -> tuple[Callable[[str], "Rule"], tuple[str]]:
        """A rule goes to another process by its name."""
        return _named, (self.id,)


@dataclass(frozen=True, slots=True)
class Finding:
    """A verdict on one subject. `facts` holds every fact and figure that it rests on."""

    rule: Rule
    subject: str
    verdict: Verdict
    spot: Spot
    facts: Any
    limits: tuple[Limit, ...]
    _once: dict[str, Any] = field(
        default_factory=dict, init=False, repr=False, compare=False, hash=False
    )
    """What is worked out from the above once: recording a house asks for it three times."""

    @property
    def key(self) -> str:
        """The identity of its item through revisions: rule and subject."""
        return f"{self.rule.id}:{self.subject}"

    @property
    def words(self) -> FindingWords:
        """The finding in words; its working is in the units that the code prints."""
        words = self.rule.tell(self)
        units = "metric"
        if self.imperial:
            units = "imperial"
        working: list[Value] = []
        for line in words.working:
            if isinstance(line, Text):
                line = replace(line, code_units=units)
            working.append(line)
        return replace(words, working=tuple(working))

    @property
    def code(self) -> str:
        """The code that it is checked by, whose terms its sentences take: NEC or CEC."""
        if self.imperial:
            return "NEC"
        return "CEC"

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

        No word, language, unit or order of a house file is in it. The version of the rule is, so
        that facts of another shape are never taken for these.
        """
        if "fingerprint" not in self._once:
            limits = []
            for limit in self.limits:
                limits.append((limit.name, limit.value))
            limits.sort(key=canonical)
            known = [self.key, self.rule.version, self.facts_as_json, facts_json(limits)]
            self._once["fingerprint"] = digest(known)
        found: str = self._once["fingerprint"]
        return found

    @property
    def facts_as_json(self) -> Any:
        """Its facts as plain JSON; whoever reads it changes nothing of it."""
        if "facts" not in self._once:
            self._once["facts"] = facts_json(self.facts)
        return self._once["facts"]


_RULES: dict[str, Rule] = {}


def title_id(rule_id: str) -> str:
    """The message that titles a rule."""
    return f"{rule_id}.title"


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
    facts: Any,
    version: int = 2,
    workmanship: bool = False,
    carries: Callable[[Mapping[str, Any], Finding], bool] | None = None,
    fixes: Callable[[Finding, House], Iterable[Fix]] | None = None,
) -> Callable[[Callable[[Rule, HouseByCode], Iterable[Finding]]], Rule]:
    """Register the decorated function as a rule; it is given the rule itself and the site.

    `facts` is the dataclass of what its findings carry, or several joined by `|`.
    """
    if rule_id in _RULES:
        raise ValueError(f"two rules are called {rule_id}")
    message(title_id(rule_id), title)

    def register(check: Callable[[Rule, HouseByCode], Iterable[Finding]]) -> Rule:
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
            version,
            facts,
            workmanship,
            carries,
            fixes,
        )
        _RULES[rule_id] = made
        return made

    return register


def rules() -> Mapping[str, Rule]:
    """Every registered rule by id."""
    return _RULES


def rules_digest() -> str:
    """What stands for the rules of this program: each by its id and the version of its facts."""
    versions = sorted((rule.id, rule.version) for rule in _RULES.values())
    return digest(versions)
