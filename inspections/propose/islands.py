"""Receptacles for islands and peninsulas, as many as their edition asks."""

from collections.abc import Iterator

from config.messages.message import Length
from inspections.checker.asking.counters import NAME
from inspections.checker.asking.islands import required_range
from inspections.checker.finding import Verdict
from inspections.checker.house import House
from inspections.checker.house.boxes import Box, Device, DeviceKind, OnCounter
from inspections.checker.house.rooms import Counter, CounterKind
from inspections.checker.rulebook import Rulebook

from . import proposal_messages as says
from .places import free_names
from .proposal import Found, Proposal, Unsolved
from .trial import Trial, box_of
from .wants import Wants

IN_SIDE_MM, ON_TOP_MM = -150.0, 100.0  # in its side, on a post; common practice, no source
FROM_END_MM = 300.0  # a peninsula's, from its outer end; the same
RULES = ("counter-receptacles",)


def propose_island_receptacles(house: House, book: Rulebook, _wants: Wants) -> list[Found]:
    """A proposal for each island or peninsula that has fewer than its edition asks."""
    names, found = free_names(house), list[Found]()
    if f"{NAME}.reach_mm" not in book:
        return found
    for room in house.rooms:
        trial = Trial(house, book, {room.id})
        short = trial.short(RULES)
        for counter in trial.house.counters:
            if counter.kind is not CounterKind.WALL and f"{NAME}:{counter.id}" in short:
                found.append(_free(trial, counter, names))
    return found


def _free(trial: Trial, counter: Counter, names: Iterator[str]) -> Found:
    least = max(1, required_range(counter, trial.book)[0])
    room = trial.site.rooms[counter.room]
    for count in range(1, least + 2):
        for above, verdicts in (
            (IN_SIDE_MM, (Verdict.OK,)),
            (ON_TOP_MM, (Verdict.OK,)),
            (IN_SIDE_MM, (Verdict.OK, Verdict.INFO_NEEDED)),
        ):
            boxes = []
            for n, place in enumerate(_places(counter, count, above)):
                boxes.append(box_of(f"try-{n}", room, place, Device(kind=DeviceKind.RECEPTACLE)))
            after = trial.verdicts(RULES, boxes)[f"{NAME}:{counter.id}"]
            if after.verdict in verdicts:
                return _proposal(counter, boxes, above, names)
    return Unsolved(counter.id, says.ISLAND_NO())


def _places(counter: Counter, count: int, above: float) -> Iterator[OnCounter]:
    """Spread along it; the last of a peninsula near its outer end."""
    length = counter.length_mm or 0.0
    for number in range(count):
        at = length * (number + 0.5) / count
        if counter.kind is CounterKind.PENINSULA and number == count - 1:
            at = max(length - FROM_END_MM, length / 2)
        yield OnCounter(
            surface="counter", counter=counter.id, at_mm=round(at, 1), above_top_mm=above
        )


def _proposal(counter: Counter, boxes: list[Box], above: float, names: Iterator[str]) -> Proposal:
    copies = []
    for box in boxes:
        copies.append(box.model_copy(update={"id": next(names)}))
    named = tuple(copies)
    told = says.ON_TOP(n=len(named))
    if above < 0:
        told = says.IN_SIDE(n=len(named), below=Length(-above))
    proof = says.EACH_SMALLER(n=len(named) - 1)
    if len(named) == 1:
        proof = says.ONE_RECEPTACLE()
    return Proposal(counter.id, named, told, proof)
