"""Lights in clothes closets, away from what is kept there."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import partial

from config.messages.message import Joined, Length, Listed, Message, Text, Value, message
from inspections.checker.asking.fixing import choice, figure, light_path, moved
from inspections.checker.asking.points import EITHER_WAY, figure_rounding, limit_rounding
from inspections.checker.asking.visual import Judged, RoomFacts, boxes_judged, room_words
from inspections.checker.geometry.intervals import EPSILON
from inspections.checker.graph.lights import is_light
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, Device, DeviceKind, Lamp, Mounting, OnWall
from ..house.rooms import OpeningKind, Room, RoomKind
from ..measures import Comparator, HasFigures, Tape
from ..rulebook import Rulebook
from ..site import HouseByCode

NAME = "closet-luminaires"
DOORWAYS = (OpeningKind.DOOR, OpeningKind.SLIDING_DOOR, OpeningKind.OPENING)
MOUNTINGS: dict[Mounting, Message] = {
    Mounting.SURFACE: message(f"{NAME}.surface", "surface-mounted"),
    Mounting.RECESSED: message(f"{NAME}.recessed", "recessed"),
    Mounting.PENDANT: message(f"{NAME}.pendant", "pendant"),
}
LAMPS: dict[Lamp, Message] = {
    Lamp.INCANDESCENT: message(f"{NAME}.incandescent", "incandescent"),
    Lamp.FLUORESCENT: message(f"{NAME}.fluorescent", "fluorescent"),
    Lamp.LED: message(f"{NAME}.led", "LED"),
}
KIND = message(f"{NAME}.kind", "{mounting} {lamp}")
AWAY = message(f"{NAME}.away", "Light {box} is {away} from the storage space; {limit} minimum.")
PLACED = message(
    f"{NAME}.placed", "Light {box} is on the ceiling or above the door, and no pendant."
)
HANGS = message(f"{NAME}.hangs", "Light {box} is a pendant; none is allowed in a clothes closet.")
ON_WALL = message(f"{NAME}.on-wall", "Light {box} is on a wall, and not above the door.")
LIMIT = message(f"{NAME}.limit", "{kind}: {limit} minimum")
MOUNTING = message(f"{NAME}.mounting", "how light {box} is mounted")
LAMP = message(f"{NAME}.lamp", "the lamp of light {box}")
DISTANCE = message(f"{NAME}.distance", "how far light {box} is from the storage space")
VERIFY = message(f"{NAME}.verify", "No pendants; lights are on the ceiling or above the door.")
VERIFY_CLEAR = message(f"{NAME}.verify-clear", "Minimum to the storage space: {limits}.")
FOR = message(f"{NAME}.for", "{limit} for {kinds}")
TAPE = message(f"{NAME}.tape", "from the light to the storage space")
NEAR_FIX = message(f"{NAME}.near.remedy", "Move it farther from the shelves and the rod.")
HANGS_FIX = message(f"{NAME}.hangs.remedy", "Replace it with a surface-mounted or recessed light.")
ON_WALL_FIX = message(f"{NAME}.on-wall.remedy", "Move it to the ceiling or above the door.")


class ClosetLightFault(StrEnum):
    """Why a light may not be where it is."""

    NEAR = "near"
    PENDANT = "pendant"
    WALL = "wall"


@dataclass(frozen=True, slots=True)
class ClosetLightFacts:
    """A light in a clothes closet; `required_mm` is None where no distance is known for it."""

    box: str
    mounting: Mounting | None
    lamp: Lamp | None
    required_mm: float | None
    clear_mm: float | None
    fault: ClosetLightFault | None


def tell(finding: Finding) -> FindingWords:
    """Where the light is, how it is mounted and how far from storage."""
    facts = finding.facts
    if isinstance(facts, RoomFacts):
        return _room(finding)
    figure: Value = ""
    limit: Value = ""
    if facts.required_mm is not None and facts.fault in (None, ClosetLightFault.NEAR):
        limit = Length(facts.required_mm, limit_rounding(Comparator.AT_LEAST))
        holds = facts.fault is None
        figure = Length(facts.clear_mm, figure_rounding(Comparator.AT_LEAST, holds))
    working = [*_working(facts, limit), *_either_way(facts, bool(_tables(finding)))]
    return FindingWords(_says(facts, figure, limit), figure, limit, tuple(working), _remedy(facts))


def _says(facts: ClosetLightFacts, figure: Value, limit: Value) -> Text:
    if facts.fault is ClosetLightFault.PENDANT:
        return HANGS(box=facts.box)
    if facts.fault is ClosetLightFault.WALL:
        return ON_WALL(box=facts.box)
    if figure == "":
        return PLACED(box=facts.box)
    return AWAY(box=facts.box, away=figure, limit=limit)


def _remedy(facts: ClosetLightFacts) -> Value:
    match facts.fault:
        case ClosetLightFault.NEAR:
            return NEAR_FIX()
        case ClosetLightFault.PENDANT:
            return HANGS_FIX()
        case ClosetLightFault.WALL:
            return ON_WALL_FIX()
        case None:
            return ""


def _kind(mounting: Mounting, lamp: Lamp | None) -> Text:
    """What kind of light it is: surface-mounted LED."""
    if lamp is None:
        return MOUNTINGS[mounting]()
    return KIND(mounting=MOUNTINGS[mounting](), lamp=LAMPS[lamp]())


def _working(facts: ClosetLightFacts, limit: Value) -> Iterator[Text]:
    if facts.mounting is not None:
        kind = _kind(facts.mounting, facts.lamp)
        yield kind if limit == "" else LIMIT(kind=kind, limit=limit)


def _either_way(facts: ClosetLightFacts, by_distance: bool) -> Iterator[Text]:
    """What is missing without making a difference, where the code asks for it."""
    missing = []
    if facts.mounting is None:
        missing.append(MOUNTING(box=facts.box))
    if by_distance and facts.lamp is None:
        missing.append(LAMP(box=facts.box))
    if by_distance and facts.clear_mm is None:
        missing.append(DISTANCE(box=facts.box))
    if missing:
        yield EITHER_WAY(what=Listed(tuple(missing)))


def _tables(finding: HasFigures) -> dict[Mounting, dict[Lamp, float]]:
    """How far each kind of light must be, where the code has distances."""
    tables: dict[Mounting, dict[Lamp, float]] = {}
    for limit in finding.limits:
        for mounting in MOUNTINGS:
            if limit.name == f"{NAME}.{mounting.value}_mm":
                tables[mounting] = {Lamp(lamp): float(mm) for lamp, mm in limit.value.items()}
    return tables


def _room(finding: Finding) -> FindingWords:
    """What to verify of the lights of a closet: the kinds that must be farthest first."""
    kinds: dict[float, list[Text]] = {}
    for mounting, table in _tables(finding).items():
        if len(set(table.values())) == 1:
            kinds.setdefault(min(table.values()), []).append(_kind(mounting, None))
            continue
        for lamp, mm in table.items():
            kinds.setdefault(mm, []).append(_kind(mounting, lamp))
    checks = [VERIFY()]
    limits = []
    said = []
    for mm in sorted(kinds, reverse=True):
        limit = Length(mm, limit_rounding(Comparator.AT_LEAST))
        limits.append(limit)
        said.append(FOR(limit=limit, kinds=Listed(tuple(kinds[mm]))))
    if not said:
        return room_words(finding.facts, checks)
    checks.append(VERIFY_CLEAR(limits=Joined(tuple(said), "; ")))
    return room_words(finding.facts, checks, Joined(tuple(limits), "; "))


def _least(finding: HasFigures) -> float | None:
    """How far it must be; for a whole room, what no kind of light may be nearer than."""
    if isinstance(finding.facts, ClosetLightFacts):
        return finding.facts.required_mm
    clearances: list[float] = []
    for table in _tables(finding).values():
        clearances.extend(table.values())
    return min(clearances, default=None)


def _fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """Another way of mounting it, another place, or farther from where clothes are kept."""
    facts = finding.facts
    if not isinstance(facts, ClosetLightFacts):
        return
    light = light_path(house, facts.box)
    match facts.fault:
        case ClosetLightFault.PENDANT:
            yield choice((*light, "mounting"), (Mounting.SURFACE.value, Mounting.RECESSED.value))
        case ClosetLightFault.WALL:
            yield moved(facts.box)
        case ClosetLightFault.NEAR:
            yield figure((*light, "from_storage_mm"), facts.required_mm, taped=True)


@rule(
    NAME,
    topic="lighting",
    title="Lights in clothes closets",
    tell=tell,
    scope=Scope.ROOM,
    tapes=(Tape(TAPE, Comparator.AT_LEAST, "surface_mm", _least),),
    facts=ClosetLightFacts | RoomFacts,
    fixes=_fixes,
)
def closet_luminaires(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A light in a clothes closet is in the ceiling or on the wall above the door, no pendant.

    Where a code gives distances, they run from the light to the space where clothes hang and boxes
    are kept, by how it is mounted and its lamp. What is not measured yet is verified with a tape.
    """
    book = site.rulebook
    if not book.value(f"{NAME}.above_door"):
        return
    boxes = []
    for room in site.house.rooms:
        if room.kind is RoomKind.CLOSET:
            for box in site.boxes_in[room.id]:
                if is_light(box):
                    boxes.append(box)
    limits = tuple(book.limits_of(NAME))
    yield from boxes_judged(this, site, boxes, partial(_judged, site), limits)


