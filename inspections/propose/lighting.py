"""Lights and the switches that turn them on: in rooms, on stairs, outside doors, in storage.

One light and one switch for a room are the fewest that a rule asks; what is there already is
used first: a light without a switch gets a switch, a switch nobody wired gets the room's lights.
"""

from collections.abc import Iterable, Iterator, Sequence
from math import hypot
from typing import Literal

from config.messages.message import Joined, Length, Listed, Text, Value
from inspections.checker.finding import Finding, Verdict, rules
from inspections.checker.graph.lights import SWITCHES, is_light
from inspections.checker.house import House
from inspections.checker.house.boxes import (
    Box,
    Device,
    DeviceKind,
    InSpace,
    Lamp,
    Mounting,
    OnCeiling,
    Place,
)
from inspections.checker.house.rooms import Opening, Room, RoomKind, Wall
from inspections.checker.rulebook import Rulebook
from inspections.checker.rules.outside_door_lights import DOORS
from inspections.checker.rules.stair_switches import stair_ends
from inspections.checker.site import HouseByCode

from . import proposal_messages as says
from .places import free_names, wired_ends
from .proposal import Fact, Found, Proposal, ProposalKind, Unsolved, with_proposals
from .trial import (
    BoxSpot,
    Trial,
    box_of,
    ceiling_points,
    doorways,
    in_ceiling,
    on_wall,
    spots,
)
from .wants import Wants

Ways = Literal[2, 3, 4]
GUARDS = ("tub-switches", "box-heights")
LUMINAIRE = Device(kind=DeviceKind.LUMINAIRE, mounting=Mounting.SURFACE, lamp=Lamp.LED)
OUTSIDE = (RoomKind.OUTDOORS, RoomKind.PORCH)


def propose_lights(house: House, book: Rulebook, wants: Wants) -> list[Found]:
    """A proposal for each place that lacks a light with a switch, in the order of the rooms."""
    maker = _Maker(house, book, wants)
    return [*maker.rooms(), *maker.stairs(), *maker.storage(), *maker.doors()]


