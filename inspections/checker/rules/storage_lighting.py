"""Lights where things are stored or equipment is serviced."""

from collections.abc import Iterator
from math import ceil
from typing import Any, NamedTuple

from inspections.checker.graph.lights import is_light

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, DeviceKind
from ..house.rooms import Room, RoomKind
from ..site import HouseByCode
from ..words import listed, plural

NAME = "storage-lighting"
HIDDEN = (RoomKind.ATTIC, RoomKind.CRAWL_SPACE)
DUST = 1e-6  # m²


class _Lights(NamedTuple):
    """Lights by whether a person can turn them on, and those that cannot be told."""

    lit: list[str]
    dark: list[str]
    doubtful: list[str]


def tell(finding: Finding) -> FindingWords:
    """The space, its lights and how many are asked."""
    data = finding.facts
    missing = listed(data["missing"])
    count, asked = plural(len(data["lit"]), "light"), plural(data["asked"], "light")
    says = {
        Verdict.MEETS: f"This space has {count}; {asked} asked.",
        Verdict.SHORT: f"This space has {count} that can be turned on here; {asked} asked.",
        Verdict.UNKNOWN: f"Nobody recorded {missing}.",
    }[finding.verdict]
    working = [f"lights: {', '.join(data['lit']) or 'none'}; {asked} asked"]
    if data["area_m2"] is not None:
        working.append(f"{data['area_m2']:.2f} m², one light for each {data['each_m2']:g} m²")
    for light in data["dark"]:
        working.append(f"{light} has no switch of any kind")
    for fact in data["missing"]:
        working.append(f"not recorded: {fact}")
    remedy = {
        Verdict.SHORT: "Add a lighting outlet with a switch where a person comes in.",
        Verdict.UNKNOWN: f"Record {missing}.",
    }.get(finding.verdict, "")
    return FindingWords(says, count, f"at least {asked}", tuple(working), remedy)


@rule(
    NAME,
    topic="lighting",
    title="Lights in storage and equipment spaces",
    tell=tell,
    scope=Scope.WIRING,
)
def storage_lighting(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A space for storage, or with equipment to service, has a light.

    By one code its switch may be in the light itself; an attic or crawl space counts when it
    is used. Another asks for lights in a basement by its area.
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
    """Whether it is used; None when nobody recorded it of a space out of sight."""
    if room.kind not in HIDDEN or room.id in site.equipped:
        return True
    return room.in_use


def _room(this: Rule, site: HouseByCode, room: Room, used: bool | None) -> Finding:
    book = site.rulebook
    each = None
    if room.kind is RoomKind.BASEMENT:
        each = book.value(f"{NAME}.basement_m2")
    area = None
    asked = 1
    if each:
        area = _area(site, room)
        asked = max(1, ceil((area or 0.0) / each - DUST))
    lights = _sorted_lights(site, room)
    verdict, missing = _verdict(lights, asked)
    if each and area is None and lights.lit:
        verdict = Verdict.UNKNOWN
        missing.append("the walls of the basement")
    if used is None and verdict is not Verdict.MEETS:
        verdict = Verdict.UNKNOWN
        missing.append("whether it is used for storage or equipment")
    data: dict[str, Any] = {
        "lit": lights.lit,
        "dark": lights.dark,
        "asked": asked,
        "area_m2": area,
        "each_m2": each,
        "missing": missing,
    }
    limits = tuple(book.limits_of(NAME))
    return Finding(this, room.id, verdict, site.room_spot(room), data, limits)


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


def _verdict(lights: _Lights, asked: int) -> tuple[Verdict, list[str]]:
    """Whether they are enough, and what is missing to say so."""
    if len(lights.lit) >= asked:
        return Verdict.MEETS, []
    if len(lights.lit) + len(lights.doubtful) < asked:
        return Verdict.SHORT, []
    missing = []
    for name in lights.doubtful:
        missing.append(f"whether light {name} has a switch")
    return Verdict.UNKNOWN, missing


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
