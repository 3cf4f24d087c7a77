"""Smoke and carbon monoxide alarms where the rulebook asks for them and none is."""

from collections.abc import Iterator

from config.messages.message import Listed, Text
from inspections.checker.asking.alarms import NOT_LIVED_IN, AlarmPlace
from inspections.checker.finding import Finding, Verdict, rules
from inspections.checker.house import House
from inspections.checker.house.boxes import Box, Device, DeviceKind, OnCeiling, Place, Sensor
from inspections.checker.house.nouns import noun
from inspections.checker.house.rooms import Room, RoomKind
from inspections.checker.rulebook import Rulebook
from inspections.checker.rules.carbon_monoxide_alarms import CarbonMonoxideFacts
from inspections.checker.rules.smoke_alarms import SmokeAlarmFacts
from inspections.checker.site import HouseByCode

from . import proposal_messages as says
from .places import free_names
from .proposal import Found, Proposal, ProposalKind, Unsolved, with_proposals
from .trial import Trial, box_of, ceiling_points, in_ceiling
from .wants import Wants

SMOKE, MONOXIDE = "smoke-alarms", "carbon-monoxide-alarms"
GUARDS = ("alarm-distances", "alarm-heights")
DAMP = (RoomKind.BATHROOM, RoomKind.WASHROOM, RoomKind.KITCHEN, RoomKind.LAUNDRY, RoomKind.CLOSET)
FIRST = (RoomKind.HALLWAY, RoomKind.ENTRY, RoomKind.STAIR, RoomKind.BASEMENT, RoomKind.LIVING)
TRIED = 60  # points of a ceiling


def propose_alarms(house: House, book: Rulebook, _wants: Wants) -> list[Found]:
    """An alarm for each place that lacks one; combined ones where carbon monoxide is asked too."""
    maker = _Maker(house, book)
    return [*maker.smoke(), *maker.monoxide()]


class _Maker:
    def __init__(self, house: House, book: Rulebook) -> None:
        self.house, self.book = house, book
        self.given_up: set[str] = set()
        self.both = {f.subject for f in self.short(MONOXIDE)}

    def short(self, rule: str) -> list[Finding]:
        findings: list[Finding] = []
        for finding in rules()[rule].check(HouseByCode(self.house, self.book)):
            if finding.verdict is Verdict.NOT_TO_CODE:
                findings.append(finding)
        return findings

    def smoke(self) -> Iterator[Found]:
        for _ in range(len(self.house.rooms) + 2 * len(self.house.storeys)):
            finding = self.next_smoke()
            if finding is None:
                break
            both = finding.subject in self.both
            yield self.made(finding, DeviceKind.COMBINED_ALARM if both else DeviceKind.SMOKE_ALARM)

    def next_smoke(self) -> Finding | None:
        """The first place that lacks a smoke alarm and was not given up."""
        for finding in self.short(SMOKE):
            if finding.subject not in self.given_up:
                return finding
        return None

    def monoxide(self) -> Iterator[Found]:
        for finding in self.short(MONOXIDE):
            if finding.subject in {f.subject for f in self.short(MONOXIDE)}:
                yield self.made(finding, DeviceKind.CO_ALARM)

    def made(self, finding: Finding, kind: DeviceKind) -> Found:
        subject = f"{kind.value.replace('_', ' ')}/{finding.subject}"
        boxes: list[Box] = []
        for room in self.rooms(finding):
            box = self.placed(room, kind, boxes)
            if box is not None:
                boxes.append(box)
                if not _hallways(finding):
                    break
        if not boxes:
            self.given_up.add(finding.subject)
            return Unsolved(subject, says.NO_ALARM(), ProposalKind.ALARMS)
        names = Listed(tuple(self.room_name(box.room) for box in boxes))
        told = says.ALARM(alarm=noun(kind), rooms=names)
        proof = self.required(finding)
        if len(boxes) > 1:
            proof = says.ALARM_EACH()
        proposal = Proposal(subject, tuple(boxes), told, proof, ProposalKind.ALARMS)
        self.house = with_proposals(self.house, [proposal])
        return proposal

    def required(self, finding: Finding) -> Text:
        """Where an alarm is required, as a person would say it."""
        facts: SmokeAlarmFacts | CarbonMonoxideFacts = finding.facts
        if facts.place is AlarmPlace.BEDROOM:
            return says.ALARM_IN(room=self.room_name(facts.at))
        storey = next(each.name for each in self.house.storeys if each.id == facts.at)
        if facts.place is AlarmPlace.OUTSIDE:
            return says.ALARM_OUTSIDE(storey=storey)
        return says.ALARM_ON(storey=storey)

    def room_name(self, room: str) -> str:
        """What somebody called a room."""
        return next(each.name for each in self.house.rooms if each.id == room)

    def rooms(self, finding: Finding) -> list[Room]:
        """The rooms in which an alarm would serve, the best first."""
        place, _, storey = finding.subject.partition("/")
        if not storey:
            return [room for room in self.house.rooms if room.id == place]
        lived_in: list[Room] = []
        halls: list[Room] = []
        for room in self.house.rooms:
            if room.storey != storey:
                continue
            if room.kind is RoomKind.HALLWAY:
                halls.append(room)
            if room.kind not in NOT_LIVED_IN:
                lived_in.append(room)
        if place == "outside":
            lived_in = halls or _without_bedrooms(lived_in)
        return sorted(lived_in, key=_preference)

    def placed(self, room: Room, kind: DeviceKind, more: list[Box]) -> Box | None:
        """A box for it in the ceiling where no rule finds it too near to anything."""
        taken = {box.id for box in more}
        name = next(n for n in free_names(self.house, "alarm") if n not in taken)
        sensor: Sensor | None = Sensor.PHOTOELECTRIC
        if kind is DeviceKind.CO_ALARM:
            sensor = None
        device = Device(kind=kind, sensor=sensor, battery=True)
        if not room.walls:
            return box_of(name, room, OnCeiling(surface="ceiling"), device)
        storey = set()
        for each in self.house.rooms:
            if each.storey == room.storey:
                storey.add(each.id)
        trial = Trial(self.house, self.book, storey)
        before = trial.short(GUARDS)
        points = ceiling_points(room, trial.site.plans[room.id], trial.site.boxes_in[room.id])
        for point in points[:: max(1, len(points) // TRIED)]:
            place: Place = in_ceiling(point)
            box = box_of(name, room, place, device)
            if not trial.short(GUARDS, [box]) - before:
                return box
        return None


def _hallways(finding: Finding) -> int:
    """The hallways that smoke alarms serve; carbon monoxide alarms are not counted by them."""
    facts = finding.facts
    if isinstance(facts, SmokeAlarmFacts):
        return facts.hallways
    return 0


def _without_bedrooms(rooms: list[Room]) -> list[Room]:
    others: list[Room] = []
    for room in rooms:
        if room.kind is not RoomKind.BEDROOM:
            others.append(room)
    return others


def _preference(room: Room) -> tuple[int, int, str]:
    if room.kind in FIRST:
        rank = FIRST.index(room.kind)
    else:
        rank = len(FIRST)
    return int(room.kind in DAMP), rank, room.id
