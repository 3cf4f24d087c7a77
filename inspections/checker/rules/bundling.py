"""Cables bundled, and what the bundle leaves of their ampacity for their breakers."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from config.messages.message import (
    Amperes,
    Length,
    Listed,
    Message,
    Percent,
    Rounding,
    Text,
    Value,
    message,
)
from inspections.checker.asking.derating import Count, Derated, Derating, carrying
from inspections.checker.asking.fixing import done, figure
from inspections.checker.asking.points import DUST, EITHER_WAY, NOT_RECORDED, STILL_MISSING
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..asking.visual import PartKind, part_text
from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, DeviceKind
from ..house.cables import Bundle, Cable, Hole
from ..rulebook import Limit
from ..site import HouseByCode
from ..spot import CABLE

NAME = "bundling"


class Missing(StrEnum):
    """A fact without which the largest breaker cannot be known for sure."""

    LENGTH = "length"
    APART = "apart"
    SEALED = "sealed"
    CARRYING = "carrying"
    BREAKER = "breaker"
    SIZE = "size"


class Grouped(StrEnum):
    """Whether cables that run together warm one another enough to count."""

    YES = "yes"
    APART = "apart"
    SHORT_RUN = "short_run"
    IN_DOUBT = "in_doubt"


WHAT_IS_MISSING: dict[Missing, Message] = {
    Missing.LENGTH: message(f"{NAME}.length", "how far {where} runs together"),
    Missing.APART: message(f"{NAME}.apart", "whether the cables of {where} are kept apart"),
    Missing.SEALED: message(f"{NAME}.sealed", "whether {where} will be sealed or insulated"),
    Missing.CARRYING: message(f"{NAME}.carrying", "how many of the conductors carry current"),
    Missing.BREAKER: message(f"{NAME}.breaker", "the circuit of cable {cable}"),
    Missing.SIZE: message(f"{NAME}.size", "the wire size of cable {cable}"),
}
WRONG = message(f"{NAME}.wrong", "Cable {cable} in {where}: {breaker} breaker; {limit} maximum.")
KEPT_APART = message(f"{NAME}.kept-apart", "The cables of {where} are kept apart.")
STARTS_AT = message(
    f"{NAME}.starts-at", "Bundle {bundle} runs {length} together; derating starts at {over}."
)
STARTS_PAST = message(
    f"{NAME}.starts-past", "Bundle {bundle} runs {length} together; derating starts past {over}."
)
NO_AMPACITY = message(
    f"{NAME}.no-ampacity", "The tables here have no ampacity for cable {cable}, size {size}."
)
TOGETHER = message(
    f"{NAME}.together",
    "{n} current-carrying conductors together in {where}",
    one="{n} current-carrying conductor together in {where}",
)
AT_90 = message(f"{NAME}.at-90", "{size} AWG at 90 °C: {ampacity} × {percent} = {adjusted}")
AT_60 = message(f"{NAME}.at-60", "at 60 °C: {ampacity}; the lower counts: {lower}")
NEXT_UP = message(f"{NAME}.next-up", "next standard breaker: {breaker}")
NOT_UP = message(
    f"{NAME}.not-up", "several receptacles on the circuit: next larger breaker not allowed"
)
SEPARATE = message(
    f"{NAME}.separate", "Separate the cables, or use larger wire or a smaller breaker."
)
RECORD_OR_SEPARATE = message(f"{NAME}.record", "Record it, or separate the cables.")
RECORD_CABLE = message(f"{NAME}.record-cable", "Record it for the cable.")
LOOK_UP = message(
    f"{NAME}.look-up", "Verify its breaker by the code's own tables, and record what you find."
)


@dataclass(frozen=True, slots=True)
class BundleFacts:
    """A cable among others, what it may carry there, and its breaker."""

    kind: PartKind
    """A bundle or a hole."""
    bundle: str
    cable: str
    size: str
    """Of its conductors; empty where it is not recorded."""
    breaker_a: float | None
    next_up: bool
    """Whether the next standard breaker above the ampacity may protect it."""
    over_mm: float
    at_length: bool
    """Whether so long a run counts already, or only a longer one."""
    length_mm: float | None
    """Of a run that is too short to count."""
    grouped: Grouped
    derated: Derated | None
    missing: frozenset[Missing]


def tell(finding: Finding) -> FindingWords:
    """The breaker against the ampacity after adjustment, step by step."""
    facts: BundleFacts = finding.facts
    if facts.grouped in (Grouped.APART, Grouped.SHORT_RUN):
        return _not_grouped(facts)
    if facts.derated is None or facts.breaker_a is None:
        return _no_cable_fact(facts)
    limit = Amperes(facts.derated.breaker_a)
    breaker = Amperes(facts.breaker_a)
    says = WRONG(cable=facts.cable, where=_where(facts), breaker=breaker, limit=limit)
    remedy: Value = ""
    if finding.verdict is Verdict.NOT_TO_CODE:
        remedy = SEPARATE()
    elif finding.verdict is Verdict.INFO_NEEDED:
        says = NOT_RECORDED(what=Listed(tuple(_missing(facts))))
        remedy = RECORD_OR_SEPARATE()
    working = _working(facts, facts.derated, finding.verdict is Verdict.INFO_NEEDED)
    return FindingWords(says, breaker, limit, tuple(working), remedy)


def _where(facts: BundleFacts) -> Text:
    return part_text(facts.kind, facts.bundle)


def _missing(facts: BundleFacts) -> Iterator[Text]:
    """What is missing, as parts of a sentence, in the order it is asked for."""
    for each in Missing:
        if each in facts.missing:
            said = WHAT_IS_MISSING[each]
            holes: dict[str, Value] = {"cable": facts.cable, "where": _where(facts)}
            yield said(**{hole: holes[hole] for hole in said.holes})


def _not_grouped(facts: BundleFacts) -> FindingWords:
    """Why the cables do not warm one another."""
    over = Length(facts.over_mm)
    if facts.grouped is Grouped.APART or facts.length_mm is None:
        says = KEPT_APART(where=_where(facts))
        return FindingWords(says, "", over, (says,))
    starts = STARTS_AT if facts.at_length else STARTS_PAST
    length = Length(facts.length_mm, Rounding.DOWN)
    says = starts(over=over, bundle=facts.bundle, length=length)
    return FindingWords(says, length, over, (says,))


def _no_cable_fact(facts: BundleFacts) -> FindingWords:
    """A cable of no circuit, of no size, or of a size that the tables do not have."""
    over = Length(facts.over_mm)
    says = NOT_RECORDED(what=Listed(tuple(_missing(facts))))
    remedy = RECORD_CABLE()
    if Missing.SIZE in facts.missing and facts.size:
        says = NO_AMPACITY(cable=facts.cable, size=facts.size)
        remedy = LOOK_UP()
    return FindingWords(says, "", over, (says,), remedy)


def _working(facts: BundleFacts, derated: Derated, unknown: bool) -> Iterator[Text]:
    yield TOGETHER(n=derated.together, where=_where(facts))
    yield AT_90(
        size=facts.size,
        ampacity=Amperes(derated.at_90_a),
        percent=Percent(derated.percent),
        adjusted=Amperes(derated.at_90_a * derated.percent / 100),
    )
    yield AT_60(ampacity=Amperes(derated.at_60_a), lower=Amperes(derated.ampacity_a))
    if facts.next_up:
        yield NEXT_UP(breaker=Amperes(derated.breaker_a))
    else:
        yield NOT_UP()
    line = STILL_MISSING if unknown else EITHER_WAY
    for what in _missing(facts):
        yield line(what=what)


def _fixes(finding: Finding, _house: House) -> Iterator[Fix]:
    """The cables kept apart; how far they run together; how a hole is filled."""
    facts = finding.facts
    if facts.kind is PartKind.BUNDLE:
        yield done(("bundles", facts.bundle, "apart"))
        if facts.length_mm is None and not facts.at_length:
            yield figure(("bundles", facts.bundle, "length_mm"), most=facts.over_mm)
    else:
        yield done(("holes", facts.bundle, "sealed"), False)


@rule(
    NAME,
    topic="cables",
    title="Bundled cables",
    tell=tell,
    scope=Scope.WIRING,
    facts=BundleFacts,
    workmanship=True,
    fixes=_fixes,
)
def bundling(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Cables that run bundled warm one another, and their ampacity falls with their number.

    It counts from a length that the code gives, and where the code says so in a hole that will
    be filled, with more than so many cables. The ampacity at 90 °C is adjusted and then held to
    that at 60 °C; the breaker may not be larger than it lets be. A breaker of the next standard
    size above will do unless the circuit has several receptacles.
    """
    book = site.rulebook
    if f"{NAME}.percent_from" not in book:
        return
    limits = tuple(book.limits_of(NAME))
    judge = _Judge(site, limits)
    for bundle in site.house.bundles:
        yield from _findings(this, site, bundle, judge)
    if judge.sealed is not None:
        for hole in site.house.holes:
            if len(judge.power(hole.cables)) > judge.sealed and hole.sealed is not False:
                yield from _findings(this, site, hole, judge)


