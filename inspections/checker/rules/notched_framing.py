"""Notches cut in joists and studs."""

from collections.abc import Iterator, Mapping

from config.messages.message import message
from inspections.checker.asking.cut_fixes import cut_fixes
from inspections.checker.asking.framing import (
    NOT_BY_EYE,
    CutFacts,
    cut_teller,
    part_of,
    stud_points,
)
from inspections.checker.asking.points import (
    Point,
    PointWords,
    at_most,
    is_so,
    judged,
    point_words,
    tapes,
)
from inspections.checker.asking.visual import Judged, PartKind, RoomFacts, Round

from ..finding import Finding, Rule, Scope, rule
from ..house.cables import Member, Notch
from ..measures import Comparator
from ..site import HouseByCode

NAME = "notched-framing"
OF_JOIST = message(
    f"{NAME}.of-joist", "Notch {part} takes {figure} of the joist's depth; {limit} maximum."
)
FROM_BEARING = message(
    f"{NAME}.from-bearing",
    "Notch {part} is {figure} of the joist's depth from the bearing; {limit} maximum.",
)
OF_BEARING_STUD = message(
    f"{NAME}.of-bearing-stud",
    "Notch {part} takes {figure} of the stud; {limit} maximum in a bearing wall.",
)
OF_STUD = message(f"{NAME}.of-stud", "Notch {part} takes {figure} of the stud; {limit} maximum.")
STUD_LEFT = message(
    f"{NAME}.stud-left", "Notch {part} leaves {figure} of the stud; {limit} minimum."
)
SIZES = message(f"{NAME}.sizes", "how deep notch {part} and its member are")
REMEDY = message(f"{NAME}.remedy", "Have the framer reinforce it. Bore holes instead of notching.")
BEARING = message(f"{NAME}.bearing", "whether notch {part} is in a bearing wall")
"""It is only ever missing: where it is recorded, it chooses among the others."""
WORDS = point_words(
    NAME,
    {
        "joist_percent": PointWords(
            wrong=OF_JOIST,
            ok=OF_JOIST,
            missing=SIZES,
            remedy=REMEDY,
            verify="Notches in joists: no deeper than {limit} of the joist.",
            way=Comparator.AT_MOST,
        ),
        "middle_third": PointWords(
            wrong="Notch {part} is in the middle third of the joist's span.",
            ok="Notch {part} is outside the middle third of the joist's span.",
            missing="whether notch {part} is in the middle third of the joist's span",
            remedy=REMEDY,
            verify="No notch is in the middle third of a joist's span.",
        ),
        "bottom": PointWords(
            wrong="Notch {part} is cut in the bottom of the joist.",
            ok="Notch {part} is cut in the top of the joist.",
            missing="whether notch {part} is cut from above",
            remedy=REMEDY,
            verify="Joists are notched from above only.",
        ),
        "bearing_percent": PointWords(
            wrong=FROM_BEARING,
            ok=FROM_BEARING,
            missing="how far notch {part} is from the bearing",
            remedy=REMEDY,
            verify="From the bearing to a notch: {limit} of the joist's depth maximum.",
            way=Comparator.AT_MOST,
        ),
        "stud_bearing_percent": PointWords(
            wrong=OF_BEARING_STUD,
            ok=OF_BEARING_STUD,
            missing=SIZES,
            remedy=REMEDY,
            verify="Notches in bearing studs: no deeper than {limit} of the stud.",
            way=Comparator.AT_MOST,
        ),
        "stud_other_percent": PointWords(
            wrong=OF_STUD,
            ok=OF_STUD,
            missing=SIZES,
            remedy=REMEDY,
            verify="Notches in non-bearing studs: no deeper than {limit} of the stud.",
            way=Comparator.AT_MOST,
        ),
        "stud_left_mm": PointWords(
            wrong=STUD_LEFT,
            ok=STUD_LEFT,
            missing=SIZES,
            remedy=REMEDY,
            verify="Wood left of a non-bearing stud: {limit} minimum.",
            tape="the wood left of a stud that carries no load",
            way=Comparator.AT_LEAST,
        ),
        "bearing": PointWords(
            wrong=BEARING,
            ok=BEARING,
            missing=BEARING,
            remedy=REMEDY,
        ),
    },
)


@rule(
    NAME,
    topic="cables",
    title="Notches in framing",
    tell=cut_teller(WORDS),
    scope=Scope.WIRING,
    tapes=tapes(WORDS, "stud_left_mm"),
    facts=CutFacts | RoomFacts,
    workmanship=True,
    fixes=cut_fixes("notches", "depth_mm"),
)
def notched_framing(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Notches for cables leave joists and studs as strong as the building code requires.

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
        yield from here.part(notch, PartKind.NOTCH, _judged(notch, values))
    yield from here.rooms_to_verify()


def _judged(notch: Notch, values: Mapping[str, float]) -> Judged:
    points = tuple(_points(notch, values))
    sizes = (notch.depth_mm, notch.member_mm, notch.bearing_mm)
    return judged(CutFacts(notch.id, points, *sizes), NOT_BY_EYE)


def _points(notch: Notch, values: Mapping[str, float]) -> Iterator[Point]:
    depth, member = notch.depth_mm, notch.member_mm
    if notch.member is Member.JOIST:
        yield at_most("joist_percent", part_of(depth, member), values["joist_percent"])
        if "middle_third" in values:
            yield is_so("middle_third", notch.middle_third, bool(values["middle_third"]))
        if "bottom" in values:
            yield is_so("bottom", notch.bottom, bool(values["bottom"]))
        if "bearing_percent" in values:
            off = part_of(notch.bearing_mm, member)
            yield at_most("bearing_percent", off, values["bearing_percent"])
    elif notch.member is Member.STUD:
        if notch.bearing is None:
            light = None
        else:
            light = not notch.bearing
        yield from stud_points(depth, member, light, values)
