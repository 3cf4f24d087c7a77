"""Communication cables kept away from power cables: by distance, and never in one hole."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from config.messages.message import Length, Listed, Message, Value, message
from inspections.checker.asking.fixing import done, figure, power_alone, separation_path
from inspections.checker.asking.lines import in_order
from inspections.checker.asking.points import (
    NOT_RECORDED,
    figure_rounding,
    limit_rounding,
)
from inspections.checker.asking.visual import PARTS, VERIFY, PartKind, part_text
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.cables import Cable, CableKind, Member, Separation
from ..house.nouns import noun
from ..measures import Comparator, Tape, held_in
from ..site import HouseByCode

NAME = "communications-separation"
DUST = 0.01  # mm
WAY = Comparator.AT_LEAST
ONE_HOLE = message(f"{NAME}.hole", "Hole {hole} carries both communication and power cables.")
IN_HOLE = message(f"{NAME}.in-hole", "{member}: communications {communications}; power {power}")
OWN_HOLE = message(f"{NAME}.hole-remedy", "Bore a separate hole for communications.")
NEAREST = message(
    f"{NAME}.nearest",
    "Cable {cable} comes within {figure} of power cable {power}; {limit} minimum.",
)
NO_MINIMUM = message(f"{NAME}.no-minimum", "Cable {cable} may run beside power cable {power}.")
BESIDE = message(f"{NAME}.beside", "beside {kind}: {limit} minimum")
BESIDE_FREE = message(f"{NAME}.beside-free", "beside {kind}: no minimum distance")
MEASURED = message(f"{NAME}.measured", "nearest {figure}")
HOW_FAR = message(f"{NAME}.how-far", "how far cable {cable} is from power cable {power}")
MEASURE = message(f"{NAME}.measure", "Measure where they are nearest, and record it.")
MOVE = message(f"{NAME}.move", "Move them apart.")
ALONG = message(
    f"{NAME}.along", "Cable {cable} runs {limit} or more from power and shares no hole with it."
)
ALONG_FREE = message(f"{NAME}.along-free", "Cable {cable} shares no hole with power.")
TAPE = message(f"{NAME}.tape", "from the nearest power cable")
OTHER_KINDS: Mapping[CableKind, Message] = {
    CableKind.RACEWAY: message(f"{NAME}.raceway", "raceway"),
    CableKind.OPEN: message(f"{NAME}.open", "open conductors"),
}
"""Wiring that is no cable; a cable's kind is said by its letters."""


@dataclass(frozen=True, slots=True)
class SharedHoleFacts:
    """A hole that carries both."""

    hole: str
    member: Member
    power: frozenset[str]
    communications: frozenset[str]


@dataclass(frozen=True, slots=True)
class SeparationFacts:
    """Two cables where they come nearest; no minimum is 0."""

    communications: str
    power: str
    kind: CableKind
    distance_mm: float | None
    minimum_mm: float


@dataclass(frozen=True, slots=True)
class UnmeasuredFacts:
    """A communication cable beside which nothing was measured, and where it runs."""

    communications: str
    minimum_mm: float
    ends: tuple[str, str]
    length_mm: float | None


def tell(finding: Finding) -> FindingWords:
    """Which cables, and what was found between them."""
    facts = finding.facts
    if isinstance(facts, SharedHoleFacts):
        return _tell_hole(facts)
    if isinstance(facts, UnmeasuredFacts):
        return _tell_along(facts)
    if not facts.minimum_mm:
        return _tell_free(facts)
    return _tell_distance(facts, finding.verdict)


def _tell_hole(facts: SharedHoleFacts) -> FindingWords:
    inside = IN_HOLE(
        member=noun(facts.member),
        communications=_ids(facts.communications),
        power=_ids(facts.power),
    )
    return FindingWords(ONE_HOLE(hole=facts.hole), working=(inside,), remedy=OWN_HOLE())


def _ids(cables: frozenset[str]) -> Listed:
    """Cables by their ids, C2 before C10."""
    ordered = in_order(cables)
    return Listed((*ordered,))


def _tell_free(facts: SeparationFacts) -> FindingWords:
    """Of a kind of cable that communications may touch."""
    working = [BESIDE_FREE(kind=_kind(facts.kind))]
    figure: Value = ""
    if facts.distance_mm is not None:
        figure = Length(facts.distance_mm)
        working.append(MEASURED(figure=figure))
    says = NO_MINIMUM(cable=facts.communications, power=facts.power)
    return FindingWords(says, figure, working=tuple(working))


def _tell_distance(facts: SeparationFacts, verdict: Verdict) -> FindingWords:
    cables: dict[str, Value] = {"cable": facts.communications, "power": facts.power}
    limit = Length(facts.minimum_mm, limit_rounding(WAY))
    required = BESIDE(kind=_kind(facts.kind), limit=limit)
    if facts.distance_mm is None:
        says = NOT_RECORDED(what=HOW_FAR(**cables))
        return FindingWords(says, "", limit, (required,), MEASURE())
    holds = verdict is Verdict.OK
    figure = Length(facts.distance_mm, figure_rounding(WAY, holds))
    remedy: Value = MOVE()
    if holds:
        remedy = ""
    says = NEAREST(**cables, figure=figure, limit=limit)
    return FindingWords(says, figure, limit, (required, MEASURED(figure=figure)), remedy)


