"""Boxes suited to what hangs on them: fans and heavy luminaires."""

from collections.abc import Iterator

from inspections.checker.asking.loose_points import (
    DUST,
    Asked,
    Point,
    is_so,
    judged,
    measure_at_most,
    teller,
)
from inspections.checker.asking.loose_visual import Judged, boxes_judged

from ..finding import Finding, Rule, Scope, rule
from ..house.boxes import Box, Device, DeviceKind, OnCeiling
from ..site import HouseByCode

NAME = "box-loads"
HUNG = (DeviceKind.LUMINAIRE, DeviceKind.CEILING_FAN)
APART = "Carry it by framing and not by the box."
WORDS = {
    "luminaire_kg": Asked("luminaire that hangs on the box", APART, "at most"),
    "fan_plain_kg": Asked("fan on a box without a marked weight", APART, "at most"),
    "fan_kg": Asked("fan that hangs on the box", APART, "at most"),
    "fan_under_kg": Asked("fan that hangs on the box", APART, "under"),
    "holds_kg": Asked("weight against the mark on the box", APART, "at most"),
    "marked": Asked("box marked to carry a fan", "Put in a box that is marked for a fan."),
    "spare_switched": Asked(
        "box marked to carry a fan, for its spare switched conductor",
        "Put in a box that is marked for a fan.",
    ),
    "held_apart": Asked("carried by framing", APART),
}


@rule(
    NAME,
    topic="boxes",
    title="Boxes suited to what hangs on them",
    tell=teller(WORDS),
    scope=Scope.ROOM,
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
            return judged([is_so("held_apart", True)])
        points = _hung_points(box, values)
        if box.spare_switched and values.get("spare_switched") and not _has_fan(box):
            points.append(is_so("spare_switched", box.fan_marked))
        return judged(points, held_apart=box.held_apart)

    spare = bool(values.get("spare_switched"))
    boxes = (box for box in site.house.boxes if _asked(box, spare))
    yield from boxes_judged(this, site, boxes, judge, limits)


def _hung_points(box: Box, values: dict[str, float]) -> list[Point]:
    """The points of all that hangs there; framing may hold it where nobody looked."""
    points: list[Point] = []
    for device in box.devices:
        if device.kind in HUNG:
            points += _points(box, device, values)
    if box.held_apart is None and any(point.holds is False for point in points):
        points = [point._replace(holds=point.holds or None, eyes=True) for point in points]
        points.append(is_so("held_apart", None))
    return points


def _has_fan(box: Box) -> bool:
    for device in box.devices:
        if device.kind is DeviceKind.CEILING_FAN:
            return True
    return False


def _asked(box: Box, spare: bool) -> bool:
    if any(device.kind in HUNG and not device.recessed for device in box.devices):
        return True
    return spare and bool(box.spare_switched) and isinstance(box.place, OnCeiling)


def _points(box: Box, device: Device, values: dict[str, float]) -> Iterator[Point]:
    weight, mark = device.weight_kg, box.holds_kg
    if device.kind is not DeviceKind.LUMINAIRE:
        yield from _fan_points(box, weight, values)
    elif mark is None:
        yield measure_at_most("luminaire_kg", weight, values["luminaire_kg"])
    else:
        yield measure_at_most("holds_kg", weight, mark)


def _fan_points(box: Box, weight: float | None, values: dict[str, float]) -> Iterator[Point]:
    """A fan's box is marked for fans, and for its weight where it is heavy."""
    yield is_so("marked", box.fan_marked)
    mark, plain = box.holds_kg, values.get("fan_plain_kg")
    if mark is not None:
        yield measure_at_most("holds_kg", weight, mark, eyes=False)
    elif plain is not None and weight is not None and weight > plain + DUST:
        yield measure_at_most("fan_plain_kg", weight, plain)
    if "fan_kg" in values:
        yield measure_at_most("fan_kg", weight, values["fan_kg"], eyes=False)
    under = values.get("fan_under_kg")
    if under is not None:
        holds = None
        if weight is not None:
            holds = weight < under - DUST
        yield Point("fan_under_kg", weight, under, holds, eyes=False)
