"""Communication cables kept away from power cables: by distance, and never in one hole."""

from collections import Counter
from collections.abc import Iterator

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.cables import Cable, Separation
from ..measures import Comparator, Tape, held_in
from ..site import HouseByCode
from ..words import length, listed

NAME = "communications-separation"
DUST = 0.01  # mm


def tell(finding: Finding) -> FindingWords:
    """Which cables, and what was found between them."""
    about = {"hole": _tell_hole, "distance": _tell_distance, "look": _tell_look}
    return about[finding.facts["about"]](finding)


def _tell_hole(finding: Finding) -> FindingWords:
    data = finding.facts
    communications, power = listed(data["communications"]), listed(data["power"])
    return FindingWords(
        f"One hole in a {data['member']} carries {communications} together with {power}.",
        "one hole",
        "a hole each",
        (f"hole {data['hole']}: communications {communications}; power {power}",),
        f"Draw {communications} out and give it a hole of its own.",
    )


def _tell_distance(finding: Finding) -> FindingWords:
    data, imperial = finding.facts, finding.imperial
    pair = f"{data['communications']} and {data['power']} ({data['kind']})"
    asked = "any distance"
    if data["asked"]:
        asked = f"at least {length(data['asked'], imperial)}"
    if data["distance"] is None:
        return _tell_unmeasured(finding.verdict, pair, asked)
    figure = length(data["distance"], imperial)
    remedy = f"Move {data['communications']} away from {data['power']}."
    return FindingWords(
        f"{pair} come within {figure} of one another; {asked} will do.",
        figure,
        asked,
        (f"{pair}: nearest {figure}, {asked} asked",),
        remedy if finding.verdict is Verdict.SHORT else "",
    )


def _tell_unmeasured(verdict: Verdict, pair: str, asked: str) -> FindingWords:
    if verdict is Verdict.MEETS:
        says = f"{pair} may run at any distance, in holes of their own."
        return FindingWords(says, "not recorded", asked, (f"{pair}: {asked} will do",))
    says = f"Nobody recorded how near {pair} come."
    working = (f"{pair}: nearest distance not recorded, {asked} asked",)
    return FindingWords(says, "not recorded", asked, working, "Measure where they come nearest.")


def _tell_look(finding: Finding) -> FindingWords:
    data = finding.facts
    cable, asked = data["communications"], data["asked"]
    limit = "any distance"
    if asked:
        limit = f"at least {length(asked, finding.imperial)}"
    return FindingWords(
        f"Look along {cable}: {limit} from power cables, and no hole shared with one.",
        "not measured",
        limit,
        (f"nothing is recorded between {cable} and any power cable", f"{limit} asked"),
        "Walk along it and tick, or record the nearest distance.",
    )


@rule(
    NAME,
    topic="communications",
    title="Communication cables apart from power",
    tell=tell,
    scope=Scope.WIRING,
    tapes=(
        Tape("from the nearest power cable", Comparator.AT_LEAST, "distance_mm", held_in("asked")),
    ),
)
def communications_separation(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Communication cables stand off from power cables and share no hole with them.

    The distance depends on how the power conductors are enclosed. A cable beside which
    nothing was measured is left to eyes and a tape.
    """
    if f"{NAME}.distance_mm" not in site.rulebook:
        return
    yield from _holes(this, site)
    yield from _distances(this, site)
    yield from _looks(this, site)


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
            data = {
                "about": "hole",
                "hole": hole.id,
                "member": hole.member.value,
                "power": power,
                "communications": communications,
            }
            yield Finding(this, f"hole/{hole.id}", Verdict.SHORT, spot, data, (shared,))


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
    asked, distance = limit.value[power.kind.value], separation.distance_mm
    verdict = Verdict.UNKNOWN
    if not asked:
        verdict = Verdict.MEETS  # whatever the distance is, it is enough
    elif distance is not None:
        verdict = Verdict.SHORT
        if distance >= asked - DUST:
            verdict = Verdict.MEETS
    data = {
        "about": "distance",
        "power": power.id,
        "kind": power.kind.value.upper(),
        "communications": other.id,
        "distance": distance,
        "asked": asked,
    }
    spot = site.cable_spot(other, separation.room)
    return Finding(this, subject, verdict, spot, data, (limit,))


def _looks(this: Rule, site: HouseByCode) -> Iterator[Finding]:
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
    asked = max(distances, default=0)
    for cable in site.house.cables:
        if cable.kind.carries_power or cable.id in measured:
            continue
        data = {"about": "look", "communications": cable.id, "asked": asked}
        data |= {"ends": cable.ends, "length": cable.length_mm}
        yield Finding(this, cable.id, Verdict.LOOK, site.cable_spot(cable), data, (limit,))
