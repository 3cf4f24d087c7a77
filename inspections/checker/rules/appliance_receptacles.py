"""A receptacle, or a cable of its own, at the place of each appliance."""

from collections.abc import Iterator
from typing import Any

from inspections.checker.asking.counters import CounterLine
from inspections.checker.asking.fixtures import fixture_words, placed
from inspections.checker.asking.receptacles import for_general_use, kept_for
from inspections.checker.geometry.intervals import EPSILON

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box
from ..house.fixtures import Fixture, FixtureKind
from ..house.rooms import CounterKind, InterruptionKind, Room
from ..rulebook import Rulebook
from ..site import HouseByCode
from ..words import length, listed

NAME = "appliance-receptacles"
CALLED = {
    FixtureKind.WASHER: ("wash",),
    FixtureKind.DRYER: ("dry", "clothes dry"),
    FixtureKind.REFRIGERATOR: ("refrig", "fridge"),
    FixtureKind.RANGE: ("range", "stove", "oven"),
    FixtureKind.DISHWASHER: ("dish",),
    FixtureKind.MICROWAVE: ("micro",),
    FixtureKind.DOOR_OPENER: ("door open", "opener", "garage door"),
}
"""How the names begin by which a receptacle or appliance is known to belong to it."""
OWN_ONLY = (FixtureKind.RANGE, FixtureKind.DRYER)
"""Appliances that no receptacle for general use serves."""
AT_COUNTER = {
    InterruptionKind.RANGE: FixtureKind.RANGE,
    InterruptionKind.REFRIGERATOR: FixtureKind.REFRIGERATOR,
}


def tell(finding: Finding) -> FindingWords:
    """The appliance's place and what serves it."""
    data, imperial = finding.facts, finding.imperial
    kind, missing = data["kind"], listed(data["missing"])
    limit = "a receptacle for it"
    if data["within"] is not None:
        limit = f"a receptacle within {length(data['within'], imperial)}"
    says = {
        Verdict.MEETS: f"The {kind} is served by {listed(data['served'])}.",
        Verdict.SHORT: f"Nothing serves the {kind} here.",
        Verdict.UNKNOWN: f"Nobody recorded {missing}.",
    }[finding.verdict]
    working = [f"{kind}: served by {listed(data['served']) or 'nothing'}; {limit} asked"]
    for box, at in data["far"]:
        working.append(f"receptacle {box}: {length(at, imperial)} away, too far")
    for fact in data["missing"]:
        working.append(f"not recorded: {fact}")
    remedy = {
        Verdict.SHORT: f"Add a receptacle for the {kind}.",
        Verdict.UNKNOWN: f"Record {missing}.",
    }.get(finding.verdict, "")
    return FindingWords(says, listed(data["served"]) or "nothing", limit, tuple(working), remedy)


@rule(NAME, topic="receptacles", title="Receptacles of appliances", tell=tell, scope=Scope.ROOM)
def appliance_receptacles(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Each place left for an appliance has a receptacle for it, or equipment wired straight.

    A range and a dryer need one of their own; others may use one for general use. Where the
    code gives a distance, it lies flat from the place of the appliance.
    """
    book = site.rulebook
    if f"{NAME}.kinds" not in book:
        return
    for room in site.house.rooms:
        for place in appliance_places(site, room):
            yield _place(this, site, room, place)


def appliance_places(site: HouseByCode, room: Room) -> list[Fixture]:
    """The places of a room left for appliances of which the code speaks."""
    kinds = site.rulebook.value(f"{NAME}.kinds", ())
    places = (*(room.fixtures or ()), *_at_counters(site, room))
    chosen: list[Fixture] = []
    for place in places:
        if place.kind in kinds:
            chosen.append(place)
    return chosen


def _at_counters(site: HouseByCode, room: Room) -> Iterator[Fixture]:
    """The ranges and refrigerators that part a wall counter, as places along its wall."""
    for counter in site.counters_in[room.id]:
        if counter.kind is not CounterKind.WALL:
            continue
        line = CounterLine(counter, site.rulebook)
        for number, item in enumerate(counter.interruptions, 1):
            if item.kind in AT_COUNTER:
                wall, at = line.wall_at(item.at_mm)
                yield Fixture.model_construct(
                    id=f"{counter.id}.{number}",
                    kind=AT_COUNTER[item.kind],
                    wall=wall,
                    at_mm=at,
                    width_mm=item.width_mm,
                    depth_mm=counter.depth_mm,
                )


def _within(book: Rulebook, kind: FixtureKind) -> float | None:
    """How near a receptacle has to be, where the code says so for this appliance."""
    name = "within_mm"
    if kind is FixtureKind.DOOR_OPENER:
        name = "opener_mm"
    found = book.value(f"{NAME}.{name}")
    if found is None:
        return None
    return float(found)


def _place(this: Rule, site: HouseByCode, room: Room, place: Fixture) -> Finding:
    within = _within(site.rulebook, place.kind)
    wired = []
    for appliance in site.house.appliances:
        if appliance.room == room.id and appliance.name.lower().startswith(CALLED[place.kind]):
            wired.append(appliance.id)
    data: dict[str, Any] = {
        "kind": place.kind.value.replace("_", " "),
        "within": within,
        "served": wired,
        "far": [],
        "missing": [],
    }
    for box in site.receptacles_in[room.id]:
        if _serves(box, place.kind):
            _sort(site, room, box, place, data)
    verdict = Verdict.SHORT
    if data["served"]:
        verdict, data["missing"] = Verdict.MEETS, []
    elif data["missing"]:
        verdict, data["missing"] = Verdict.UNKNOWN, list(dict.fromkeys(data["missing"]))
    spot = fixture_words(site, room, place)
    limits = tuple(site.rulebook.limits_of(NAME))
    return Finding(this, f"{room.id}/{place.id}", verdict, spot, data, limits)


def _serves(box: Box, kind: FixtureKind) -> bool:
    own = kept_for(box, *CALLED[kind])
    return own or (kind not in OWN_ONLY and for_general_use(box))


def _sort(site: HouseByCode, room: Room, box: Box, place: Fixture, data: dict[str, Any]) -> None:
    """Put a receptacle among those that serve the place, that are too far, or that may."""
    if data["within"] is None:
        data["served"].append(box.id)
        return
    distance, _, missing = placed(site, room, box, place)
    if distance is None:
        data["missing"] += missing
    elif distance <= data["within"] + EPSILON:
        data["served"].append(box.id)
    else:
        data["far"].append((box.id, round(distance, 3)))