class _Maker:
    def __init__(self, house: House, book: Rulebook, wants: Wants) -> None:
        self.house, self.book, self.wants = house, book, wants
        self.doors_short = list(self.findings("outside-door-lights"))

    def findings(self, rule: str) -> Iterator[Finding]:
        """What a rule says of the house as it stands now, where it wants something."""
        for finding in rules()[rule].check(HouseByCode(self.house, self.book)):
            if finding.verdict in (Verdict.NOT_TO_CODE, Verdict.INFO_NEEDED):
                yield finding

    def room(self, name: str) -> Room:
        """The room of that id."""
        return next(room for room in self.house.rooms if room.id == name)

    def in_room(self, room: Room) -> list[Box]:
        """The boxes of a room."""
        return _within(room, self.house.boxes)

    def made(self, proposal: Found) -> Found:
        if isinstance(proposal, Proposal):
            self.house = with_proposals(self.house, [proposal])
        return proposal

    def rooms(self) -> Iterator[Found]:
        for finding in list(self.findings("lighting-outlets")):
            room = self.room(finding.subject)
            if room.kind is not RoomKind.STAIR:
                lights = [box.id for box in self.in_room(room) if box.id in finding.facts.lights]
                yield self.made(self.lit(room, lights))

    def lit(self, room: Room, lights: Sequence[str]) -> Found:
        """A light for a room, where it has none, and a switch for its lights."""
        here = self.in_room(room)
        targets = list(lights)
        new = []
        said: list[Value] = []
        if not lights:
            light = self.light(room, here)
            new.append(light)
            targets.append(light.id)
            said.append(says.LIGHT(where=_where(light)))
        idle = _idle_switch(self.house, here)
        if idle is not None and not new:
            box, index = idle
            fact = Fact(("boxes", box.id, "devices", index), "controls", tuple(targets))
            lit = Listed(tuple(targets))
            return Proposal(
                room.id,
                (),
                says.TURNS_ON(switch=box.id, lights=lit),
                says.WIRING_ONLY(),
                ProposalKind.LIGHTS,
                facts=(fact,),
            )
        switch = self.switch(room, targets, [*here, *new])
        if switch is None:
            return Unsolved(room.id, says.NO_SWITCH_WALL(), ProposalKind.LIGHTS)
        said.append(says.SWITCH(where=_where(switch)))
        told = Joined(tuple(said), "; ")
        return Proposal(room.id, (*new, switch), told, says.ONE_LIGHT(), ProposalKind.LIGHTS)

    def light(self, room: Room, here: Iterable[Box]) -> Box:
        """A luminaire in the middle of the ceiling, or as near to it as the next one can be."""
        name = next(free_names(self.house, "lum"))
        place: Place = OnCeiling(surface="ceiling")
        if room.walls:
            plan = HouseByCode(self.house, self.book).plans[room.id]
            points = ceiling_points(room, plan, here)
            if points:
                place = in_ceiling(points[0])
        elif room.kind in OUTSIDE:
            place = InSpace(surface="space", accessible=True)
        return box_of(name, room, place, LUMINAIRE)

    def switch(
        self,
        room: Room,
        targets: Sequence[str],
        here: Iterable[Box],
        ways: Ways = 2,
        door: tuple[str, float] | None = None,
    ) -> Box | None:
        """A switch for these lights by a door of the room; None where none of its walls is free."""
        name = next(free_names(self.house, "sw"))
        device = Device(kind=DeviceKind.SWITCH, ways=ways, controls=tuple(targets))
        if not room.walls:
            return box_of(name, room, InSpace(surface="space", accessible=True), device)
        height = self.house.height_mm.get(DeviceKind.SWITCH, self.wants.switch_height_mm)
        there = _within(room, here)
        trial = Trial(self.house, self.book, {room.id})
        guarded = trial.short(GUARDS)
        for spot in _by_doors(trial, room, there, height, self.wants.stud_spacing_mm, door):
            box = box_of(name, room, on_wall(spot, height), device)
            if not trial.short(GUARDS, [box]) - guarded:
                return box
        return None

    def stairs(self) -> Iterator[Found]:
        site = HouseByCode(self.house, self.book)
        wanting = {finding.subject for finding in self.findings("lighting-outlets")}
        for finding in self.findings("stair-switches"):
            if finding.verdict is Verdict.NOT_TO_CODE:
                wanting.add(finding.subject)
        for room in self.house.rooms:
            if room.kind is RoomKind.STAIR and room.id in wanting:
                ends = [end.id for end in stair_ends(site, room)[0]]
                yield self.made(self.stair(room, ends))

    def stair(self, room: Room, ends: list[str]) -> Found:
        """A light over the stair, and a switch at each end: three-way, four-way between."""
        here = self.in_room(room)
        if any(is_light(box) for box in here):
            return Unsolved(room.id, says.THREE_WAY(), ProposalKind.LIGHTS)
        places = self.switched_from(room, ends)
        light = self.light(room, here)
        boxes = [light]
        for number, place in enumerate(places):
            ways = _ways(number, len(places))
            switch = self.switch(place, (light.id,), [*self.house.boxes, *boxes], ways)
            if switch is None:
                why = says.NO_SWITCH_WALL_IN(room=place.name)
                return Unsolved(room.id, why, ProposalKind.LIGHTS)
            boxes.append(switch.model_copy(update={"id": _next(self.house, boxes)}))
        proof = says.EACH_LEVEL()
        if len(places) == 1:
            proof = says.ONE_LIGHT()
        said: list[Value] = [says.LIGHT_OVER()]
        for box in boxes[1:]:
            said.append(says.SWITCH_IN(where=_where(box), room=self.room(box.room).name))
        told = Joined(tuple(said), "; ")
        return Proposal(room.id, tuple(boxes), told, proof, ProposalKind.LIGHTS)

    def switched_from(self, stair: Room, ends: list[str]) -> list[Room]:
        """The rooms at its ends when it has enough risers to want a switch at each; else itself."""
        few = self.book.value("stair-switches.risers", 1000)
        if stair.risers is not None and stair.risers < few:
            return [stair]
        return [each for each in self.house.rooms if each.id in ends] or [stair]

    def storage(self) -> Iterator[Found]:
        for finding in list(self.findings("storage-lighting")):
            if finding.verdict is Verdict.NOT_TO_CODE:
                room = self.room(finding.subject)
                yield self.made(self.stored(room, finding))

    def stored(self, room: Room, finding: Finding) -> Found:
        """As many lights as its area asks, on one switch."""
        here = self.in_room(room)
        there = sum(map(is_light, here))
        required = finding.facts.required
        missing = max(0, required - there)
        targets = [box.id for box in here if box.id in finding.facts.dark]
        new: list[Box] = []
        for _ in range(missing):
            box = self.light(room, [*here, *new])
            new.append(box.model_copy(update={"id": _next(self.house, new, "lum")}))
            targets.append(new[-1].id)
        switch = self.switch(room, targets, [*here, *new])
        if switch is None:
            return Unsolved(f"{room.id}/storage", says.NO_SWITCH_WALL(), ProposalKind.LIGHTS)
        proof, said = says.ONE_LIGHT(), [says.SWITCH(where=_where(switch))]
        if missing:
            proof = says.LIGHTS_REQUIRED(required=required, there=there)
            said.insert(0, says.LIGHTS_MORE(n=missing))
        told = Joined(tuple(said), "; ")
        return Proposal(f"{room.id}/storage", (*new, switch), told, proof, ProposalKind.LIGHTS)

    def doors(self) -> Iterator[Found]:
        for finding in self.doors_short:
            if finding.facts.light is None and finding.facts.none_outdoors:
                room_id, _, rest = finding.subject.partition("/")
                wall_id, _, number = rest.rpartition(".")
                room = self.room(room_id)
                wall = next(wall for wall in room.walls if wall.id == wall_id)
                index = _doors_of(wall)[int(number) - 1]
                yield self.made(self.door(finding.subject, room, wall, index))

    def door(self, subject: str, room: Room, wall: Wall, index: int) -> Found:
        """A light outside a door and a switch beside it within."""
        outside = next((each for each in self.house.rooms if each.kind in OUTSIDE), None)
        if outside is None:
            return Unsolved(subject, says.NO_OUTDOORS(), ProposalKind.LIGHTS)
        light = self.light(outside, self.in_room(outside))
        opening: Opening = wall.openings[index]
        by = (wall.id, opening.at_mm + opening.width_mm / 2)
        switch = self.switch(room, (light.id,), self.house.boxes, door=by)
        if switch is None:
            return Unsolved(subject, says.NO_SWITCH_WALL(), ProposalKind.LIGHTS)
        path = ("rooms", room.id, "walls", wall.id, "openings", index)
        return Proposal(
            subject,
            (light, switch),
            Joined((says.LIGHT_OUTSIDE(), says.SWITCH(where=_where(switch))), "; "),
            says.ONE_LIGHT(),
            ProposalKind.LIGHTS,
            facts=(Fact(path, "light", light.id),),
        )


