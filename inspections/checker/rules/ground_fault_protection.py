"""Ground-fault protection of receptacles by where they are."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from config.messages.message import Length, Listed, Message, Rounding, Text, Value, message
from inspections.checker.asking.fixing import by_ground_fault
from inspections.checker.asking.fixtures import in_counter
from inspections.checker.asking.lines import in_order
from inspections.checker.asking.points import EITHER_WAY, NOT_RECORDED
from inspections.checker.asking.protection import FaultKind, Protector, Shield, ground_fault
from inspections.checker.asking.receptacles import is_general, serves_counter
from inspections.checker.geometry.intervals import EPSILON

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, Device, DeviceKind, OnCounter
from ..house.fixtures import Fixture, FixtureKind
from ..house.nouns import noun
from ..house.rooms import InterruptionKind, Room, RoomKind
from ..house.service import ApplianceKind
from ..rulebook import Limit, Rulebook
from ..site import HouseByCode

NAME = "ground-fault-protection"
WET = frozenset({FixtureKind.BASIN, FixtureKind.TUB, FixtureKind.SHOWER})
WATER = frozenset({RoomKind.BATHROOM, RoomKind.WASHROOM, RoomKind.LAUNDRY})
"""Rooms that have a basin, tub or shower more often than not."""


class GroundFaultCause(StrEnum):
    """Why a receptacle needs protection, the plainest first."""

    ROOM = "room"
    WASHER = "washer"
    COUNTER = "counter"
    APPLIANCE = "appliance"
    COUNTER_SINK = "counter sink"
    NEAR = "near"


class GroundFaultLack(StrEnum):
    """What has to be recorded to say whether it needs protection."""

    FIXTURES = "fixtures"
    WALLS = "walls"
    BOX = "box"
    FIXTURE = "fixture"


REQUIRED: dict[GroundFaultCause, Message] = {
    GroundFaultCause.ROOM: message(f"{NAME}.room", "required in this {room}"),
    GroundFaultCause.WASHER: message(f"{NAME}.washer", "required in a room with a washer"),
    GroundFaultCause.COUNTER: message(f"{NAME}.counter", "required over a kitchen counter"),
    GroundFaultCause.APPLIANCE: message(f"{NAME}.appliance", "required for the {appliance}"),
    GroundFaultCause.COUNTER_SINK: message(
        f"{NAME}.counter-sink", "required on counter {counter}, which has a sink"
    ),
    GroundFaultCause.NEAR: message(
        f"{NAME}.near", "{figure} from {fixture} {id}, required within {limit}"
    ),
}
OUTDOORS = message(f"{NAME}.outdoors", "required outdoors")
OTHER_APPLIANCE = message(f"{NAME}.other-appliance", "required for its appliance")
LACKING: dict[GroundFaultLack, Message] = {
    GroundFaultLack.FIXTURES: message(
        f"{NAME}.missing.fixtures", "the sinks, tubs and showers of room {room}"
    ),
    GroundFaultLack.WALLS: message(f"{NAME}.missing.walls", "the walls of room {room}"),
    GroundFaultLack.BOX: message(f"{NAME}.missing.box", "where receptacle {box} is on the plan"),
    GroundFaultLack.FIXTURE: message(f"{NAME}.missing.fixture", "where {fixture} {id} is"),
}
BARE = message(f"{NAME}.bare", "Receptacle {box} has no {ground_fault} protection: {why}.")
BY: dict[Protector, Message] = {
    Protector.BREAKER: message(
        f"{NAME}.by-breaker", "A {ground_fault} breaker protects receptacle {box}."
    ),
    Protector.RECEPTACLE: message(
        f"{NAME}.by-receptacle", "A {ground_fault} receptacle protects receptacle {box}."
    ),
}
INSTALL = message(
    f"{NAME}.remedy",
    "Install a {ground_fault} breaker, or that kind of receptacle here or upstream.",
)
RECORD_OR_INSTALL = message(f"{NAME}.missing.remedy", "Record it, or protect the receptacle.")
WHY = message(f"{NAME}.why", "{ground_fault} protection: {why}.")
FEEDS = message(f"{NAME}.circuits", "Fed by circuits {circuits}.", one="Fed by circuit {circuits}.")
NO_CIRCUIT = message(f"{NAME}.missing.circuit", "which circuit feeds receptacle {box}")


@dataclass(frozen=True, slots=True)
class GroundFaultReason:
    """A reason why a receptacle needs protection, with what it rests on."""

    cause: GroundFaultCause
    id: str = ""
    """The room, counter or fixture."""
    room: RoomKind | None = None
    appliance: ApplianceKind | None = None
    fixture: FixtureKind | None = None
    at_mm: float | None = None
    within_mm: float | None = None


@dataclass(frozen=True, slots=True)
class GroundFaultMissing:
    """A fact that is missing: of the room, box or fixture with that id."""

    lack: GroundFaultLack
    id: str
    fixture: FixtureKind | None = None


@dataclass(frozen=True, slots=True)
class GroundFaultFacts:
    """Why the receptacles of a box need protection, and what protects them."""

    box: str
    why: frozenset[GroundFaultReason]
    missing: frozenset[GroundFaultMissing]
    by: Protector | None
    circuits: frozenset[str]


@dataclass(frozen=True, slots=True)
class Need:
    """What the code says of a receptacle under a limit: a reason, or what is missing."""

    limit: Limit
    what: GroundFaultReason | GroundFaultMissing


def tell(finding: Finding) -> FindingWords:
    """Why protection is required, and where it comes from."""
    facts: GroundFaultFacts = finding.facts
    term = ground_fault(finding.code)
    every = sorted(facts.why, key=_plainest_first)
    figure: Value = ""
    limit: Value = ""
    remedy: Value = ""
    if finding.verdict is Verdict.INFO_NEEDED:
        says, remedy = NOT_RECORDED(what=_lacking(facts)), RECORD_OR_INSTALL()
    elif facts.by:
        says = BY[facts.by](ground_fault=term, box=facts.box)
    else:
        why = every[0]
        says = BARE(ground_fault=term, box=facts.box, why=_because(why))
        remedy = INSTALL(ground_fault=term)
        figure, limit = _distance(why.at_mm), _within(why.within_mm)
    return FindingWords(says, figure, limit, _working(finding, every), remedy)


def _plainest_first(each: GroundFaultReason) -> tuple[int, float, str]:
    return list(GroundFaultCause).index(each.cause), each.at_mm or 0.0, each.id


def _distance(mm: float | None) -> Value:
    """A distance that is within its limit."""
    return "" if mm is None else Length(mm, Rounding.DOWN)


def _within(mm: float | None) -> Value:
    """A distance within which protection is required; more of them is the safe side."""
    return "" if mm is None else Length(mm, Rounding.UP)


def _because(each: GroundFaultReason) -> Text:
    if each.room is RoomKind.OUTDOORS:
        return OUTDOORS()
    if each.cause is GroundFaultCause.APPLIANCE and each.appliance is None:
        return OTHER_APPLIANCE()
    holes: dict[str, Value] = {
        "counter": each.id,
        "id": each.id,
        "figure": _distance(each.at_mm),
        "limit": _within(each.within_mm),
    }
    kinds = {"room": each.room, "appliance": each.appliance, "fixture": each.fixture}
    for name, kind in kinds.items():
        if kind is not None:
            holes[name] = noun(kind)
    said = REQUIRED[each.cause]
    return said(**{name: holes[name] for name in said.holes})


def _lacking(facts: GroundFaultFacts) -> Listed:
    """What is missing, in a settled order."""
    said: list[Value] = []
    for lack in GroundFaultLack:
        of_it = {each.id: each for each in facts.missing if each.lack is lack}
        for name in in_order(of_it):
            holes: dict[str, Value] = {"room": name, "box": name, "id": name}
            fixture = of_it[name].fixture
            if fixture is not None:
                holes["fixture"] = noun(fixture)
            told = LACKING[lack]
            said.append(told(**{hole: holes[hole] for hole in told.holes}))
    return Listed(tuple(said))


def _working(finding: Finding, every: list[GroundFaultReason]) -> tuple[Value, ...]:
    facts: GroundFaultFacts = finding.facts
    lines: list[Value] = []
    for each in every:
        lines.append(WHY(ground_fault=ground_fault(finding.code), why=_because(each)))
    if facts.missing and finding.verdict is not Verdict.INFO_NEEDED:
        lines.append(EITHER_WAY(what=_lacking(facts)))
    circuits = in_order(facts.circuits)
    if circuits:
        lines.append(FEEDS(circuits=Listed(circuits), n=len(circuits)))
    else:
        lines.append(NOT_RECORDED(what=NO_CIRCUIT(box=facts.box)))
    return tuple(lines)


@rule(
    NAME,
    topic="circuits",
    title="Ground-fault protection",
    tell=tell,
    scope=Scope.PLACED,
    facts=GroundFaultFacts,
    fixes=by_ground_fault,
)
def ground_fault_protection(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Receptacles in damp places and near water have ground-fault protection.

    Some rooms are named outright; elsewhere the distance to a sink, tub or shower of the same room
    counts, on the plan and not through a wall. Protection comes from the breaker, from the
    receptacle itself, or from one before it whose protected side feeds on. Where a fact is missing
    and there is protection all the same, nothing more is required.
    """
    book = site.rulebook
    if f"{NAME}.rooms" not in book:
        return
    shield = Shield(site, FaultKind.GROUND)
    for room in site.asked:
        wet = list(_wet(site, room))
        for box in site.receptacles_in[room.id]:
            found = _box(this, site, shield, room, box, wet)
            if found:
                yield found


