"""What a finding is about, read from its facts: boxes, cables and fixtures by their ids.

A rule has a row here, since only it knows which of its facts name what is wrong, what lacks a fact
and what is as it should be. A part of framing, a staple, a support or a bundle has an id of its
own and no recorded place, so its rule has an empty row: an id is never looked up among boxes
unless the row says that it is one of a box.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from inspections.checker.asking.coverage import Lack, Lacking
from inspections.checker.asking.points import PointsFacts
from inspections.checker.asking.visual import PartKind, RoomFacts
from inspections.checker.finding import Finding, Verdict
from inspections.checker.house.boxes import DeviceKind


@dataclass(frozen=True, slots=True)
class Row:
    """Fields of a rule's facts that name parts; a dot reaches into facts within facts."""

    boxes: tuple[str, ...] = ()
    """Whatever the verdict, where the following name nothing."""
    wrong: tuple[str, ...] = ()
    """Boxes that are not to code."""
    lacking: tuple[str, ...] = ()
    """Boxes of which a fact is not recorded yet, or that are to be verified."""
    fine: tuple[str, ...] = ()
    """Boxes by which it is OK."""
    cables: tuple[str, ...] = ()
    """Cables that are seen in the room of the finding."""
    cables_of_circuit: tuple[str, ...] = ()
    """Cables of a circuit, wherever they are."""
    fixtures: tuple[str, ...] = ()
    subject_is_box: bool = False
    """Or equipment, which the subject does not tell."""
    subject_is_fixture: bool = False
    """After its room, where its subject has two parts."""


OF_A_BOX = Row(boxes=("box",))
BOX_POINTS = Row(boxes=("part",))
CABLE_POINTS = Row(cables=("part",))
COUNTED = Row(lacking=("count.missing",), fine=("count.has",))
WITHOUT_PLACE = Row()
"""Framing, what holds cables, panels, circuits at their breakers, and rooms as a whole."""

ROWS: dict[str, Row] = {
    "alarm-circuits": Row(boxes=("alarm",)),
    "alarm-distances": Row(boxes=("alarm",)),
    "alarm-heights": Row(boxes=("alarm",)),
    "alarm-interconnection": Row(boxes=("alarm",)),
    "alarms-tested": Row(boxes=("boxes",)),
    "appliance-receptacles": Row(subject_is_fixture=True),
    "arc-fault-protection": Row(wrong=("bare",), fine=("required",)),
    "bathroom-circuit": Row(boxes=("boxes",)),
    "bathroom-receptacles": Row(fixtures=("sinks",)),
    "bonding-conductors": Row(cables_of_circuit=("small", "without")),
    "bonding-made-up": WITHOUT_PLACE,
    "boots": OF_A_BOX,
    "bored-framing": WITHOUT_PLACE,
    "box-fill": OF_A_BOX,
    "box-flush": BOX_POINTS,
    "box-heights": BOX_POINTS,
    "box-loads": BOX_POINTS,
    "box-openings": BOX_POINTS,
    "box-support": BOX_POINTS,
    "bundling": WITHOUT_PLACE,
    "cabinet-receptacles": OF_A_BOX,
    "cable-bends": CABLE_POINTS,
    "cable-damage": CABLE_POINTS,
    "cable-heat": CABLE_POINTS,
    "cable-support": CABLE_POINTS,
    "carbon-monoxide-alarms": Row(boxes=("alarms",), lacking=("place_missing",)),
    "circuit-paths": Row(boxes=("box",), wrong=("unreached",)),
    "closet-luminaires": OF_A_BOX,
    "communications-boxes": BOX_POINTS,
    "communications-crossing": Row(cables=("communications",)),
    "communications-separation": Row(cables=("communications",)),
    "communications-supports": WITHOUT_PLACE,
    "conductor-and-breaker": Row(cables_of_circuit=("cable",)),
    "counter-circuits": Row(boxes=("boxes",), wrong=("small", "others"), lacking=("unread",)),
    "counter-heights": OF_A_BOX,
    "counter-receptacles": Row(boxes=("box",), lacking=("missing",)),
    "deck-receptacles": COUNTED,
    "edge-distance": CABLE_POINTS,
    "electrode-conductors": WITHOUT_PLACE,
    "electrodes": WITHOUT_PLACE,
    "emergency-disconnect": WITHOUT_PLACE,
    "equipment-receptacles": Row(fine=("here",)),
    "exposed-cables": CABLE_POINTS,
    "finish-devices": Row(boxes=("boxes",)),
    "finish-luminaires": Row(boxes=("boxes",)),
    "foyer-receptacles": Row(lacking=("count.missing",)),
    "free-conductors": BOX_POINTS,
    "garage-circuit": Row(boxes=("boxes",)),
    "garage-receptacles": COUNTED,
    "ground-fault-protection": OF_A_BOX,
    "hallway-receptacles": Row(lacking=("height_missing",), fine=("counted", "receptacles")),
    "intersystem-bonding": WITHOUT_PLACE,
    "laundry-circuit": Row(boxes=("boxes",)),
    "laundry-receptacles": COUNTED,
    "lighting-outlets": Row(wrong=("lights",), lacking=("loose",), fine=("outlets",)),
    "location-plates": BOX_POINTS,
    "metal-framing": CABLE_POINTS,
    "multiwire-circuits": WITHOUT_PLACE,
    "notched-framing": WITHOUT_PLACE,
    "outdoor-circuit": Row(boxes=("boxes",)),
    "outdoor-receptacles": COUNTED,
    "outlets-per-circuit": WITHOUT_PLACE,
    "outside-door-lights": WITHOUT_PLACE,
    "own-circuits": Row(subject_is_box=True),
    "panel-directory": WITHOUT_PLACE,
    "panel-handles": WITHOUT_PLACE,
    "panel-places": WITHOUT_PLACE,
    "panel-rough-in": WITHOUT_PLACE,
    "panel-spaces": WITHOUT_PLACE,
    "panel-working-space": WITHOUT_PLACE,
    "pipe-bonding": WITHOUT_PLACE,
    "protection-tested": WITHOUT_PLACE,
    "range-dryer-boxes": BOX_POINTS,
    "receptacle-ratings": Row(wrong=("wrong",), lacking=("unread",)),
    "recessed-clearance": BOX_POINTS,
    "recessed-insulation": BOX_POINTS,
    "recessed-joint-boxes": BOX_POINTS,
    "sheath-in-box": BOX_POINTS,
    "small-appliance-circuits": Row(boxes=("boxes",), wrong=("others",)),
    "smoke-alarms": Row(boxes=("alarms",)),
    "stair-switches": Row(boxes=("light",), wrong=("single",), lacking=("unclear",)),
    "stand-offs": WITHOUT_PLACE,
    "staples": WITHOUT_PLACE,
    "storage-lighting": Row(wrong=("dark",), lacking=("unclear",), fine=("lit",)),
    "surge-protection": WITHOUT_PLACE,
    "switch-neutrals": OF_A_BOX,
    "tamper-resistance": Row(wrong=("plain",), lacking=("unseen",), fine=("marked",)),
    "traveller-conductors": Row(boxes=("switch",)),
    "tub-luminaires": OF_A_BOX,
    "tub-receptacles": OF_A_BOX,
    "tub-switches": OF_A_BOX,
    "utility-receptacles": COUNTED,
    "wall-receptacles": Row(lacking=("missing",)),
    "wide-box-support": OF_A_BOX,
}