def _receptacles(boxes: Iterable[Box]) -> Counter[str]:
    """How many receptacles are on each circuit; a split one is on two."""
    count: Counter[str] = Counter()
    for box in boxes:
        for device in box.devices:
            if device.kind is DeviceKind.RECEPTACLE:
                count.update(filter(None, (device.circuit, device.second_circuit)))
    return count


class _Judge:
    """The tables and the circuits, read once."""

    def __init__(self, site: HouseByCode, limits: tuple[Limit, ...]) -> None:
        self.limits = limits
        values = {}
        for limit in limits:
            values[limit.name.partition(".")[2]] = limit.value
        self.over: float = values["length_mm"]
        self.at_length: bool = values["at_length"]
        self.sealed: int | None = values.get("sealed_cables")
        self.table = Derating(values)
        self.cables = {c.id: c for c in site.house.cables if c.kind.carries_power}
        self.breakers = {circuit.id: circuit.breaker_a for circuit in site.house.circuits}
        self.receptacles = _receptacles(site.house.boxes)

    def power(self, names: Sequence[str]) -> list[Cable]:
        """The power cables among these, each once."""
        power: list[Cable] = []
        for name in dict.fromkeys(names):
            if name in self.cables:
                power.append(self.cables[name])
        return power

    def grouped(self, seen: Bundle | Hole) -> tuple[Grouped, Missing | None]:
        """Whether the cables count as bundled, and what is missing to say so."""
        if isinstance(seen, Hole):
            if seen.sealed is None:
                return Grouped.IN_DOUBT, Missing.SEALED
            return Grouped.YES, None
        if seen.apart:
            return Grouped.APART, None
        if seen.length_mm is not None and not self._is_long(seen.length_mm):
            return Grouped.SHORT_RUN, None
        if seen.apart is None:
            return Grouped.IN_DOUBT, Missing.APART
        if seen.length_mm is None:
            return Grouped.IN_DOUBT, Missing.LENGTH
        return Grouped.YES, None

    def _is_long(self, length_mm: float) -> bool:
        if abs(length_mm - self.over) <= DUST:
            return self.at_length
        return length_mm > self.over


