"""A light that a wall switch turns on, in each room."""

from collections.abc import Iterator
from typing import Any

from inspections.checker.graph.lights import is_light

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box
from ..house.rooms import Room
from ..rulebook import Limit
from ..site import HouseByCode, holds_receptacle
from ..words import listed, plural

NAME = "lighting-outlets"


def tell(finding: Finding) -> FindingWords:
    """The room's lights and what turns them on."""
    data = finding.facts
    count = plural(len(data["lights"]), "light")
    by = {}
    for light, switches in data["switched"]:
        if switches:
            by[light] = switches
    says = {
        Verdict.MEETS: "A wall switch turns on a light in this room.",
        Verdict.SHORT: "No light of this room has a wall switch."
        if data["lights"]
        else "This room has no lighting outlet.",
        Verdict.UNKNOWN: f"Nobody recorded the cables of light {listed(data['loose'])}.",
    }[finding.verdict]
    if finding.verdict is Verdict.MEETS and not any(light in by for light in data["lights"]):
        says = "A wall switch turns on a receptacle in this room, in place of a light."
    working = []
    for light, switches in data["switched"]:
        working.append(
            f"{light}: switched at {listed(switches)}" if switches else f"{light}: no wall switch"
        )
    place = "no receptacle in its place"
    if data["receptacle"]:
        place = "or a switched receptacle"
    working.append(f"1 light with a wall switch asked, {place}")
    remedy = {
        Verdict.SHORT: "Add a lighting outlet and its wall switch.",
        Verdict.UNKNOWN: "Record the cables that feed it, or what its switch controls.",
    }.get(finding.verdict, "")
    return FindingWords(says, count, "1 light with a wall switch", tuple(working), remedy)


@rule(NAME, topic="lighting", title="Lighting outlets", tell=tell, scope=Scope.WIRING)
def lighting_outlets(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Each room people live in, and each hall, stair and garage, has a light with a wall switch.

    In some rooms a receptacle that a wall switch turns on will do instead. Which switch turns
    on which light is read off the wiring where nobody recorded it.
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
    lights = []
    loose = []
    by = {}
    for box in site.boxes_in[room.id]:
        if is_light(box):
            lights.append(box.id)
            by[box.id] = _switches(site, box)
            if not site.wiring.power_at(box.id) and not by[box.id]:
                loose.append(box.id)
    limits = [limit]
    if instead:
        limits.append(instead)
        for box in site.boxes_in[room.id]:
            if holds_receptacle(box):
                by[box.id] = _switches(site, box)
    data: dict[str, Any] = {
        "lights": lights,
        "switched": _switched(by, lights, loose),
        "loose": loose,
        "receptacle": instead is not None,
    }
    verdict = Verdict.SHORT
    if any(by.values()):
        verdict = Verdict.MEETS
    elif loose:
        verdict = Verdict.UNKNOWN
    return Finding(this, room.id, verdict, site.room_spot(room), data, tuple(limits))


def _switched(
    by: dict[str, list[str]], lights: list[str], loose: list[str]
) -> list[tuple[str, list[str]]]:
    """Each outlet with its switches; the lights that surely have none come last."""
    switched = []
    for name, switches in by.items():
        if switches or name in loose:
            switched.append((name, switches))
    for name in lights:
        if not by[name] and name not in loose:
            switched.append((name, []))
    return switched


def _switches(site: HouseByCode, box: Box) -> list[str]:
    boxes: list[str] = []
    for switcher in site.lights.switchers(box.id):
        boxes.append(switcher.box)
    return boxes