def _box(
    this: Rule, site: HouseByCode, shield: Shield, room: Room, box: Box, wet: list[Fixture]
) -> Finding | None:
    devices = []
    needs: list[Need] = []
    for device in box.devices:
        if _rated(site.rulebook, device):
            devices.append(device)
            needs += _needs(site, room, box, device, wet)
    if not needs:
        return None
    by = []
    circuits: set[str] = set()
    for device in devices:
        by.append(shield.of(box, device))
        circuits.update(site.supply.of(box, device))
    why = set()
    missing = set()
    limits = {}
    for need in needs:
        limits[need.limit.name] = need.limit
        if isinstance(need.what, GroundFaultReason):
            why.add(need.what)
        else:
            missing.add(need.what)
    protector = by[0] if all(by) else None
    verdict = Verdict.INFO_NEEDED
    if protector:
        verdict = Verdict.OK
    elif why:
        verdict = Verdict.NOT_TO_CODE
    facts = GroundFaultFacts(
        box.id, frozenset(why), frozenset(missing), protector, frozenset(circuits)
    )
    return Finding(this, box.id, verdict, site.box_spot(box), facts, tuple(limits.values()))


def _rated(book: Rulebook, device: Device) -> bool:
    """Whether a device is a receptacle of a voltage and rating that the code speaks of."""
    if device.kind is not DeviceKind.RECEPTACLE or device.part_of_equipment:
        return False
    high = book.value(f"{NAME}.all_voltages", False)
    return high or (device.poles == 1 and (device.amperes or 0) <= 20)


