"""Lights where things are stored or equipment is serviced."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from math import ceil
from typing import NamedTuple

from config.messages.message import FloorSize, Listed, Rounding, Text, message
from inspections.checker.asking.light_words import NONE_RECORDED
from inspections.checker.asking.lines import MOST_NAMED, ids_listed, in_order
from inspections.checker.asking.points import EITHER_WAY, NOT_RECORDED, RECORD, STILL_MISSING
from inspections.checker.graph.lights import is_light

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, DeviceKind
from ..house.rooms import Room, RoomKind
from ..site import HouseByCode

NAME = "storage-lighting"
HIDDEN = (RoomKind.ATTIC, RoomKind.CRAWL_SPACE)
DUST = 1e-6  # m²


class _Lights(NamedTuple):
    """Lights by whether a person can turn them on, and those that cannot be told."""

    lit: list[str]
    dark: list[str]
    doubtful: list[str]


class StorageGap(StrEnum):
    """A fact that is missing of a space for storage."""

    SWITCH = "switch"
    WALLS = "walls"
    USE = "use"


@dataclass(frozen=True, slots=True)
class StorageLightingFacts:
    """The lights of a space and how many it needs.

    `lit` can be turned on, `dark` have no switch of any kind, of the `unclear` it is not recorded
    and decides.
    """

    lit: frozenset[str]
    dark: frozenset[str]
    unclear: frozenset[str]
    required: int
    area_m2: float | None
    each_m2: float | None
    missing: frozenset[StorageGap]


HAS = message(
    f"{NAME}.has",
    "{n} lights here; {required} required.",
    one="{n} light here; {required} required.",
)
NONE = message(f"{NAME}.none", "No light here; {required} required.")
DARK = message(
    f"{NAME}.dark",
    "{n} lights here without a switch.",
    one="{n} light here without a switch.",
)
ADD = message(f"{NAME}.none.remedy", "Add a light, switched where you come in.")
SWITCH = message(f"{NAME}.dark.remedy", "Add a switch where you come in.")
COUNTS = message(f"{NAME}.counts", "lights that count: {lights}")
NO_SWITCH = message(f"{NAME}.no-switch", "light {light}: no switch of any kind")
BY_AREA = message(
    f"{NAME}.by-area", "{area} of floor, a light for each {each}: {required} required"
)
GAP_SWITCH = message(f"{NAME}.gap-switch", "whether light {light} has a switch")
GAP_SWITCHES = message(
    f"{NAME}.gap-switches",
    "whether {n} lights have a switch",
    one="whether {n} light has a switch",
)
GAP_WALLS = message(f"{NAME}.gap-walls", "the walls of this basement")
GAP_USE = message(f"{NAME}.gap-use", "whether this space is used for storage or equipment")


def tell(finding: Finding) -> FindingWords:
    """The space, its lights and how many are required."""
    facts: StorageLightingFacts = finding.facts
    working = tuple(_working(facts, finding.verdict))
    if finding.verdict is Verdict.INFO_NEEDED:
        says = NOT_RECORDED(what=Listed(tuple(_missing_texts(facts))))
        return FindingWords(says, limit=facts.required, working=working, remedy=RECORD())
    count = len(facts.lit)
    says = HAS(n=count, required=facts.required)
    remedy = ADD()
    if finding.verdict is Verdict.OK:
        return FindingWords(says, count, facts.required, working)
    if count + len(facts.dark) >= facts.required:
        says, remedy = DARK(n=len(facts.dark)), SWITCH()
    elif not count:
        says = NONE(required=facts.required)
    return FindingWords(says, count, facts.required, working, remedy)


def _missing_texts(facts: StorageLightingFacts) -> Iterator[Text]:
    """What is to be recorded, each as part of a sentence."""
    if len(facts.unclear) > MOST_NAMED:
        yield GAP_SWITCHES(n=len(facts.unclear))
    else:
        yield from _unclear_texts(facts)
    if StorageGap.WALLS in facts.missing:
        yield GAP_WALLS()
    if StorageGap.USE in facts.missing:
        yield GAP_USE()


def _unclear_texts(facts: StorageLightingFacts) -> Iterator[Text]:
    for light in in_order(facts.unclear):
        yield GAP_SWITCH(light=light)


def _working(facts: StorageLightingFacts, verdict: Verdict) -> Iterator[Text]:
    if facts.lit:
        yield COUNTS(lights=ids_listed(facts.lit))
    for light in in_order(facts.dark):
        yield NO_SWITCH(light=light)
    if not facts.lit | facts.dark | facts.unclear:
        yield NONE_RECORDED()
    if facts.area_m2 is not None and facts.each_m2 is not None:
        area = FloorSize(facts.area_m2, Rounding.UP)
        each = FloorSize(facts.each_m2, Rounding.UP)
        yield BY_AREA(area=area, each=each, required=facts.required)
    still = EITHER_WAY
    if verdict is Verdict.INFO_NEEDED:
        still = STILL_MISSING
    for text in _unclear_texts(facts):
        yield still(what=text)
    for text in _missing_texts(replace(facts, unclear=frozenset())):
        yield still(what=text)


@rule(
    NAME,
    topic="lighting",
    title="Lights in storage and equipment spaces",
    tell=tell,
    scope=Scope.WIRING,
    facts=StorageLightingFacts,
)
def storage_lighting(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A space for storage, or with equipment to service, has a light.

    By one code its switch may be in the light itself; an attic or crawl space counts when it is
    used. Another requires lights in a basement by its area.
    """
    book = site.rulebook
    if f"{NAME}.rooms" not in book:
        return
    for room in site.house.rooms:
        if room.kind in book.value(f"{NAME}.rooms"):
            used = _used(site, room)
            if used is not False:
                yield _room(this, site, room, used)


