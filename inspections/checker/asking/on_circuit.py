"""What is on a circuit, and the sentences that rules about circuits share."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from config.messages.message import Amperes, Listed, Message, Text, Value, message
from inspections.checker.asking.lines import MOST_NAMED, in_order
from inspections.checker.asking.visual import natural
from inspections.checker.graph.supply import SuppliedDevice
from inspections.checker.house.boxes import DeviceKind
from inspections.checker.house.nouns import noun
from inspections.checker.house.power import Appliance
from inspections.checker.house.service import ApplianceKind

LOAD = message("circuit.load", "{kind} {load}")
LOADS = message("circuit.loads", "{n} other loads", one="{n} other load")
ALSO_FEEDS = message(
    "circuit.also-feeds", "This circuit also feeds {others}; nothing else allowed."
)
ALONE = message("circuit.alone", "circuit {circuit}, {breaker}: nothing else on it")
WITH_OTHERS = message("circuit.with-others", "circuit {circuit}, {breaker}: also {others}")
OTHERS = message("circuit.others", "also on it: {others}")
MOVE = message("circuit.move", "Move them to another circuit.", one="Move it to another circuit.")
TRACE = message("circuit.trace", "Trace the cable and record its circuit.")
RATED = message("circuit.rated", "receptacle {box}: {rating}")
READ_RATING = message("circuit.read-rating", "Read it on the receptacle and record it.")
RATING = message(
    "circuit.rating", "the ratings of receptacles {boxes}", one="the rating of receptacle {boxes}"
)
RATINGS = message(
    "circuit.ratings", "the ratings of {n} receptacles", one="the rating of {n} receptacle"
)


@dataclass(frozen=True, slots=True)
class CircuitLoad:
    """Something that takes current: a device by its box, or an appliance."""

    kind: DeviceKind | ApplianceKind
    id: str


@dataclass(frozen=True, slots=True)
class RatedReceptacle:
    """A receptacle by its box, and its rating."""

    box: str
    rating_a: float


def device_load(outlet: SuppliedDevice) -> CircuitLoad:
    """A device as a load, by the box that holds it."""
    return CircuitLoad(outlet.device.kind, outlet.box.id)


def appliance_load(appliance: Appliance) -> CircuitLoad:
    """An appliance as a load."""
    return CircuitLoad(appliance.kind or ApplianceKind.OTHER, appliance.id)


def every_load(loads: Iterable[CircuitLoad]) -> Listed:
    """All of them: light L3 and receptacle R12."""
    ordered = sorted(loads, key=lambda load: (natural(load.id), load.kind))
    named: list[Value] = []
    for load in ordered:
        named.append(LOAD(kind=noun(load.kind), load=load.id))
    return Listed(tuple(named))


def few_loads(loads: frozenset[CircuitLoad]) -> Value:
    """The same in a sentence: a count where they are many."""
    if len(loads) > MOST_NAMED:
        return LOADS(n=len(loads))
    return every_load(loads)


def circuit_line(circuit: str, breaker_a: float, others: frozenset[CircuitLoad]) -> Text:
    """A circuit in the working, and what else is on it."""
    if others:
        return WITH_OTHERS(circuit=circuit, breaker=Amperes(breaker_a), others=every_load(others))
    return ALONE(circuit=circuit, breaker=Amperes(breaker_a))


def boxes_said(few: Message, many: Message, boxes: Sequence[str]) -> Text:
    """A sentence about boxes: their ids in `few`, or how many they are in `many`."""
    named = in_order(boxes)
    if len(named) > MOST_NAMED:
        return many(n=len(boxes))
    return few(n=len(named), boxes=Listed(tuple(named)))


def by_box(rated: Iterable[RatedReceptacle]) -> tuple[RatedReceptacle, ...]:
    """Receptacles in the order of their boxes, 2 before 10."""
    return tuple(sorted(rated, key=lambda each: (natural(each.box), each.rating_a)))


def unread_ratings(boxes: Sequence[str]) -> Text:
    """Whose rating is to be recorded, as a part of a sentence."""
    return boxes_said(RATING, RATINGS, boxes)
