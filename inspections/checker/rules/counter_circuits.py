"""Circuits of the receptacles along kitchen counters."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Amperes, Joined, Listed, Text, Value, message
from inspections.checker.asking.lines import ids_listed
from inspections.checker.asking.on_circuit import (
    MOVE,
    OTHERS,
    RATED,
    READ_RATING,
    TRACE,
    CircuitLoad,
    RatedReceptacle,
    appliance_load,
    by_box,
    device_load,
    every_load,
    few_loads,
    unread_ratings,
)
from inspections.checker.asking.points import EITHER_WAY, NOT_RECORDED, STILL_MISSING
from inspections.checker.asking.receptacles import is_general, serves_counter
from inspections.checker.graph.supply import SuppliedDevice

from ..finding import Finding, FindingWords, Rule, Verdict, fault_verdict, rule
from ..house.rooms import Room, RoomKind
from ..rulebook import Limit
from ..site import HouseByCode

NAME = "counter-circuits"
KITCHEN = message(
    f"{NAME}.kitchen",
    "The counter receptacles here are on {n} circuits; {required} required.",
    one="The counter receptacles here are on {n} circuit; {required} required.",
)
NO_CIRCUIT = message(
    f"{NAME}.none",
    "The circuit of the counter receptacles here is not recorded; {required} required.",
)
SPREAD = message(
    f"{NAME}.kitchen.remedy",
    "Spread them over {required} circuits.",
    one="Put them on {required} circuit.",
    count="required",
)
ON_THEM = message(
    f"{NAME}.kitchen.receptacles", "counter receptacles: {receptacles}; circuits: {circuits}"
)
RECEPTACLES = message(f"{NAME}.kitchen.uncounted", "counter receptacles: {receptacles}")
OK = message(
    f"{NAME}.ok",
    "Circuit {circuit} feeds {n} counter receptacles only; {most} maximum.",
    one="Circuit {circuit} feeds {n} counter receptacle only; {most} maximum.",
)
TOO_MANY = message(
    f"{NAME}.too-many",
    "Circuit {circuit} feeds {n} counter receptacles; {most} maximum.",
    one="Circuit {circuit} feeds {n} counter receptacle; {most} maximum.",
)
MOVE_SOME = message(
    f"{NAME}.too-many.remedy",
    "Move {n} of them to another circuit.",
    one="Move one of them to another circuit.",
)
ALSO = message(f"{NAME}.also", "Counter circuit {circuit} also feeds {others}; not allowed.")
NOT_SPLIT = message(
    f"{NAME}.not-split",
    "Counter circuit {circuit} is {breaker} without split receptacles; {single} minimum.",
)
SPLIT_THEM = message(
    f"{NAME}.not-split.remedy", "Fit split receptacles, or rewire it for {single}."
)
SMALL = message(f"{NAME}.small", "Counter receptacle {box} is rated {rating}; {single} minimum.")
SMALL_MANY = message(
    f"{NAME}.small-many",
    "{n} counter receptacles are rated below the minimum of {single}.",
    one="{n} counter receptacle is rated below the minimum of {single}.",
)
REPLACE = message(f"{NAME}.small.remedy", "Fit {single} receptacles.")
SPLIT = message(f"{NAME}.split", "breaker {breaker}, split receptacles")
UNSPLIT = message(f"{NAME}.unsplit", "breaker {breaker}, not split; {single} minimum")
BOXES = message(f"{NAME}.boxes", "counter receptacles: {n}; boxes: {boxes}")


@dataclass(frozen=True, slots=True)
class CounterKitchenFacts:
    """The branch circuits of a kitchen's counter receptacles; two with one neutral are one."""

    circuits: frozenset[tuple[str, ...]]
    receptacles: int
    required: int


@dataclass(frozen=True, slots=True)
class CounterCircuitFacts:
    """A branch circuit of counter receptacles, and what else is on it."""

    circuits: tuple[str, ...]
    breaker_a: float
    split: bool
    boxes: tuple[str, ...]
    """The box of each counter receptacle on it, in order."""
    most: int
    single_a: float
    """The least breaker and rating where receptacles are not split."""
    others: frozenset[CircuitLoad]
    small: tuple[RatedReceptacle, ...]
    """Receptacles rated for less, in order."""
    unread: tuple[str, ...]
    """The box of each whose rating is not recorded, in order."""

    @property
    def count(self) -> int:
        """How many counter receptacles are on it."""
        return len(self.boxes)

    @property
    def too_many(self) -> bool:
        """Whether it feeds more than it may."""
        return self.count > self.most

    @property
    def needs_split(self) -> bool:
        """Whether its breaker will do for split receptacles alone."""
        return not self.split and self.breaker_a < self.single_a

    @property
    def verdict(self) -> Verdict:
        """Short by any fault, else unknown while a rating is to be read."""
        faults = (self.too_many, self.needs_split, *self.others, *self.small)
        return fault_verdict([fault for fault in faults if fault], self.unread)