def _used(site: HouseByCode, room: Room) -> bool | None:
    """Whether it is used; None when it is not recorded yet of a space out of sight."""
    if room.kind not in HIDDEN or room.id in site.equipped:
        return True
    return room.in_use


def _room(this: Rule, site: HouseByCode, room: Room, used: bool | None) -> Finding:
    book = site.rulebook
    each = None
    if room.kind is RoomKind.BASEMENT:
        each = book.value(f"{NAME}.basement_m2")
    area = None
    required = 1
    if each:
        area = _area(site, room)
        required = max(1, ceil((area or 0.0) / each - DUST))
    lights = _sorted_lights(site, room)
    verdict, missing = _verdict(lights, required)
    if each and area is None and lights.lit:
        verdict = Verdict.INFO_NEEDED
        missing.add(StorageGap.WALLS)
    if used is None and verdict is not Verdict.OK:
        verdict = Verdict.INFO_NEEDED
        missing.add(StorageGap.USE)
    unclear = lights.doubtful if StorageGap.SWITCH in missing else []
    facts = StorageLightingFacts(
        frozenset(lights.lit),
        frozenset(lights.dark),
        frozenset(unclear),
        required,
        area,
        each,
        frozenset(missing),
    )
    limits = tuple(book.limits_of(NAME))
    return Finding(this, room.id, verdict, site.room_spot(room), facts, limits)


def _area(site: HouseByCode, room: Room) -> float | None:
    if room.walls and room.closed:
        return site.lines[room.id].area_m2
    return None


def _sorted_lights(site: HouseByCode, room: Room) -> _Lights:
    """The lights of a room by whether a person can turn them on."""
    lights = _Lights([], [], [])
    for box in site.boxes_in[room.id]:
        if not is_light(box):
            continue
        turned_on = _turned_on(site, box)
        if turned_on is None:
            lights.doubtful.append(box.id)
        elif turned_on:
            lights.lit.append(box.id)
        else:
            lights.dark.append(box.id)
    return lights


def _verdict(lights: _Lights, required: int) -> tuple[Verdict, set[StorageGap]]:
    """Whether they are enough, and what is missing to say so."""
    if len(lights.lit) >= required:
        return Verdict.OK, set()
    if len(lights.lit) + len(lights.doubtful) < required:
        return Verdict.NOT_TO_CODE, set()
    return Verdict.INFO_NEEDED, {StorageGap.SWITCH}


def _turned_on(site: HouseByCode, box: Box) -> bool | None:
    """Whether a person can turn it on: at a wall switch or at the light itself."""
    if not site.rulebook.value(f"{NAME}.switched") or site.lights.switchers(box.id):
        return True
    own = []
    for d in box.devices:
        if d.kind is DeviceKind.LUMINAIRE:
            own.append(d.own_switch)
    if any(own):
        return True
    if None in own:
        return None
    return False