def _within(room: Room, boxes: Iterable[Box]) -> list[Box]:
    """Those of the boxes that are in the room."""
    within: list[Box] = []
    for box in boxes:
        if box.room == room.id:
            within.append(box)
    return within


def _ways(number: int, count: int) -> Ways:
    """What a switch must be, of so many that turn on the same light."""
    if count == 1:
        return 2
    if 0 < number < count - 1:
        return 4
    return 3


def _doors_of(wall: Wall) -> list[int]:
    """The places of doors among the openings of a wall."""
    doors: list[int] = []
    for index, opening in enumerate(wall.openings):
        if opening.kind in DOORS:
            doors.append(index)
    return doors


def _next(house: House, boxes: Iterable[Box], stem: str = "sw") -> str:
    """A name that neither the house has nor the boxes that are to be added."""
    taken = {box.id for box in boxes}
    return next(name for name in free_names(house, stem) if name not in taken)


def _idle_switch(house: House, here: Iterable[Box]) -> tuple[Box, int] | None:
    """A switch of a room that no cable reaches, and of which it is not recorded what it turns
    on."""
    wired = wired_ends(house)
    for box in here:
        for index, device in enumerate(box.devices):
            if device.kind in SWITCHES and device.controls is None and box.id not in wired:
                return box, index
    return None


def _by_doors(
    trial: Trial,
    room: Room,
    there: Iterable[Box],
    height: float,
    spacing: float,
    door: tuple[str, float] | None,
) -> list[BoxSpot]:
    """The free places of a room's walls, those beside a doorway first."""
    plan = trial.site.plans[room.id]
    ways = []
    for wall, left, right in doorways(room):
        for at in (left, right):
            ways.append(plan.at(wall.id, at))
    if door:
        ways = [plan.at(*door)]

    def far(spot: BoxSpot) -> float:
        x, y = plan.at(spot.wall, spot.at)
        return min((hypot(x - a, y - b) for a, b in ways), default=0.0)

    return sorted(spots(room, there, height, spacing), key=lambda s: (far(s), s.blocking))


def _where(box: Box) -> Text:
    place = box.place
    if place.surface == "wall":
        return says.ON_WALL(wall=place.wall, at=Length(place.at_mm))
    if place.surface == "ceiling":
        return says.IN_CEILING()
    return says.NO_WALLS()