def tell(finding: Finding) -> FindingWords:
    """The circuits of the counters, or one of them."""
    facts: CounterKitchenFacts | CounterCircuitFacts = finding.facts
    if isinstance(facts, CounterKitchenFacts):
        return _tell_kitchen(finding, facts)
    return _tell_circuit(finding, facts)


def _tell_kitchen(finding: Finding, facts: CounterKitchenFacts) -> FindingWords:
    found, required = len(facts.circuits), facts.required
    says = NO_CIRCUIT(required=required)
    working = RECEPTACLES(receptacles=facts.receptacles)
    if facts.circuits:
        says = KITCHEN(n=found, required=required)
        names = ids_listed(_named(pair) for pair in facts.circuits)
        working = ON_THEM(receptacles=facts.receptacles, circuits=names)
    remedy: Value = ""
    if not facts.circuits:
        remedy = TRACE()
    elif finding.verdict is Verdict.NOT_TO_CODE:
        remedy = SPREAD(required=required)
    return FindingWords(says, found, required, (working,), remedy)


def _named(pair: tuple[str, ...]) -> str:
    """A circuit by its id; two with one neutral by both."""
    return "/".join(pair)


def _tell_circuit(finding: Finding, facts: CounterCircuitFacts) -> FindingWords:
    circuit, count = _named(facts.circuits), facts.count
    working = tuple(_working(facts, finding.verdict))
    if finding.verdict is Verdict.INFO_NEEDED:
        says: Value = NOT_RECORDED(what=Listed((unread_ratings(facts.unread),)))
        return FindingWords(says, count, facts.most, working, READ_RATING())
    if finding.verdict is Verdict.OK:
        says = OK(circuit=circuit, n=count, most=facts.most)
        return FindingWords(says, count, facts.most, working)
    faults = _faults(facts, circuit)
    says = Joined(tuple(fault for fault, _ in faults))
    remedy = Joined(tuple(remedy for _, remedy in faults))
    return FindingWords(says, count, facts.most, working, remedy)


def _faults(facts: CounterCircuitFacts, circuit: str) -> list[tuple[Value, Value]]:
    """What is wrong with it, each with what to do."""
    single = Amperes(facts.single_a)
    faults: list[tuple[Value, Value]] = []
    if facts.too_many:
        count = facts.count
        says = TOO_MANY(circuit=circuit, n=count, most=facts.most)
        faults.append((says, MOVE_SOME(n=count - facts.most)))
    if facts.others:
        says = ALSO(circuit=circuit, others=few_loads(facts.others))
        faults.append((says, MOVE(n=len(facts.others))))
    if facts.needs_split:
        says = NOT_SPLIT(circuit=circuit, breaker=Amperes(facts.breaker_a), single=single)
        faults.append((says, SPLIT_THEM(single=single)))
    elif facts.small:
        faults.append((_small(facts.small, single), REPLACE(single=single)))
    return faults


def _small(small: tuple[RatedReceptacle, ...], single: Amperes) -> Text:
    """Which receptacles are rated for too little."""
    if len(small) > 1:
        return SMALL_MANY(n=len(small), single=single)
    return SMALL(box=small[0].box, rating=Amperes(small[0].rating_a), single=single)


def _working(facts: CounterCircuitFacts, verdict: Verdict) -> list[Value]:
    breaker, single = Amperes(facts.breaker_a), Amperes(facts.single_a)
    lines: list[Value] = [UNSPLIT(breaker=breaker, single=single)]
    if facts.split:
        lines = [SPLIT(breaker=breaker)]
    lines.append(BOXES(n=facts.count, boxes=ids_listed(set(facts.boxes))))
    if facts.others:
        lines.append(OTHERS(others=every_load(facts.others)))
    for each in facts.small:
        lines.append(RATED(box=each.box, rating=Amperes(each.rating_a)))
    if facts.unread:
        missing = EITHER_WAY
        if verdict is Verdict.INFO_NEEDED:
            missing = STILL_MISSING
        lines.append(missing(what=unread_ratings(facts.unread)))
    return lines