def _needs(
    site: HouseByCode, room: Room, box: Box, device: Device, wet: list[Fixture]
) -> Iterator[Need]:
    book = site.rulebook
    yield from _by_room(site, room, book[f"{NAME}.rooms"])
    counters = book.get(f"{NAME}.counters")
    if counters and counters.value and _over_kitchen_counter(site, room, box, device):
        yield Need(counters, GroundFaultReason(GroundFaultCause.COUNTER))
    yield from _for_appliance(device, book.get(f"{NAME}.appliances"))
    yield from _near(site, room, box, device, wet)


def _for_appliance(device: Device, appliances: Limit | None) -> Iterator[Need]:
    """An appliance that the code names, by the word that somebody typed for it."""
    word = (device.dedicated_to or "").lower()
    if appliances is None:
        return
    for each in appliances.value:
        if each in word:
            kind = None
            if each in set(ApplianceKind):
                kind = ApplianceKind(each)
            yield Need(appliances, GroundFaultReason(GroundFaultCause.APPLIANCE, appliance=kind))
            return


def _by_room(site: HouseByCode, room: Room, rooms: Limit) -> Iterator[Need]:
    if room.kind in rooms.value:
        yield Need(rooms, GroundFaultReason(GroundFaultCause.ROOM, room.id, room.kind))
    elif _laundry(site, room) and RoomKind.LAUNDRY in rooms.value:
        yield Need(rooms, GroundFaultReason(GroundFaultCause.WASHER, room.id))


