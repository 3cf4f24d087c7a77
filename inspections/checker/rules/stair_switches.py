"""A switch at each end of a stair."""

from collections.abc import Iterable, Iterator
from typing import Any

from inspections.checker.graph.lights import TRAVELLERS, Switcher, is_light

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.rooms import OpeningKind, Room, RoomKind
from ..site import HouseByCode
from ..words import listed, plural

NAME = "stair-switches"
UNFINISHED = frozenset(
    {RoomKind.BASEMENT, RoomKind.UTILITY, RoomKind.STORAGE, RoomKind.CRAWL_SPACE, RoomKind.STAIR}
)
DOORS = (OpeningKind.DOOR, OpeningKind.SLIDING_DOOR)


def tell(finding: Finding) -> FindingWords:
    """The stair's light, and at which of its ends a switch turns it on."""
    data = finding.facts
    missing = listed(data["missing"])
    bare = listed(data["bare"])
    risers = data["risers"]
    figure = listed(data["switched"]) or "no switch"
    limit = f"a switch at each level from {plural(data['limit'], 'riser')} up"
    says = {
        Verdict.MEETS: "Each level of this stair has a switch for its light.",
        Verdict.SHORT: f"No switch turns on this stair's light at {bare}."
        if bare
        else f"The switches at {listed(data['single'])} are not three-way.",
        Verdict.UNKNOWN: f"Nobody recorded {missing}.",
    }[finding.verdict]
    working = [f"risers: {'not recorded' if risers is None else risers}"]
    for light, where in data["lights"]:
        working.append(f"light {light}: switched at {where}")
    for place in data["switched"]:
        working.append(f"at {place}: a switch")
    for place in data["bare"]:
        working.append(f"at {place}: no switch")
    if data["head_only"]:
        working.append(f"a switch at the head alone will do: {data['head_only']} is unfinished")
    for fact in data["missing"]:
        working.append(f"not recorded: {fact}")
    remedy = {
        Verdict.SHORT: "Add a three-way switch at each level, with travellers between them.",
        Verdict.UNKNOWN: f"Record {missing}.",
    }.get(finding.verdict, "")
    return FindingWords(says, figure, limit, tuple(working), remedy)


@rule(NAME, topic="switching", title="Switches of stairs", tell=tell, scope=Scope.WIRING)
def stair_switches(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A stair of some risers can be lit from each level that opens on it.

    The switches are three-way or four-way, read off the wiring where nobody recorded what they
    turn on. Some codes let one at the head do for a stair to an unfinished basement.
    """
    limit = site.rulebook.get(f"{NAME}.risers")
    if limit is None:
        return
    for room in site.house.rooms:
        lit = []
        for box in site.boxes_in[room.id]:
            if is_light(box):
                lit.append(box.id)
        few = room.risers is not None and room.risers < limit.value
        if room.kind is RoomKind.STAIR and lit and not few:
            yield _stair(this, site, room, lit)


def _stair(this: Rule, site: HouseByCode, room: Room, lit: list[str]) -> Finding:
    judged = []
    for light in lit:
        judged.append(_judge(site, room, light))
    best = max(judged, key=lambda each: each[0])
    lights = []
    for light in lit:
        lights.append((light, listed(s.box for s in site.lights.switchers(light)) or "no switch"))
    data = best[1] | {
        "limit": site.rulebook.value(f"{NAME}.risers"),
        "lights": lights,
        "risers": room.risers,
    }
    verdict = (Verdict.SHORT, Verdict.UNKNOWN, Verdict.MEETS)[best[0]]
    if room.risers is None and verdict is not Verdict.MEETS:
        verdict = Verdict.UNKNOWN
        data["missing"] = ["how many risers it has", *data["missing"]]
    limits = tuple(site.rulebook.limits_of(NAME))
    return Finding(this, room.id, verdict, site.room_spot(room), data, limits)


def _judge(site: HouseByCode, room: Room, light: str) -> tuple[int, dict[str, Any]]:
    """How one of its lights is switched: 0 short, 1 unknown, 2 meets; and why."""
    switchers = site.lights.switchers(light)
    ends, head_only = stair_ends(site, room)
    switched = []
    bare = []
    for end in ends:
        if _at(site, end, ends, switchers):
            switched.append(end.name)
        else:
            bare.append(end.name)
    data: dict[str, Any] = {
        "switched": switched,
        "bare": bare,
        "single": [],
        "head_only": head_only,
        "missing": [],
    }
    if not ends:
        data["missing"].append("the rooms at its head and foot")
        return 1, data
    if bare:
        return 0, data
    if len(ends) > 1:
        data["single"], data["missing"] = _one_way(switchers)
    if data["single"]:
        return 0, data
    if data["missing"]:
        return 1, data
    return 2, data


def _one_way(switchers: Iterable[Switcher]) -> tuple[list[str], list[str]]:
    """The boxes whose switch works from one place alone, and what is missing to tell of others."""
    single = []
    missing = []
    for switcher in switchers:
        if not switcher.ways:
            missing.append(f"which switch of box {switcher.box} turns it on")
        elif switcher.ways < TRAVELLERS:
            single.append(switcher.box)
    return single, missing


def _at(site: HouseByCode, end: Room, ends: list[Room], switchers: list[Switcher]) -> bool:
    """Whether a switch stands in the room at an end, or on its storey when no other end is."""
    alone = sum(each.storey == end.storey for each in ends) == 1
    for switcher in switchers:
        room = site.rooms[site.boxes[switcher.box].room]
        if room.id == end.id or (alone and room.storey == end.storey):
            return True
    return False


def stair_ends(site: HouseByCode, room: Room) -> tuple[list[Room], str]:
    """The rooms that need a switch, and the basement that does not, if one is let off."""
    ends = []
    for name in room.joins or ():
        ends.append(site.rooms[name])
    if site.rulebook.value(f"{NAME}.head_only"):
        for end in ends:
            if end.kind is RoomKind.BASEMENT and _unfinished(site, end.storey):
                others = []
                for each in ends:
                    if each is not end:
                        others.append(each)
                return others, end.name
    return ends, ""


def _unfinished(site: HouseByCode, storey: str) -> bool:
    """Whether nothing on a storey is finished and no door leads out of it."""
    for room in site.house.rooms:
        if room.storey == storey and (room.kind not in UNFINISHED or _has_way_out(room)):
            return False
    return True


def _has_way_out(room: Room) -> bool:
    for wall in room.walls:
        if not wall.outside:
            continue
        for opening in wall.openings:
            if opening.kind in DOORS:
                return True
    return False