@rule(
    NAME,
    topic="circuits",
    title="Kitchen counter circuits",
    tell=tell,
    facts=CounterKitchenFacts | CounterCircuitFacts,
)
def counter_circuits(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Counter receptacles of a kitchen are few on a circuit, and the circuit feeds nothing else.

    Where two receptacles or more are required, they are on two circuits or more. They are split
    receptacles on two 15 A circuits with a shared neutral, or 20 A receptacles at 20 A.
    """
    book = site.rulebook
    if f"{NAME}.most" not in book:
        return
    asked, most, single = (book[f"{NAME}.{x}"] for x in ("circuits", "most", "single_a"))
    for room in site.house.rooms:
        if room.kind is not RoomKind.KITCHEN:
            continue
        groups = _by_circuit(site, room)
        yield from _kitchen(this, site, room, groups, asked)
        for pair, outlets in groups.items():
            if pair:
                yield _circuit(this, site, room, pair, outlets, (most, single))


def _by_circuit(site: HouseByCode, room: Room) -> dict[tuple[str, ...], list[SuppliedDevice]]:
    """The counter receptacles of a room by the circuit, or the two, that they are on."""
    groups: dict[tuple[str, ...], list[SuppliedDevice]] = {}
    for box in site.receptacles_in[room.id]:
        for device in box.devices:
            if is_general(device) and serves_counter(site, box):
                outlet = SuppliedDevice(box, device)
                groups.setdefault(_pair(site, outlet), []).append(outlet)
    return groups


def _pair(site: HouseByCode, outlet: SuppliedDevice) -> tuple[str, ...]:
    """A circuit with the one that shares its neutral: together they are one branch circuit."""
    names = site.supply.of(*outlet)
    partners = []
    for name in names:
        for other in site.supply.partners[name]:
            partners.append(other)
    return tuple(sorted({*names, *partners}))


def _kitchen(
    this: Rule,
    site: HouseByCode,
    room: Room,
    groups: dict[tuple[str, ...], list[SuppliedDevice]],
    asked: Limit,
) -> Iterator[Finding]:
    count = 0
    for outlets in groups.values():
        count += len(outlets)
    if not count:
        return
    wanted = 1
    if count > 1:
        wanted = asked.value
    circuits = frozenset(pair for pair in groups if pair)
    facts = CounterKitchenFacts(circuits, count, wanted)
    verdict = Verdict.NOT_TO_CODE
    if len(circuits) >= wanted:
        verdict = Verdict.OK
    yield Finding(this, room.id, verdict, site.room_spot(room), facts, (asked,))


def _circuit(
    this: Rule,
    site: HouseByCode,
    room: Room,
    pair: tuple[str, ...],
    outlets: list[SuppliedDevice],
    limits: tuple[Limit, Limit],
) -> Finding:
    most, single = (limit.value for limit in limits)
    split = all(outlet.device.second_circuit for outlet in outlets)
    small: list[RatedReceptacle] = []
    unread: list[str] = []
    if not split:
        small, unread = _small_and_unread(outlets, single)
    facts = CounterCircuitFacts(
        circuits=pair,
        breaker_a=min(site.circuits[name].breaker_a for name in pair),
        split=split,
        boxes=tuple(sorted(outlet.box.id for outlet in outlets)),
        most=most,
        single_a=single,
        others=_others(site, pair, outlets),
        small=by_box(small),
        unread=tuple(sorted(unread)),
    )
    subject = f"{room.id}/{'+'.join(pair)}"
    return Finding(this, subject, facts.verdict, site.room_spot(room), facts, limits)


def _small_and_unread(
    outlets: list[SuppliedDevice], least: float
) -> tuple[list[RatedReceptacle], list[str]]:
    """The receptacles rated for less, and the boxes of those whose rating is not recorded."""
    small = []
    unread = []
    for outlet in outlets:
        if outlet.device.amperes is None:
            unread.append(outlet.box.id)
        elif outlet.device.amperes < least:
            small.append(RatedReceptacle(outlet.box.id, outlet.device.amperes))
    return small, unread


def _others(
    site: HouseByCode, pair: tuple[str, ...], outlets: list[SuppliedDevice]
) -> frozenset[CircuitLoad]:
    """What else is on the circuit."""
    others = []
    for name in pair:
        for outlet in site.supply.outlets(name):
            if outlet not in outlets:
                others.append(device_load(outlet))
        for appliance in site.supply.appliances[name]:
            others.append(appliance_load(appliance))
    return frozenset(others)
