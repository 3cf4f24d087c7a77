"""Boxes suited to what hangs on them: fans and heavy luminaires."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from config.messages.message import message
from inspections.checker.asking.fixing import done, figure
from inspections.checker.asking.points import (
    DUST,
    Point,
    PointsFacts,
    PointWords,
    at_most,
    is_so,
    judged,
    point_words,
    teller,
)
from inspections.checker.asking.visual import Judged, RoomFacts, boxes_judged
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, Rule, Scope, rule
from ..house.boxes import Box, Device, DeviceKind, OnCeiling
from ..measures import Comparator
from ..site import HouseByCode

NAME = "box-loads"
HUNG = (DeviceKind.LUMINAIRE, DeviceKind.CEILING_FAN)
NOT_BY_EYE = ("holds_kg", "fan_kg", "fan_under_kg")
"""What a fan weighs is on its papers; a light is weighed on site."""
LIGHT = message(f"{NAME}.light", "Light on box {part} weighs {figure}; {limit} maximum.")
UNMARKED = message(
    f"{NAME}.unmarked",
    "Fan on box {part} weighs {figure}; {limit} maximum without a marked weight.",
)
FAN = message(f"{NAME}.fan", "Fan on box {part} weighs {figure}; {limit} maximum.")
UNDER = message(f"{NAME}.under", "Fan on box {part} weighs {figure}; it must be under {limit}.")
MARKED = message(f"{NAME}.marked", "Box {part} carries {figure}; it is marked for {limit}.")
WEIGHT = message(f"{NAME}.weight", "the weight of what hangs on box {part}")
FAN_RATED = message(f"{NAME}.fan-rated", "Box {part} is marked for a fan.")
FAN_MARK = message(f"{NAME}.fan-mark", "whether box {part} is marked for a fan")
FROM_FRAMING = message(f"{NAME}.from-framing", "Support it from the framing, not from the box.")
NEW_BOX = message(f"{NAME}.new-box", "Install a fan-rated box.")
WORDS = point_words(
    NAME,
    {
        "luminaire_kg": PointWords(
            wrong=LIGHT,
            ok=LIGHT,
            missing=WEIGHT,
            remedy=FROM_FRAMING,
            verify="Lights on boxes without a marked weight: {limit} maximum.",
            way=Comparator.AT_MOST,
        ),
        "fan_plain_kg": PointWords(
            wrong=UNMARKED,
            ok=UNMARKED,
            missing=WEIGHT,
            remedy=FROM_FRAMING,
            verify="Fans on boxes without a marked weight: {limit} maximum.",
            way=Comparator.AT_MOST,
        ),
        "fan_kg": PointWords(
            wrong=FAN,
            ok=FAN,
            missing=WEIGHT,
            remedy=FROM_FRAMING,
            verify="A fan on any box: {limit} maximum.",
            way=Comparator.AT_MOST,
        ),
        "fan_under_kg": PointWords(
            wrong=UNDER,
            ok=UNDER,
            missing=WEIGHT,
            remedy=FROM_FRAMING,
            verify="A fan on a box weighs less than {limit}.",
            way=Comparator.AT_MOST,
        ),
        "holds_kg": PointWords(
            wrong=MARKED,
            ok=MARKED,
            missing=WEIGHT,
            remedy=FROM_FRAMING,
            verify="On a box that is marked for {limit}: no more than that.",
            way=Comparator.AT_MOST,
        ),
        "marked": PointWords(
            wrong="Box {part} carries a fan and is not marked for one.",
            ok=FAN_RATED,
            missing=FAN_MARK,
            remedy=NEW_BOX,
            verify="A box that carries a fan is marked for fans.",
        ),
        "spare_switched": PointWords(
            wrong="Box {part} has a spare switched conductor and is not marked for a fan.",
            ok=FAN_RATED,
            missing=FAN_MARK,
            remedy=NEW_BOX,
            verify="A ceiling box with a spare switched conductor is marked for fans.",
        ),
        "held_apart": PointWords(
            wrong="What hangs on box {part} is not carried by framing.",
            ok="What hangs on box {part} is carried by framing.",
            missing="whether framing carries what hangs on box {part}",
            remedy=FROM_FRAMING,
            verify="Anything heavier is carried by framing.",
        ),
    },
)


@dataclass(frozen=True, slots=True)
class BoxLoadFacts(PointsFacts):
    """What hangs on a box, and whether framing carries it instead."""

    held_apart: bool | None


def _fixes(finding: Finding, _house: House) -> Iterator[Fix]:
    """Hung from framing, or a box that is marked for the weight or for a fan."""
    facts = finding.facts
    if not isinstance(facts, BoxLoadFacts):
        return
    for point in facts.points:
        if point.holds:
            continue
        if point.name in ("marked", "spare_switched"):
            yield done(("boxes", facts.part, "fan_marked"), point.limit)
        elif isinstance(point.found, float):
            yield figure(("boxes", facts.part, "holds_kg"), least=point.found)
    yield done(("boxes", facts.part, "held_apart"))


@rule(
    NAME,
    topic="boxes",
    title="Boxes for lights and fans",
    tell=teller(WORDS),
    scope=Scope.ROOM,
    facts=BoxLoadFacts | RoomFacts,
    workmanship=True,
    fixes=_fixes,
)
def box_loads(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A box carries a ceiling fan only when marked for it, and no more than its weight allows.

    A heavy luminaire or fan hangs from framing. Where the code says so, a ceiling box with a
    spare switched conductor, for a fan that may come, is marked for a fan as well.
    """
    limits = tuple(site.rulebook.limits_of(NAME))
    if not limits:
        return
    values = {}
    for limit in limits:
        values[limit.name.partition(".")[2]] = limit.value

    def judge(box: Box) -> Judged:
        if box.held_apart:
            return judged(BoxLoadFacts(box.id, (is_so("held_apart", True),), True))
        points = _hung_points(box, values)
        not_by_eye: tuple[str, ...] = ()
        framing_decides = any(point.name == "held_apart" for point in points)
        if _has_unweighed_fan(box) and not framing_decides:
            not_by_eye = NOT_BY_EYE
        if box.spare_switched and values.get("spare_switched") and not _has_fan(box):
            points.append(is_so("spare_switched", box.fan_marked))
        return judged(BoxLoadFacts(box.id, tuple(points), box.held_apart), not_by_eye)

    spare = bool(values.get("spare_switched"))
    boxes = (box for box in site.house.boxes if _is_held(box, spare))
    yield from boxes_judged(this, site, boxes, judge, limits)