def _over_kitchen_counter(site: HouseByCode, room: Room, box: Box, device: Device) -> bool:
    in_kitchen = room.kind is RoomKind.KITCHEN
    return in_kitchen and is_general(device) and serves_counter(site, box)


def _laundry(site: HouseByCode, room: Room) -> bool:
    """Whether a washer stands in a room that has another use as well."""
    for box in site.receptacles_in[room.id]:
        for device in box.devices:
            if (device.dedicated_to or "").lower().startswith("wash"):
                return True
    return False


def _near(
    site: HouseByCode, room: Room, box: Box, device: Device, wet: list[Fixture]
) -> Iterator[Need]:
    limit = site.rulebook.get(f"{NAME}.near_mm")
    spared = site.rulebook.value(f"{NAME}.spares_appliances", False)
    if limit is None or (spared and device.dedicated_to):
        return
    if room.fixtures is None and room.kind in WATER:
        yield Need(limit, GroundFaultMissing(GroundFaultLack.FIXTURES, room.id))
    if isinstance(box.place, OnCounter):
        yield from _with_sink(site, room, box.place, limit)
    elif wet:
        yield from _by_fixtures(site, room, box, wet, limit)


def _with_sink(site: HouseByCode, room: Room, place: OnCounter, limit: Limit) -> Iterator[Need]:
    """A receptacle on a counter is near its sink, wherever along it."""
    counters = site.counters_in[room.id]
    mine = next(counter for counter in counters if counter.id == place.counter)
    if any(item.kind is InterruptionKind.SINK for item in mine.interruptions):
        yield Need(limit, GroundFaultReason(GroundFaultCause.COUNTER_SINK, mine.id))


def _by_fixtures(
    site: HouseByCode, room: Room, box: Box, wet: list[Fixture], limit: Limit
) -> Iterator[Need]:
    """The fixtures that it stands near on the plan, with no wall between."""
    if not room.walls:
        yield Need(limit, GroundFaultMissing(GroundFaultLack.WALLS, room.id))
        return
    plan = site.plans[room.id]
    point = plan.of(box)
    if point is None:
        yield Need(limit, GroundFaultMissing(GroundFaultLack.BOX, box.id))
        return
    for fixture in wet:
        apart = plan.apart(point, fixture)
        if apart is None:
            yield Need(limit, GroundFaultMissing(GroundFaultLack.FIXTURE, fixture.id, fixture.kind))
        elif apart <= limit.value + EPSILON and not plan.walled_off(point, fixture):
            near = GroundFaultReason(
                GroundFaultCause.NEAR,
                fixture.id,
                fixture=fixture.kind,
                at_mm=round(apart, 1),
                within_mm=limit.value,
            )
            yield Need(limit, near)


def _wet(site: HouseByCode, room: Room) -> Iterator[Fixture]:
    """Basins, tubs and showers of a room, and the sinks in its wall counters."""
    for each in room.fixtures or ():
        if each.kind in WET:
            yield each
    for counter in site.counters_in[room.id]:
        for number, item in enumerate(counter.interruptions, 1):
            if item.kind is InterruptionKind.SINK and counter.along:
                yield in_counter(counter, f"{counter.id}.{number}", item, FixtureKind.BASIN)
