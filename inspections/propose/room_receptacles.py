"""Receptacles that a room is to be provided with: hallways, baths, laundries, garages and more.

Each is found by trying places in order of preference and asking the rules themselves: the first
place that corrects a finding and makes no other short is proposed.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import hypot

from config.messages.message import Text
from inspections.checker.asking.fixtures import USUAL_DEPTH_MM
from inspections.checker.finding import Finding, Verdict
from inspections.checker.geometry.plan import Point
from inspections.checker.house import House
from inspections.checker.house.boxes import Box, Device, DeviceKind, InSpace, Place
from inspections.checker.house.fixtures import Fixture, FixtureKind
from inspections.checker.house.rooms import Room, RoomKind
from inspections.checker.rulebook import Rulebook
from inspections.checker.rules.appliance_receptacles import appliance_places
from inspections.checker.rules.bathroom_receptacles import SinkFacts
from inspections.checker.rules.hallway_receptacles import HallwayReach

from . import proposal_messages as says
from .fewest import Far, together
from .places import free_names
from .proposal import Found, Proposal, Unsolved
from .trial import BoxSpot, Trial, box_of, ceiling_points, in_ceiling, on_wall, spots
from .wants import Wants

GUARDS = ("tub-receptacles", "counter-receptacles", "box-heights", "range-dryer-boxes")
MOST = 4  # receptacles weighed together along a hallway; more would take long
FEW = 40  # places tried where no stud serves
ABOVE_BASIN_MM = 200.0  # common practice, no source
BENCH_MM = 1100.0  # where a bench may stand: garage, utility room; the same
OUTSIDE_MM = 500.0  # above the ground; the same
HALLS = ("hallway-receptacles",)
RECEPTACLE = Device(kind=DeviceKind.RECEPTACLE)
PLACES = {
    FixtureKind.RANGE: (Device(kind=DeviceKind.RECEPTACLE, poles=2, dedicated_to="range"), 100.0),
    FixtureKind.DRYER: (Device(kind=DeviceKind.RECEPTACLE, poles=2, dedicated_to="dryer"), 900.0),
    FixtureKind.WASHER: (Device(kind=DeviceKind.RECEPTACLE, dedicated_to="washer"), 1200.0),
    FixtureKind.REFRIGERATOR: (
        Device(kind=DeviceKind.RECEPTACLE, dedicated_to="refrigerator"),
        1200.0,
    ),
    FixtureKind.DISHWASHER: (
        Device(kind=DeviceKind.RECEPTACLE, dedicated_to="dishwasher", in_cabinet=True),
        450.0,
    ),
    FixtureKind.MICROWAVE: (
        Device(kind=DeviceKind.RECEPTACLE, dedicated_to="microwave", in_cabinet=True),
        1800.0,
    ),
    FixtureKind.DOOR_OPENER: (
        Device(kind=DeviceKind.RECEPTACLE, dedicated_to="door opener"),
        2200.0,
    ),
}
"""What an appliance plugs into and how high; heights are common practice, no source."""


def propose_room_receptacles(house: House, book: Rulebook, wants: Wants) -> list[Found]:
    """A proposal for each finding of these rules that is short, in the order of the rooms."""
    finder = _Finder(house, book, wants)
    found: list[Found] = []
    for room in house.rooms:
        for propose in (finder.appliances, finder.basins, finder.hallway, finder.counted):
            for made in propose(room.id):
                found.append(made)
                if isinstance(made, Proposal):
                    finder.add(made.boxes)
    return found


COUNTED = {
    "laundry-receptacles": BENCH_MM,
    "utility-receptacles": BENCH_MM,
    "garage-receptacles": BENCH_MM,
    "deck-receptacles": OUTSIDE_MM,
    "foyer-receptacles": None,
    "equipment-receptacles": BENCH_MM,
}
"""The rules that count receptacles in one room, and how high a new one stands there."""


class _Finder:
    def __init__(self, house: House, book: Rulebook, wants: Wants) -> None:
        self.house, self.book, self.wants = house, book, wants
        self.names = free_names(house)

    def add(self, boxes: Sequence[Box]) -> None:
        self.house = self.house.model_copy(update={"boxes": (*self.house.boxes, *boxes)})

    def trial(self, room: str) -> Trial:
        return Trial(self.house, self.book, {room})

    @property
    def usual(self) -> float:
        """How high the shop sets receptacles."""
        return self.house.height_mm.get(DeviceKind.RECEPTACLE, self.wants.receptacle_height_mm)

    def appliances(self, room_id: str) -> Iterator[Found]:
        trial = self.trial(room_id)
        room = trial.site.rooms[room_id]
        places = {f"{room.id}/{place.id}": place for place in appliance_places(trial.site, room)}
        for key in sorted(trial.short(("appliance-receptacles",))):
            subject = key.partition(":")[2]
            place = places[subject]
            device, height = PLACES[place.kind]
            middle = _middle_of(trial, room, place)
            if device.in_cabinet and place.wall and place.at_mm is not None:
                middle = trial.site.plans[room.id].at(place.wall, place.at_mm - 200)
            made = self.first(trial, room, "appliance-receptacles", key, device, height, middle)
            yield made  # whoever asked has added it when it goes on
            trial = self.trial(room_id)

    def basins(self, room_id: str) -> Iterator[Found]:
        name = "bathroom-receptacles"
        for key, finding in self.trial(room_id).verdicts((name,)).items():
            trial = self.trial(room_id)
            if key not in trial.short((name,)):
                continue
            room = trial.site.rooms[room_id]
            basin = _first_sink(room, finding.facts)
            height = (basin.top_mm or 800.0) + ABOVE_BASIN_MM
            middle = _middle_of(trial, room, basin)
            made = self.first(trial, room, name, key, RECEPTACLE, height, middle)
            yield made

    def hallway(self, room_id: str) -> Iterator[Found]:
        """The fewest along a hallway: every choice of one, then of two, then of three."""
        trial = self.trial(room_id)
        for key in trial.short(HALLS):
            room = trial.site.rooms[room_id]
            height = self.usual
            there = trial.site.boxes_in[room.id]
            places = list(spots(room, there, height, self.wants.stud_spacing_mm))
            beside = []
            for spot in places:
                if not spot.blocking:
                    beside.append(spot)
            beside = beside or places[:: max(1, len(places) // FEW)]
            yield self._fewest(trial, room, key, beside, height)

    def _fewest(
        self, trial: Trial, room: Room, key: str, places: list[BoxSpot], height: float
    ) -> Found:
        subject = key.partition(":")[2]
        far: list[Far] = []
        for spot in places:
            box = box_of("try-0", room, on_wall(spot, height), RECEPTACLE)
            finding = trial.verdicts(HALLS, [box]).get(key)
            if finding is None or finding.verdict is not Verdict.NOT_TO_CODE:
                return self._hall(subject, room, [spot], height)
            facts = finding.facts
            if not isinstance(facts, HallwayReach):  # by length: one place serves or none does
                return Unsolved(subject, says.NONE_SERVES())
            far.append([(each.wall, each.from_mm, each.to_mm) for each in facts.far])
        for count in range(2, MOST + 1):
            chosen = together(far, count)
            if chosen is not None:
                return self._hall(subject, room, [places[n] for n in chosen], height)
        return Unsolved(subject, says.NOT_BY(n=MOST))

    def _hall(self, subject: str, room: Room, chosen: list[BoxSpot], height: float) -> Proposal:
        boxes = []
        for spot in chosen:
            boxes.append(box_of(next(self.names), room, on_wall(spot, height), RECEPTACLE))
        fewer = len(chosen) - 1
        proof = says.ONE_RECEPTACLE()
        if fewer:
            proof = says.EVERY_FEWER(n=fewer)
        return Proposal(subject, tuple(boxes), _told(chosen), proof)

    def counted(self, room_id: str) -> Iterator[Found]:
        for name, height in COUNTED.items():
            for _ in range(12):
                trial = self.trial(room_id)
                short = sorted(trial.short((name,)))
                if not short:
                    break
                room = trial.site.rooms[room_id]
                bay = None
                if name == "garage-receptacles":
                    bay = _bay(trial, room)
                at = self.usual
                if height is not None:
                    at = height
                made = self.first(trial, room, name, short[0], RECEPTACLE, at, None, bay)
                yield made
                if isinstance(made, Unsolved):
                    break

    def first(
        self,
        trial: Trial,
        room: Room,
        rule: str,
        key: str,
        device: Device,
        height: float,
        near: Point | None,
        bay: int | None = None,
    ) -> Found:
        """The first place, the nearest to a point where one is given, that corrects the finding."""
        subject = key.partition(":")[2]
        before, guarded = trial.verdicts((rule,))[key], trial.short(GUARDS)
        doubtful: tuple[Box, BoxSpot | None] | None = None
        for place, spot in self._in_order(trial, room, height, near, device):
            box = box_of("try-0", room, place, device).model_copy(update={"bay": bay})
            after = trial.verdicts((rule,), [box]).get(key)
            if after and after.verdict is Verdict.NOT_TO_CODE and not _nearer(before, after):
                continue
            if trial.short(GUARDS, [box]) - guarded:
                continue
            if after is None or after.verdict is not Verdict.INFO_NEEDED:
                return self._made(subject, box, spot)
            doubtful = doubtful or (box, spot)
        if doubtful:
            return self._made(subject, *doubtful)
        return Unsolved(subject, says.NO_PLACE())

    def _made(self, subject: str, box: Box, spot: BoxSpot | None) -> Proposal:
        named = box.model_copy(update={"id": next(self.names)})
        if spot:
            told = _told([spot])
        else:
            told = says.MORE(n=1, places=_where(box))
        if kept := box.devices[0].dedicated_to:
            told = says.FOR_ALONE(what=told, appliance=kept)
        return Proposal(subject, (named,), told, says.ONE_RECEPTACLE())

    def _in_order(
        self, trial: Trial, room: Room, height: float, near: Point | None, device: Device
    ) -> Iterator[tuple[Place, BoxSpot | None]]:
        there = trial.site.boxes_in[room.id]
        if device.dedicated_to == "door opener" and room.walls:
            plan = trial.site.plans[room.id]
            points = ceiling_points(room, plan, there)
            for point in sorted(points, key=lambda p: _far(p, near)):
                yield in_ceiling(point), None
        own = device.dedicated_to is not None
        spacing = self.wants.stud_spacing_mm
        on_walls = list(spots(room, there, height, spacing, behind=own))
        if near is not None:
            plan = trial.site.plans[room.id]
            on_walls.sort(key=lambda s: (_far(plan.at(s.wall, s.at), near), s.blocking))
        for spot in on_walls:
            yield (on_wall(spot, height), spot)
        if not room.walls:
            yield InSpace(surface="space", accessible=True), None


def _first_sink(room: Room, facts: SinkFacts) -> Fixture:
    """The first sink of the room that the finding is about."""
    return next(each for each in room.fixtures or () if each.id in facts.sinks)


def _nearer(before: Finding, after: Finding) -> bool:
    """Whether a count that is still short came nearer to what is asked."""
    return _counted(after) > _counted(before)


def _counted(finding: Finding) -> int:
    """How many receptacles a rule counted that requires a number of them."""
    facts = getattr(finding.facts, "count", finding.facts)
    return len(getattr(facts, "has", ()))


def _middle_of(trial: Trial, room: Room, place: Fixture) -> Point | None:
    if place.wall is None or place.at_mm is None or not room.walls:
        return None
    along = place.at_mm + (place.width_mm or 0.0) / 2
    out = 0.0
    if place.kind is FixtureKind.DOOR_OPENER:
        out = (place.depth_mm or USUAL_DEPTH_MM) / 2
    return trial.site.plans[room.id].at(place.wall, along, out)


def _bay(trial: Trial, room: Room) -> int | None:
    """The first vehicle bay without a receptacle; None where the bays are not recorded yet."""
    bays = room.vehicle_bays
    if not bays:
        return None
    taken = set()
    for box in trial.site.receptacles_in[room.id]:
        taken.add(box.bay)
    for bay in range(1, bays + 1):
        if bay not in taken:
            return bay
    return None


def _far(point: Point, near: Point | None) -> float:
    if near:
        return hypot(point[0] - near[0], point[1] - near[1])
    return 0.0


def _told(chosen: Sequence[BoxSpot]) -> Text:
    places = []
    for spot in chosen:
        places.append((spot.wall, spot.at))
    return says.more(places, any(spot.blocking for spot in chosen))


def _where(box: Box) -> Text:
    if box.place.surface == "ceiling":
        return says.IN_CEILING()
    return says.NO_WALLS()


def propose_outdoor_receptacles(house: House, book: Rulebook, wants: Wants) -> list[Found]:
    """A receptacle outdoors, at the front and at the back where the code asks for both."""
    outside = set()
    for room in house.rooms:
        if room.kind in (RoomKind.OUTDOORS, RoomKind.PORCH):
            outside.add(room.id)
    found: list[Found] = []
    if not outside:
        return found
    finder = _Finder(house, book, wants)
    for _ in range(4):
        trial = Trial(finder.house, book, outside)
        short = sorted(trial.short(("outdoor-receptacles",)))
        if not short:
            break
        made = _outdoors(finder, trial, short[0])
        found.append(made)
        if isinstance(made, Unsolved):
            break
        finder.add(made.boxes)
    return found


def _outdoors(finder: _Finder, trial: Trial, key: str) -> Found:
    side = key.partition(":")[2]
    rooms = []
    for room in trial.house.rooms:
        if side == "house" or room.side in (side, None):
            rooms.append(room)
    rooms.sort(key=lambda room: (not room.from_grade, room.kind is RoomKind.PORCH))
    tried: Found = Unsolved(key.partition(":")[2], says.NO_SIDE())
    for room in rooms:
        tried = finder.first(trial, room, "outdoor-receptacles", key, RECEPTACLE, OUTSIDE_MM, None)
        if isinstance(tried, Proposal):
            return replace(tried, says=says.IN_ROOM(what=tried.says, room=room.name))
    return tried
