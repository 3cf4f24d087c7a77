"""Communication cables kept away from power cables: by distance, and never in one hole."""

from collections.abc import Iterator

from ..finding import Finding, Rule, Verdict, Words, rule
from ..house.cables import Cable, Hole, Separation
from ..site import Site
from ..words import length, listed

NAME = "communications-separation"


def tell(finding: Finding) -> Words:
    """Which cables, and what was found between them."""
    return {"hole": _tell_hole, "distance": _tell_distance, "look": _tell_look}[
        finding.data["about"]
    ](finding)


def _tell_hole(finding: Finding) -> Words:
    data = finding.data
    both = f"{listed(data['communications'])} with {listed(data['power'])}"
    return Words(
        f"Hole {data['hole']} in a {data['member']} carries {both}.",
        "one hole",
        "a hole each",
        (
            f"hole {data['hole']}: communications {listed(data['communications'])}",
            f"hole {data['hole']}: power {listed(data['power'])}",
        ),
        "Draw the communication cable out and bore it a hole of its own.",
    )


def _tell_distance(finding: Finding) -> Words:
    data, imperial = finding.data, finding.imperial
    pair = f"{data['communications']} and {data['power']} ({data['kind']})"
    limit = f"at least {length(data['asked'], imperial)}"
    if data["distance"] is None:
        return Words(
            f"Nobody measured how near {pair} come.",
            "not recorded",
            limit,
            (f"{pair}: distance not recorded, {limit} asked",),
            "Measure the nearest distance and record it.",
        )
    figure = length(data["distance"], imperial)
    short = finding.verdict is Verdict.SHORT
    return Words(
        f"{pair} come within {figure}; {limit} asked.",
        figure,
        limit,
        (f"{pair}: {figure} against {limit}",),
        "Move the communication cable away from the power cable." if short else "",
    )


def _tell_look(finding: Finding) -> Words:
    data, imperial = finding.data, finding.imperial
    limit = f"at least {length(data['asked'], imperial)}" if data["asked"] else "any distance"
    return Words(
        f"Look along {data['communications']}: {limit} from power cables, no shared hole.",
        "not measured",
        limit,
        (f"nothing is recorded between {data['communications']} and any power cable",),
        "Walk the run and tick, or record the nearest distance.",
    )


@rule(NAME, topic="communications", title="Communication cables apart from power", tell=tell)
def communications_separation(this: Rule, site: Site) -> Iterator[Finding]:
    """Communication cables stand off from power cables and share no hole with them.

    The distance depends on how the power conductors are enclosed. A cable beside which
    nothing was measured is left to eyes and a tape.
    """
    if f"{NAME}.distance_mm" not in site.rulebook:
        return
    yield from _holes(this, site)
    yield from _distances(this, site)
    yield from _looks(this, site)


def _holes(this: Rule, site: Site) -> Iterator[Finding]:
    shared = site.rulebook.get(f"{NAME}.shared_hole")
    if shared is None:
        return
    for hole in site.house.holes:
        power, others = _parted(site, hole)
        if power and others:
            room = site.rooms[hole.room]
            spot = site.room_spot(room, f"hole {hole.id}", order=(998,))
            data = {
                "about": "hole",
                "hole": hole.id,
                "member": hole.member.value,
                "power": power,
                "communications": others,
            }
            yield Finding(this, f"hole/{hole.id}", Verdict.SHORT, spot, data, (shared,))


def _parted(site: Site, hole: Hole) -> tuple[list[str], list[str]]:
    cables = [site.wiring.cables[name] for name in hole.cables]
    power = [cable.id for cable in cables if cable.kind.carries_power]
    return power, [cable.id for cable in cables if not cable.kind.carries_power]


def _distances(this: Rule, site: Site) -> Iterator[Finding]:
    for separation in site.house.separations:
        first, second = (site.wiring.cables[name] for name in separation.cables)
        if first.kind.carries_power != second.kind.carries_power:
            power, other = (first, second) if first.kind.carries_power else (second, first)
            yield _distance(this, site, separation, power, other)


def _distance(
    this: Rule, site: Site, separation: Separation, power: Cable, other: Cable
) -> Finding:
    limit = site.rulebook[f"{NAME}.distance_mm"]
    asked = limit.value[power.kind.value]
    verdict = Verdict.UNKNOWN
    if separation.distance_mm is not None:
        meets = separation.distance_mm >= asked - 0.01
        verdict = Verdict.MEETS if meets else Verdict.SHORT
    elif asked == 0:
        verdict = Verdict.MEETS  # whatever the distance is, it is enough
    data = {
        "about": "distance",
        "power": power.id,
        "kind": power.kind.value.upper(),
        "communications": other.id,
        "distance": separation.distance_mm,
        "asked": asked,
    }
    spot = site.cable_spot(other, separation.room)
    subject = f"{other.id}/{power.id}/{separation.room}"
    return Finding(this, subject, verdict, spot, data, (limit,))


def _looks(this: Rule, site: Site) -> Iterator[Finding]:
    limit = site.rulebook[f"{NAME}.distance_mm"]
    measured = {name for separation in site.house.separations for name in separation.cables}
    used = {cable.kind.value for cable in site.house.cables if cable.kind.carries_power}
    asked = max((limit.value[kind] for kind in used), default=0)
    for cable in site.house.cables:
        if cable.kind.carries_power or cable.id in measured:
            continue
        data = {
            "about": "look",
            "communications": cable.id,
            "asked": asked,
            "ends": cable.ends,
            "length": cable.length_mm,
        }
        yield Finding(this, cable.id, Verdict.LOOK, site.cable_spot(cable), data, (limit,))
