"""Notches cut in joists and studs."""

from collections.abc import Iterator, Mapping

from inspections.checker.asking.framing import part_of, stud_points
from inspections.checker.asking.loose_points import (
    Asked,
    Point,
    is_so,
    judged,
    measure_at_most,
    tapes,
    teller,
)
from inspections.checker.asking.loose_visual import Round

from ..finding import Finding, Rule, Scope, rule
from ..house.cables import Member, Notch
from ..site import HouseByCode

NAME = "notched-framing"
REMEDY = "Have the member reinforced, and bore instead."
WORDS = {
    "joist_percent": Asked("notch in percent of the joist's depth", REMEDY, "at most"),
    "middle_third": Asked("in the middle third of the joist's span", REMEDY),
    "bottom": Asked("cut from below", REMEDY),
    "bearing_percent": Asked(
        "from the bearing to the notch, in percent of the joist's depth", REMEDY, "at most"
    ),
    "stud_bearing_percent": Asked("notch in percent of a bearing stud", REMEDY, "at most"),
    "stud_other_percent": Asked("notch in percent of a stud that bears nothing", REMEDY, "at most"),
    "stud_left_mm": Asked("wood left of a stud that bears nothing", REMEDY, "at least"),
    "bearing": Asked("whether the wall carries load", REMEDY),
}


@rule(
    NAME,
    topic="cables",
    title="Notches in framing",
    tell=teller(WORDS),
    scope=Scope.WIRING,
    tapes=tapes(WORDS, "stud_left_mm"),
)
def notched_framing(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Notches for cables leave joists and studs as strong as the building code asks.

    Plates and engineered members are left to whoever framed the house.
    """
    limits = tuple(site.rulebook.limits_of(NAME))
    if not limits:
        return
    values = {}
    for limit in limits:
        values[limit.name.partition(".")[2]] = limit.value
    here = Round(this, site, limits)
    for notch in site.house.notches:
        yield from here.part(notch, "notch", judged(list(_points(notch, values))))
    yield from here.looks()


def _points(notch: Notch, values: Mapping[str, float]) -> Iterator[Point]:
    depth, member = notch.depth_mm, notch.member_mm
    if notch.member is Member.JOIST:
        yield measure_at_most("joist_percent", part_of(depth, member), values["joist_percent"])
        if "middle_third" in values:
            yield is_so("middle_third", notch.middle_third, bool(values["middle_third"]))
        if "bottom" in values:
            yield is_so("bottom", notch.bottom, bool(values["bottom"]))
        if "bearing_percent" in values:
            off = part_of(notch.bearing_mm, member)
            yield measure_at_most("bearing_percent", off, values["bearing_percent"])
    elif notch.member is Member.STUD:
        if notch.bearing is None:
            light = None
        else:
            light = not notch.bearing
        yield from stud_points(depth, member, light, values)