def _kind(kind: CableKind) -> Value:
    """What wiring is called: NM, MC or a word."""
    if kind in OTHER_KINDS:
        return OTHER_KINDS[kind]()
    return kind.value.upper()


def _tell_along(facts: UnmeasuredFacts) -> FindingWords:
    missing = PARTS(parts=part_text(PartKind.CABLE, facts.communications))
    if not facts.minimum_mm:
        says = ALONG_FREE(cable=facts.communications)
        return FindingWords(says, working=(missing,), remedy=VERIFY())
    limit = Length(facts.minimum_mm, limit_rounding(WAY))
    says = ALONG(cable=facts.communications, limit=limit)
    return FindingWords(says, "", limit, (missing,), VERIFY())


def _fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """The distance between two cables; or the power cables alone in the hole."""
    facts = finding.facts
    if isinstance(facts, SharedHoleFacts):
        hole = next(each for each in house.holes if each.id == facts.hole)
        yield done(("holes", facts.hole, "cables"), power_alone(house, hole.cables))
    elif isinstance(facts, SeparationFacts):
        cables = {facts.communications, facts.power}
        path = separation_path(house, cables, finding.spot.room)
        yield figure((*path, "distance_mm"), facts.minimum_mm, taped=True)


@rule(
    NAME,
    topic="communications",
    title="Communication cables apart from power",
    tell=tell,
    scope=Scope.WIRING,
    tapes=(Tape(TAPE, WAY, "distance_mm", held_in("minimum_mm")),),
    facts=SharedHoleFacts | SeparationFacts | UnmeasuredFacts,
    workmanship=True,
    fixes=_fixes,
)
def communications_separation(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Communication cables keep away from power cables and share no hole with them.

    The distance depends on how the power conductors are enclosed. A cable beside which nothing was
    measured is verified by eye and tape.
    """
    if f"{NAME}.distance_mm" not in site.rulebook:
        return
    yield from _holes(this, site)
    yield from _distances(this, site)
    yield from _unmeasured(this, site)


def _holes(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    shared = site.rulebook.get(f"{NAME}.shared_hole")
    if shared is None or shared.value:
        return
    for hole in site.house.holes:
        power = []
        communications = []
        for name in hole.cables:
            cable = site.wiring.cables[name]
            if cable.kind.carries_power:
                power.append(cable.id)
            else:
                communications.append(cable.id)
        if power and communications:
            spot = site.hole_spot(site.rooms[hole.room], hole.id)
            facts = SharedHoleFacts(
                hole.id, hole.member, frozenset(power), frozenset(communications)
            )
            yield Finding(this, f"hole/{hole.id}", Verdict.NOT_TO_CODE, spot, facts, (shared,))


def _distances(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    seen: Counter[str] = Counter()
    for separation in site.house.separations:
        power, other = _parted(site, separation)
        if power and other:
            subject = f"{other.id}/{power.id}/{separation.room}"
            seen[subject] += 1
            if seen[subject] > 1:  # two places in one room
                subject = f"{subject}/{seen[subject]}"
            yield _distance(this, site, separation, power, other, subject)


def _parted(site: HouseByCode, separation: Separation) -> tuple[Cable | None, Cable | None]:
    """The power cable and the communication cable; None where both are of one kind."""
    first, second = (site.wiring.cables[name] for name in separation.cables)
    if first.kind.carries_power == second.kind.carries_power:
        return None, None
    if first.kind.carries_power:
        return (first, second)
    return (second, first)


def _distance(
    this: Rule, site: HouseByCode, separation: Separation, power: Cable, other: Cable, subject: str
) -> Finding:
    limit = site.rulebook[f"{NAME}.distance_mm"]
    minimum, distance = limit.value[power.kind.value], separation.distance_mm
    verdict = Verdict.INFO_NEEDED
    if not minimum:
        verdict = Verdict.OK  # whatever the distance is, it is enough
    elif distance is not None:
        verdict = Verdict.NOT_TO_CODE
        if distance >= minimum - DUST:
            verdict = Verdict.OK
    facts = SeparationFacts(other.id, power.id, power.kind, distance, minimum)
    spot = site.cable_spot(other, separation.room)
    return Finding(this, subject, verdict, spot, facts, (limit,))


def _unmeasured(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    limit = site.rulebook[f"{NAME}.distance_mm"]
    measured = set()
    for separation in site.house.separations:
        _, other = _parted(site, separation)
        if other:
            measured.add(other.id)
    distances = []
    for cable in site.house.cables:
        if cable.kind.carries_power:
            distances.append(limit.value[cable.kind.value])
    minimum = max(distances, default=0)
    for cable in site.house.cables:
        if cable.kind.carries_power or cable.id in measured:
            continue
        facts = UnmeasuredFacts(cable.id, minimum, cable.ends, cable.length_mm)
        yield Finding(this, cable.id, Verdict.VERIFY, site.cable_spot(cable), facts, (limit,))