def _findings(
    this: Rule, site: HouseByCode, seen: Bundle | Hole, judge: _Judge
) -> Iterator[Finding]:
    cables = judge.power(seen.cables)
    count = carrying(cables)
    if judge.table.percent(count.most) == 100:
        return
    kind, prefix = PartKind.BUNDLE, ""
    if isinstance(seen, Hole):
        kind, prefix = PartKind.HOLE, "hole/"
    for cable in cables:
        verdict, facts = _judged(cable, seen, kind, count, judge)
        spot = site.part_spot(
            site.rooms[seen.room], part_text(kind, seen.id), CABLE(cable=cable.id)
        )
        yield Finding(this, f"{prefix}{seen.id}/{cable.id}", verdict, spot, facts, judge.limits)


def _judged(
    cable: Cable, seen: Bundle | Hole, kind: PartKind, count: Count, judge: _Judge
) -> tuple[Verdict, BundleFacts]:
    grouped, doubt = judge.grouped(seen)
    circuit = cable.circuit or ""
    facts = BundleFacts(
        kind=kind,
        bundle=seen.id,
        cable=cable.id,
        size=cable.awg or "",
        breaker_a=judge.breakers.get(circuit),
        next_up=judge.receptacles[circuit] <= 1,
        over_mm=judge.over,
        at_length=judge.at_length,
        length_mm=None,
        grouped=grouped,
        derated=None,
        missing=frozenset(),
    )
    if grouped is Grouped.SHORT_RUN and isinstance(seen, Bundle):
        return Verdict.OK, replace(facts, length_mm=seen.length_mm)
    if grouped is Grouped.APART:
        return Verdict.OK, facts
    if facts.breaker_a is None:
        return Verdict.INFO_NEEDED, replace(facts, missing=frozenset({Missing.BREAKER}))
    if facts.size not in judge.table.at_90:
        return Verdict.INFO_NEEDED, replace(facts, missing=frozenset({Missing.SIZE}))
    return _against(facts, facts.breaker_a, count, doubt, judge.table)


def _against(
    facts: BundleFacts, breaker: float, count: Count, doubt: Missing | None, table: Derating
) -> tuple[Verdict, BundleFacts]:
    """The breaker against what the cable carries at the worst and at the best."""
    worst = table.of(facts.size, count.most, next_up=facts.next_up)
    best = table.of(facts.size, count.least, next_up=facts.next_up)
    missing = set()
    if doubt:
        missing.add(doubt)
    if count.least < count.most and best.breaker_a != worst.breaker_a:
        missing.add(Missing.CARRYING)
    facts = replace(facts, missing=frozenset(missing), derated=worst)
    if breaker <= worst.breaker_a + DUST:
        return Verdict.OK, facts
    if facts.grouped is Grouped.YES and breaker > best.breaker_a + DUST:
        return Verdict.NOT_TO_CODE, replace(facts, derated=best)
    return Verdict.INFO_NEEDED, facts
