"""Findings about lines in words: spaces, receptacles along them, and what is out of reach."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from config.messages.message import Length, Listed, Message, Rounding, Text, Value, message
from inspections.checker.asking.coverage import (
    Lack,
    Lacking,
    LeftOut,
    LeftOutWhy,
    LineFacts,
    LineGap,
)
from inspections.checker.asking.lines import HEIGHT, MOST_NAMED, of_boxes
from inspections.checker.asking.parts_named import parts_not_recorded
from inspections.checker.asking.points import EITHER_WAY, RECORD, STILL_MISSING
from inspections.checker.asking.visual import natural
from inspections.checker.finding import Finding, FindingWords, Verdict
from inspections.checker.geometry.wall_parts import along_walls
from inspections.checker.house.nouns import noun

LEFT_OUT: dict[LeftOutWhy, Message] = {
    LeftOutWhy.GENERAL: message("left-out.general", "Receptacle {box} is not for general use."),
    LeftOutWhy.HIGH: message(
        "left-out.high", "Receptacle {box} is {measure} up: too high to count."
    ),
    LeftOutWhy.CEILING: message("left-out.ceiling", "Receptacle {box} is in the ceiling."),
    LeftOutWhy.GRADE: message(
        "left-out.grade", "Receptacle {box} is out of reach from the ground."
    ),
    LeftOutWhy.FLOOR: message(
        "left-out.floor", "Floor receptacle {box} is {measure} from the wall: too far to count."
    ),
    LeftOutWhy.ABOVE: message(
        "left-out.above", "Receptacle {box} is {measure} above the top: too high to count."
    ),
    LeftOutWhy.BELOW: message(
        "left-out.below", "Receptacle {box} is {measure} below the top: too low to count."
    ),
    LeftOutWhy.FACE_UP: message(
        "left-out.face-up", "Receptacle {box} faces up in the counter top."
    ),
    LeftOutWhy.OVERHANG: message(
        "left-out.overhang", "The top overhangs receptacle {box} by {measure}: too far to count."
    ),
}
OF_BOXES: dict[Lack, Message] = {
    Lack.HIGH: HEIGHT,
    Lack.FLOOR: message("missing.from-wall", "the distance {of_boxes} from the wall"),
    Lack.ABOVE: message("missing.above-top", "the height {of_boxes} above the counter top"),
    Lack.OVERHANG: message("missing.overhang", "the overhang of the top, at the place {of_boxes}"),
    Lack.ALONG: message("missing.along", "the place {of_boxes} along the counter"),
}
OF_WALLS: dict[Lack, Message] = {
    Lack.SWING: message(
        "missing.swing",
        "which way {n} doors in wall {wall} swing",
        one="which way the door in wall {wall} swings",
    ),
    Lack.SILL: message(
        "missing.sill",
        "the sill heights of {n} windows in wall {wall}",
        one="the sill height of the window in wall {wall}",
    ),
}
BEHIND = message("missing.behind", "the counter depth behind the {fixture}")

STARTS = message("line.place", "wall {wall}, {at} from its left end", pointing=True)
STARTS_AT = message("line.place-short", "wall {wall} {at}", pointing=True)
HERE = message("line.add-here", "Add a receptacle.")
ADD = message(
    "line.add",
    "Add receptacles for the stretches that start at {places}, from the left.",
    one="Add a receptacle for the stretch that starts on {places}.",
)
ADD_MANY = message("line.add-many", "Add a receptacle for each of the {n} stretches.")
COUNTED = message("line.counted", "Receptacle {box} is {at} along it.")
ON_WALL = message("line.on-wall", "wall {wall} {width}")
OUT_ROUND = message("line.out-round", "Out of reach: {parts}.")
MAY_BE_OUT_ROUND = message("line.may-be-out-round", "May be out of reach: {parts}.")
OUT = message("line.out", "Out of reach: {width} that starts on {place}.")
MAY_BE_OUT = message("line.may-be-out", "May be out of reach: {width} that starts on {place}.")


@dataclass(frozen=True, slots=True)
class LineWords:
    """How the spaces of a rule read.

    `gap` has {figure}, what is out of reach, {limit} and {n}, how many stretches; `round_corner`
    has {parts} instead, how much of one stretch is along each wall; `reached` has {limit}; `space`
    has {figure}, the length of the space.
    """

    gap: Message
    round_corner: Message
    reached: Message
    space: Message


def tell_line(finding: Finding, words: LineWords) -> FindingWords:
    """A space along a line against the reach that the code requires."""
    facts: LineFacts = finding.facts
    limit = Length(facts.reach_mm, Rounding.DOWN)
    working = tuple(_working(finding, words))
    if finding.verdict is Verdict.INFO_NEEDED:
        says = parts_not_recorded(missing_words(facts.missing))
        return FindingWords(says, limit=limit, working=working, remedy=RECORD())
    if finding.verdict is Verdict.OK:
        return FindingWords(words.reached(limit=limit), limit=limit, working=working)
    widest = max(gap.width_mm for gap in facts.gaps)
    figure = Length(widest, Rounding.UP)
    says = words.gap(n=len(facts.gaps), figure=figure, limit=limit)
    parts = _on_walls(finding, facts.gaps[0])
    if len(facts.gaps) == 1 and len(parts) > 1:
        says = words.round_corner(figure=figure, limit=limit, parts=Listed(parts))
    return FindingWords(says, figure, limit, working, _remedy(facts.gaps))


def _remedy(gaps: tuple[LineGap, ...]) -> Text:
    """Where to add a receptacle; the place of the finding says where its space starts."""
    if len(gaps) > MOST_NAMED:
        return ADD_MANY(n=len(gaps))
    if len(gaps) == 1 and not gaps[0].start_mm:
        return HERE()
    if len(gaps) == 1:
        return ADD(n=1, places=_place(gaps[0]))
    places = []
    for gap in gaps:
        places.append(STARTS_AT(wall=gap.wall, at=Length(gap.at_mm)))
    return ADD(n=len(gaps), places=Listed(tuple(places)))


def _place(gap: LineGap) -> Text:
    return STARTS(wall=gap.wall, at=Length(gap.at_mm))


def _working(finding: Finding, words: LineWords) -> Iterator[Value]:
    facts: LineFacts = finding.facts
    yield words.space(figure=Length(facts.space_mm))
    for outlet in sorted(facts.counted, key=lambda each: (each.at_mm, natural(each.box))):
        yield COUNTED(box=outlet.box, at=Length(outlet.at_mm))
    yield from left_out_lines(facts.left_out)
    unknown = finding.verdict is Verdict.INFO_NEEDED
    yield from missing_lines(missing_words(facts.missing), unknown)
    for gap in facts.gaps:
        parts = _on_walls(finding, gap)
        if len(parts) > 1:
            out = MAY_BE_OUT_ROUND if unknown else OUT_ROUND
            yield out(parts=Listed(parts))
        else:
            out = MAY_BE_OUT if unknown else OUT
            yield out(width=Length(gap.width_mm, Rounding.UP), place=_place(gap))


def _on_walls(finding: Finding, gap: LineGap) -> tuple[Text, ...]:
    """How much of a stretch is along each wall."""
    parts: list[Text] = []
    for part in along_walls(finding.spot.walls, gap.wall, gap.at_mm, gap.width_mm):
        parts.append(ON_WALL(width=Length(part.width_mm), wall=part.wall))
    return tuple(parts)


def left_out_lines(left_out: Collection[LeftOut]) -> Iterator[Text]:
    """Each receptacle that does not count, and why."""
    for each in sorted(left_out, key=lambda each: natural(each.box)):
        said = LEFT_OUT[each.why]
        if "measure" in said.holes:
            yield said(box=each.box, measure=Length(each.measure_mm or 0.0, Rounding.UP))
        else:
            yield said(box=each.box)


def missing_lines(missing: Collection[Value], decides: bool) -> Iterator[Text]:
    """Each fact that is not recorded, and whether anything depends on it."""
    line = EITHER_WAY
    if decides:
        line = STILL_MISSING
    for what in missing:
        yield line(what=what)


def missing_words(missing: Collection[Lacking]) -> list[Value]:
    """What is not recorded yet, once each: boxes together, then walls, then fixtures."""
    said: list[Value] = []
    for what, boxed in OF_BOXES.items():
        boxes = [each.part for each in missing if each.what is what]
        if boxes:
            said.append(boxed(of_boxes=of_boxes(boxes)))
    for what, walled in OF_WALLS.items():
        for each in sorted(missing, key=_by_part):
            if each.what is what:
                said.append(walled(n=each.count, wall=each.part))
    for each in sorted(missing, key=_by_fixture):
        if each.fixture:
            said.append(BEHIND(fixture=noun(each.fixture)))
    return said


def _by_part(each: Lacking) -> list[tuple[int, str]]:
    return natural(each.part)


def _by_fixture(each: Lacking) -> str:
    return each.fixture or ""