def _hung_points(box: Box, values: dict[str, float]) -> list[Point]:
    """The points of all that hangs there; framing may hold it where nobody looked."""
    points: list[Point] = []
    for device in box.devices:
        if device.kind in HUNG:
            points += _points(box, device, values)
    if box.held_apart is None and any(point.holds is False for point in points):
        return [*_undecided(points), is_so("held_apart", None)]
    return points


def _undecided(points: list[Point]) -> Iterator[Point]:
    """The points with every failing one left open."""
    for point in points:
        yield replace(point, holds=point.holds or None)


def _has_fan(box: Box) -> bool:
    for device in box.devices:
        if device.kind is DeviceKind.CEILING_FAN:
            return True
    return False


def _has_unweighed_fan(box: Box) -> bool:
    for device in box.devices:
        if device.kind is DeviceKind.CEILING_FAN and device.weight_kg is None:
            return True
    return False


def _is_held(box: Box, spare: bool) -> bool:
    if any(device.kind in HUNG and not device.recessed for device in box.devices):
        return True
    return spare and bool(box.spare_switched) and isinstance(box.place, OnCeiling)


def _points(box: Box, device: Device, values: dict[str, float]) -> Iterator[Point]:
    weight, mark = device.weight_kg, box.holds_kg
    if device.kind is not DeviceKind.LUMINAIRE:
        yield from _fan_points(box, weight, values)
    elif mark is None:
        yield at_most("luminaire_kg", weight, values["luminaire_kg"])
    else:
        yield at_most("holds_kg", weight, mark)


def _fan_points(box: Box, weight: float | None, values: dict[str, float]) -> Iterator[Point]:
    """A fan's box is marked for fans, and for its weight where it is heavy."""
    yield is_so("marked", box.fan_marked)
    mark, plain = box.holds_kg, values.get("fan_plain_kg")
    if mark is not None:
        yield at_most("holds_kg", weight, mark)
    elif plain is not None and weight is not None and weight > plain + DUST:
        yield at_most("fan_plain_kg", weight, plain)
    if "fan_kg" in values:
        yield at_most("fan_kg", weight, values["fan_kg"])
    under = values.get("fan_under_kg")
    if under is not None:
        holds = None
        if weight is not None:
            holds = weight < under - DUST
        yield Point("fan_under_kg", weight, under, holds)