OF_WALLS = (Lack.SWING, Lack.SILL)
"""What may be missing of a door or window: its id is that of a wall."""
FRAMING = ("hole/", "notch/")
"""How a subject starts that is a part of framing, of a rule that is about cables as well."""


@dataclass(frozen=True, slots=True)
class PartsNamed:
    """What a finding names, by ids."""

    boxes: tuple[str, ...] = ()
    cables: tuple[str, ...] = ()
    """In the room of the finding."""
    cables_of_circuit: tuple[str, ...] = ()
    """Anywhere."""
    fixtures: tuple[str, ...] = ()
    """In the room of the finding, but for those that part a counter."""


def parts_of(finding: Finding) -> PartsNamed:
    """What a finding is about, by the facts of its rule; the ids need not be those of a house."""
    facts = finding.facts
    if isinstance(facts, RoomFacts):
        return PartsNamed(boxes=_boxes_waiting(facts))
    if finding.subject.startswith(FRAMING):
        return PartsNamed()
    row = ROWS[finding.rule.id]
    if row is CABLE_POINTS and (ends := _ends_at_fault(facts)):
        return PartsNamed(boxes=ends)
    chosen = {
        Verdict.NOT_TO_CODE: row.wrong,
        Verdict.INFO_NEEDED: row.lacking,
        Verdict.VERIFY: row.lacking,
        Verdict.OK: row.fine,
    }[finding.verdict]
    boxes = _ids(facts, chosen) or _ids(facts, row.boxes)
    fixtures = _ids(facts, row.fixtures)
    _, _, within = finding.subject.partition("/")
    if row.subject_is_fixture and within:
        fixtures = (within,)
    if row.subject_is_box:
        boxes = (finding.subject,)
    cables, far = _ids(facts, row.cables), _ids(facts, row.cables_of_circuit)
    return PartsNamed(boxes, cables, far, fixtures)


def _ends_at_fault(facts: PointsFacts) -> tuple[str, ...]:
    """The ends of a cable that are at fault; none when it is at fault elsewhere as well."""
    wrong = [point for point in facts.points if point.holds is False]
    unknown = [point for point in facts.points if point.holds is None]
    ends = {point.at for point in wrong or unknown}
    if "" in ends:
        return ()
    return tuple(sorted(ends))


def _boxes_waiting(facts: RoomFacts) -> tuple[str, ...]:
    """The boxes that wait for eyes in a room; none when anything without a place waits as well."""
    boxes = []
    for part in facts.parts:
        if part.kind is not PartKind.BOX:
            return ()
        boxes.append(part.id)
    return tuple(sorted(boxes))


def _ids(facts: Any, fields: Iterable[str]) -> tuple[str, ...]:
    """The ids in the fields that these facts have, each once."""
    ids: set[str] = set()
    for field in fields:
        ids.update(_ids_of(_reached(facts, field)))
    ids.discard("")
    return tuple(sorted(ids))


def _reached(facts: Any, field: str) -> Any:
    for name in field.split("."):
        facts = getattr(facts, name, None)
    return facts


def _ids_of(value: Any) -> Iterator[str]:
    """Ids in a value: an id, something that has one of a box or cable, or several of these."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple | frozenset):
        for each in value:
            yield from _ids_of(each)
    elif isinstance(value, Lacking):
        if value.what not in OF_WALLS:
            yield value.part
    elif isinstance(getattr(value, "kind", None), DeviceKind):
        yield value.id
    else:
        for name in ("box", "outlet", "cable"):
            if hasattr(value, name):
                yield getattr(value, name)
                return
