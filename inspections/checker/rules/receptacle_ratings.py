"""Receptacles rated for the breaker of their circuit."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from config.messages.message import Amperes, Listed, Text, Value, message
from inspections.checker.asking.fixing import choice, device_path
from inspections.checker.asking.house_uses import ratings_of
from inspections.checker.asking.lines import MOST_NAMED, ids_listed
from inspections.checker.asking.on_circuit import (
    RATED,
    READ_RATING,
    RatedReceptacle,
    by_box,
    unread_ratings,
)
from inspections.checker.asking.points import EITHER_WAY, NOT_RECORDED, STILL_MISSING
from inspections.checker.graph.supply import SuppliedDevice
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, fault_verdict, rule
from ..house.boxes import DeviceKind
from ..house.power import Circuit
from ..rulebook import Limit
from ..site import HouseByCode

NAME = "receptacle-ratings"
OK = message(f"{NAME}.ok", "{ratings} receptacles suit the {breaker} breaker.")
TOO_SMALL = message(
    f"{NAME}.too-small",
    "Receptacle {box} is rated {rating}; {limit} minimum on a {breaker} breaker.",
)
TOO_LARGE = message(
    f"{NAME}.too-large",
    "Receptacle {box} is rated {rating}; {limit} maximum on a {breaker} breaker.",
)
SEVERAL = message(
    f"{NAME}.several",
    "Receptacles {boxes} do not suit the {breaker} breaker.",
    one="Receptacles in box {boxes} do not suit the {breaker} breaker.",
)
MANY = message(f"{NAME}.many", "{n} receptacles do not suit the {breaker} breaker.")
REPLACE = message(
    f"{NAME}.remedy", "Fit receptacles of {range}.", one="Fit a receptacle of {range}."
)
MINIMUM = message(f"{NAME}.minimum", "{least} or more")
RANGE = message(f"{NAME}.range", "{least} or {most}")
TAKES = message(f"{NAME}.takes", "a {breaker} breaker takes receptacles of {range}")
SUITED = message(f"{NAME}.suited", "ratings found: {ratings}")


@dataclass(frozen=True, slots=True)
class RatingFacts:
    """The receptacles of a circuit against the ratings that its breaker takes."""

    breaker_a: float
    least_a: float
    most_a: float | None
    ratings_a: frozenset[float]
    wrong: tuple[RatedReceptacle, ...]
    """Those that do not suit, in order."""
    unread: tuple[str, ...]
    """The box of each whose rating is not recorded, in order."""


def tell(finding: Finding) -> FindingWords:
    """The ratings on the circuit against those that its breaker takes."""
    facts: RatingFacts = finding.facts
    span, working = _range(facts), tuple(_working(facts, finding.verdict))
    if finding.verdict is Verdict.NOT_TO_CODE:
        figure = _ratings({each.rating_a for each in facts.wrong})
        remedy = REPLACE(n=len(facts.wrong), range=span)
        return FindingWords(_wrong(facts), figure, span, working, remedy)
    if finding.verdict is Verdict.INFO_NEEDED:
        says = NOT_RECORDED(what=Listed((unread_ratings(facts.unread),)))
        return FindingWords(says, "", span, working, READ_RATING())
    figure = _ratings(facts.ratings_a)
    says = OK(ratings=figure, breaker=Amperes(facts.breaker_a))
    return FindingWords(says, figure, span, working)


def _wrong(facts: RatingFacts) -> Text:
    """Which receptacles do not suit the breaker."""
    first, breaker = facts.wrong[0], Amperes(facts.breaker_a)
    if len(facts.wrong) == 1:
        says, limit = TOO_SMALL, facts.least_a
        if facts.most_a is not None and first.rating_a > facts.most_a:
            says, limit = TOO_LARGE, facts.most_a
        rating = Amperes(first.rating_a)
        return says(box=first.box, rating=rating, limit=Amperes(limit), breaker=breaker)
    boxes = ids_listed({each.box for each in facts.wrong})
    if len(boxes.of) > MOST_NAMED:
        return MANY(n=len(facts.wrong), breaker=breaker)
    return SEVERAL(n=len(boxes.of), boxes=boxes, breaker=breaker)


def _range(facts: RatingFacts) -> Value:
    """The ratings that the breaker takes."""
    least, most = Amperes(facts.least_a), facts.most_a
    if most is None:
        return MINIMUM(least=least)
    if facts.least_a == most:
        return least
    return RANGE(least=least, most=Amperes(most))


def _ratings(ratings_a: Iterable[float]) -> Listed:
    return Listed(tuple(Amperes(rating) for rating in sorted(ratings_a)))


def _working(facts: RatingFacts, verdict: Verdict) -> list[Value]:
    lines: list[Value] = [TAKES(breaker=Amperes(facts.breaker_a), range=_range(facts))]
    for each in facts.wrong:
        lines.append(RATED(box=each.box, rating=Amperes(each.rating_a)))
    if facts.ratings_a and not facts.wrong:
        lines.append(SUITED(ratings=_ratings(facts.ratings_a)))
    if facts.unread:
        missing = EITHER_WAY
        if verdict is Verdict.INFO_NEEDED:
            missing = STILL_MISSING
        lines.append(missing(what=unread_ratings(facts.unread)))
    return lines


def _fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """A receptacle of a rating that the breaker takes."""
    facts = finding.facts
    ratings = ratings_of(house, facts.least_a, facts.most_a)
    for box in (*(each.box for each in facts.wrong), *facts.unread):
        path = (*device_path(house, box, DeviceKind.RECEPTACLE), "amperes")
        yield choice(path, ratings)


@rule(
    NAME,
    topic="circuits",
    title="Receptacle rating for the breaker",
    tell=tell,
    scope=Scope.WIRING,
    facts=RatingFacts,
    fixes=_fixes,
)
def receptacle_ratings(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A receptacle is rated for the breaker of its circuit.

    Breakers between two figures of the table go by the next larger one. A single receptacle
    that is alone on its circuit is rated no less than the breaker; count a duplex as two.
    """
    least, most = (site.rulebook.get(f"{NAME}.{name}_a") for name in ("least", "most"))
    if least is None:
        return
    for circuit in site.house.circuits:
        receptacles = []
        for outlet in site.supply.outlets(circuit.id):
            if outlet.device.kind is DeviceKind.RECEPTACLE:
                receptacles.append(outlet)
        row = next((row for row in least.value if float(row) >= circuit.breaker_a), None)
        if receptacles and row:
            yield _circuit(this, site, circuit, receptacles, row, (least, most))


def _circuit(
    this: Rule,
    site: HouseByCode,
    circuit: Circuit,
    receptacles: list[SuppliedDevice],
    row: str,
    limits: tuple[Limit, Limit | None],
) -> Finding:
    least, most = limits
    lowest = least.value[row]
    highest = None
    used: tuple[Limit, ...] = (least,)
    if most:
        highest = most.value[row]
        used = (least, most)
    ratings = set()
    wrong = []
    unread = []
    for outlet in receptacles:
        rating = outlet.device.amperes
        if rating is None:
            unread.append(outlet.box.id)
            continue
        ratings.add(rating)
        if rating < lowest or (highest is not None and rating > highest):
            wrong.append(RatedReceptacle(outlet.box.id, rating))
    facts = RatingFacts(
        circuit.breaker_a,
        lowest,
        highest,
        frozenset(ratings),
        by_box(wrong),
        tuple(sorted(unread)),
    )
    verdict = fault_verdict(wrong, unread)
    return Finding(this, circuit.id, verdict, site.circuit_spot(circuit), facts, used)
