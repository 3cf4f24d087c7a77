"""A light that a wall switch turns on, in each room."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Joined, Text, Value, message
from inspections.checker.asking.fixing import added_box
from inspections.checker.asking.light_words import (
    NONE_RECORDED,
    RECEPTACLE_AT,
    RECORD_WIRING,
    WHAT_SWITCHES,
    SwitchedOutlet,
    by_outlet,
    light_lines,
    switch_unknown,
    switched,
)
from inspections.checker.asking.lines import ids_listed, in_order
from inspections.checker.asking.points import EITHER_WAY, NOT_RECORDED, STILL_MISSING
from inspections.checker.asking.switch_fixes import switched_from
from inspections.checker.graph.lights import is_light
from inspections.checker.house import House
from inspections.checker.house.boxes import DeviceKind
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.rooms import Room
from ..rulebook import Limit
from ..site import HouseByCode, holds_receptacle

NAME = "lighting-outlets"
WANTED = 1
"""Lights with a wall switch in each room."""
HAS = message(
    f"{NAME}.has",
    "{n} lights here have a wall switch; {limit} required.",
    one="{n} light here has a wall switch; {limit} required.",
)
INSTEAD = message(
    f"{NAME}.instead",
    "{n} receptacles here have a wall switch, in place of a light.",
    one="{n} receptacle here has a wall switch, in place of a light.",
)
NONE = message(f"{NAME}.none", "No lighting outlet here; {limit} required.")
DARK = message(
    f"{NAME}.dark",
    "{n} lights here, none with a wall switch; {limit} required.",
    one="{n} light here has no wall switch.",
)
ADD = message(f"{NAME}.none.remedy", "Add one with a wall switch.")
WIRE = message(
    f"{NAME}.dark.remedy",
    "Wire one of them to a switch on the wall.",
    one="Wire it to a switch on the wall.",
)
RECEPTACLE = message(f"{NAME}.receptacle", "Or switch a receptacle.")
STANDS_IN = message(f"{NAME}.stands-in", "a switched receptacle may stand in for the light")


@dataclass(frozen=True, slots=True)
class LightingOutletFacts:
    """The outlets of a room and what turns them on.

    `outlets` are the lights, and the receptacles with a wall switch where one may stand for a
    light; `loose` are the lights whose wiring is not recorded yet.
    """

    lights: frozenset[str]
    outlets: frozenset[SwitchedOutlet]
    loose: frozenset[str]
    receptacle: bool


def tell(finding: Finding) -> FindingWords:
    """The room's lights and what turns them on."""
    facts: LightingOutletFacts = finding.facts
    working = tuple(_working(facts, finding.verdict))
    if finding.verdict is Verdict.INFO_NEEDED:
        says = NOT_RECORDED(what=switch_unknown(facts.loose))
        return FindingWords(says, limit=WANTED, working=working, remedy=RECORD_WIRING())
    lit = _lit(facts)
    if finding.verdict is Verdict.NOT_TO_CODE:
        return FindingWords(_short(facts), 0, WANTED, working, _remedy(facts))
    if lit:
        return FindingWords(HAS(n=len(lit), limit=WANTED), len(lit), WANTED, working)
    count = sum(bool(each.switches) for each in facts.outlets)
    return FindingWords(INSTEAD(n=count), count, WANTED, working)


def _lit(facts: LightingOutletFacts) -> list[str]:
    """The lights that a wall switch turns on."""
    lit = []
    for each in facts.outlets:
        if each.switches and each.outlet in facts.lights:
            lit.append(each.outlet)
    return lit


def _short(facts: LightingOutletFacts) -> Text:
    if facts.lights:
        return DARK(n=len(facts.lights), limit=WANTED)
    return NONE(limit=WANTED)


def _remedy(facts: LightingOutletFacts) -> Value:
    remedy = ADD()
    if facts.lights:
        remedy = WIRE(n=len(facts.lights))
    if facts.receptacle:
        return Joined((remedy, RECEPTACLE()))
    return remedy


def _working(facts: LightingOutletFacts, verdict: Verdict) -> Iterator[Text]:
    lights = []
    for each in by_outlet(facts.outlets):
        if each.outlet not in facts.lights:
            yield RECEPTACLE_AT(box=each.outlet, boxes=ids_listed(each.switches))
        elif each.switches or each.outlet not in facts.loose:
            lights.append(each)
    yield from light_lines(lights)
    missing = EITHER_WAY
    if verdict is Verdict.INFO_NEEDED:
        missing = STILL_MISSING
    for light in in_order(facts.loose):
        yield missing(what=WHAT_SWITCHES(light=light))
    if not facts.lights:
        yield NONE_RECORDED()
    if facts.receptacle and not _lit(facts):
        yield STANDS_IN()


def _fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """Which switch turns on a light that is there; or a light."""
    facts = finding.facts
    for light in in_order(facts.lights):
        yield from switched_from(house, finding.spot.room, light)
    if not facts.lights:
        yield added_box(house, DeviceKind.LUMINAIRE, {"surface": "ceiling"}, finding.spot.room)


@rule(
    NAME,
    topic="lighting",
    title="Lighting outlets",
    tell=tell,
    scope=Scope.WIRING,
    facts=LightingOutletFacts,
    fixes=_fixes,
)
def lighting_outlets(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Each room people live in, and each hall, stair and garage, has a light with a wall switch.

    In some rooms a receptacle that a wall switch turns on will do instead. Which switch turns
    on which light is read off the wiring where it is not recorded yet.
    """
    book = site.rulebook
    names = ("rooms", "passages", "receptacle_rooms")
    limits = {}
    for name in names:
        if f"{NAME}.{name}" in book:
            limits[name] = book[f"{NAME}.{name}"]
    for room in site.house.rooms:
        for name in ("rooms", "passages"):
            if name in limits and room.kind in limits[name].value:
                instead = limits.get("receptacle_rooms")
                allowed = None
                if instead and room.kind in instead.value:
                    allowed = instead
                yield _room(this, site, room, limits[name], allowed)


def _room(
    this: Rule, site: HouseByCode, room: Room, limit: Limit, instead: Limit | None
) -> Finding:
    facts = _facts(site, room, instead is not None)
    verdict = Verdict.NOT_TO_CODE
    if any(each.switches for each in facts.outlets):
        verdict = Verdict.OK
    elif facts.loose:
        verdict = Verdict.INFO_NEEDED
    limits = (limit,) if instead is None else (limit, instead)
    return Finding(this, room.id, verdict, site.room_spot(room), facts, limits)


def _facts(site: HouseByCode, room: Room, receptacle: bool) -> LightingOutletFacts:
    lights = []
    outlets = []
    loose = []
    for box in site.boxes_in[room.id]:
        by = switched(site, box.id)
        if is_light(box):
            lights.append(box.id)
            outlets.append(by)
            if not by.switches and not site.wiring.power_at(box.id):
                loose.append(box.id)
        elif receptacle and holds_receptacle(box) and by.switches:
            outlets.append(by)
    return LightingOutletFacts(frozenset(lights), frozenset(outlets), frozenset(loose), receptacle)