def _judged(site: HouseByCode, box: Box) -> Judged:
    book = site.rulebook
    light = next(each for each in box.devices if each.kind is DeviceKind.LUMINAIRE)
    required, clear = _required(book, light), light.from_storage_mm
    fault = _misplaced(book, site.rooms[box.room], box, light)
    verdict = Verdict.OK
    if fault is not None:
        verdict = Verdict.NOT_TO_CODE
    elif light.mounting is None:
        verdict = Verdict.VERIFY
    elif f"{NAME}.surface_mm" in book:
        verdict = _by_distance(required, clear)
        if verdict is Verdict.NOT_TO_CODE:
            fault = ClosetLightFault.NEAR
    return verdict, ClosetLightFacts(box.id, light.mounting, light.lamp, required, clear, fault)


def _by_distance(required: float | None, clear: float | None) -> Verdict:
    """Whether it is far enough from where clothes and boxes are kept."""
    if required is None or clear is None:
        return Verdict.VERIFY
    if clear >= required - EPSILON:
        return Verdict.OK
    return Verdict.NOT_TO_CODE


def _misplaced(book: Rulebook, room: Room, box: Box, light: Device) -> ClosetLightFault | None:
    """Why the light may not be there at any distance; None when it may."""
    if isinstance(box.place, OnWall) and not _above_door(room, box.place):
        return ClosetLightFault.WALL
    if light.mounting is Mounting.PENDANT and not book.value(f"{NAME}.pendant"):
        return ClosetLightFault.PENDANT
    return None


def _required(book: Rulebook, light: Device) -> float | None:
    """How far it must be; None when its mounting or lamp is missing and makes a difference."""
    recessed = light.mounting is Mounting.RECESSED
    table = book.value(f"{NAME}.{'recessed' if recessed else 'surface'}_mm")
    if table is None or light.mounting is None:
        return None
    if light.lamp is not None:
        return float(table[light.lamp.value])
    figures = set()
    for each in table.values():
        figures.add(float(each))
    if len(figures) == 1:
        return figures.pop()
    return None


def _above_door(room: Room, place: OnWall) -> bool:
    for wall in room.walls:
        if wall.id == place.wall:
            for opening in wall.openings:
                if (
                    opening.kind in DOORWAYS
                    and opening.at_mm - EPSILON
                    <= place.at_mm
                    <= opening.at_mm + opening.width_mm + EPSILON
                ):
                    return True
    return False
