"""How far boxes are from tubs and showers, in words that the rules on them share."""

from collections.abc import Callable, Iterable, Iterator

from config.messages.measures import INCH
from config.messages.message import Length, Listed, Message, Rounding, Text, Value, message
from inspections.checker.asking.bath_zones import BathGap, BathZone, BesideTub, nearest_first
from inspections.checker.asking.fixtures import FIXTURE
from inspections.checker.asking.points import (
    EITHER_WAY,
    NOT_RECORDED,
    RECORD,
    STILL_MISSING,
    figure_rounding,
    limit_rounding,
)
from inspections.checker.finding import FindingWords, Verdict
from inspections.checker.geometry.intervals import EPSILON
from inspections.checker.house.nouns import noun
from inspections.checker.measures import Comparator

TAPE = message("bath.tape", "from the tub or shower to the box")
ON_PLAN = message("bath.on-plan", "{fixture}: {away} away on the plan")
THROUGH = message("bath.through", "{fixture}: {away} away on the plan, through a wall")
RISE = message("bath.rise", "{height} − {rim} = {rise} above the rim of {fixture}")
SPACE = message("bath.space", "the space ends {out} out and {up} above the rim")
MEASURE = message("bath.measure", "Measure around the wall: {limit} minimum.")
MOVE = message("bath.move", "Move it farther away.")
FIXTURES = message("bath.fixtures", "the tubs and showers of this room")
RECORD_FIXTURES = message("bath.record-fixtures", "Record them, or that there are none.")
OF_FIXTURE = message("bath.of-fixture", "the {facts} of {fixture}")
FACTS: dict[BathGap, Message] = {
    BathGap.WALL: message("bath.wall", "wall"),
    BathGap.PLACE: message("bath.place", "place"),
    BathGap.WIDTH: message("bath.width", "width"),
    BathGap.DEPTH: message("bath.depth", "depth"),
    BathGap.RIM: message("bath.rim", "rim height"),
}
"""What is missing of a tub or shower itself."""
BOX_FACTS: dict[BathGap, Message] = {
    BathGap.BOX_PLACE: message("bath.box-place", "where box {box} is on the plan"),
    BathGap.BOX_HEIGHT: message("bath.box-height", "how high box {box} is"),
}
TOO_NEAR = (BathZone.NEAR, BathZone.SMALL_ROOM, BathZone.THROUGH_WALL)
STEP_MM = INCH / 16
"""The coarsest that a length is rounded to."""
WALLED = (BathZone.THROUGH_WALL, BathZone.FARTHER_THROUGH_WALL, BathZone.UNPROTECTED_THROUGH_WALL)


def fixture_text(each: BesideTub) -> Text:
    """A tub or shower as a person points at it: tub T."""
    return FIXTURE(kind=noun(each.kind), fixture=each.fixture)


def away_text(each: BesideTub) -> Length:
    """How far away it is, rounded to its own side of the limit."""
    holds = None
    if each.zone in TOO_NEAR:
        holds = False
    elif each.verdict is Verdict.OK:
        holds = True
    return Length(each.away_mm or 0.0, figure_rounding(Comparator.AT_LEAST, holds))


def least(limit_mm: float) -> Length:
    """A distance that is the least, rounded to its safe side."""
    return Length(limit_mm, limit_rounding(Comparator.AT_LEAST))


def space_end(up_mm: float) -> Length:
    """How far up the space goes, which a height must exceed: rounded so that the next one does."""
    return Length(up_mm, Rounding.DOWN)


def between(away_mm: float, low_mm: float, high_mm: float) -> Length:
    """A distance that meets one limit and not the other, rounded away from the nearer of both."""
    rounding = Rounding.DOWN
    if away_mm - low_mm < high_mm - away_mm:
        rounding = Rounding.UP
    return Length(away_mm, rounding)


def touches(each: BesideTub) -> bool:
    """Whether the box is in the tub or shower, or right over it."""
    return each.away_mm is not None and each.away_mm <= EPSILON


def missing_texts(box: str, all_beside: Iterable[BesideTub]) -> tuple[Text, ...]:
    """What is missing, tub by tub, and then of the box, each as part of a sentence."""
    texts = []
    gaps: set[BathGap] = set()
    for each in nearest_first(all_beside):
        gaps |= each.missing
        facts = []
        for gap, word in FACTS.items():
            if gap in each.missing:
                facts.append(word())
        if facts:
            texts.append(OF_FIXTURE(facts=Listed(tuple(facts)), fixture=fixture_text(each)))
    for gap, word in BOX_FACTS.items():
        if gap in gaps:
            texts.append(word(box=box))
    return tuple(texts)


def bath_not_recorded(
    box: str, all_beside: frozenset[BesideTub], limit: Value, working: tuple[Value, ...]
) -> FindingWords:
    """What is to be recorded before anything can be said of the box."""
    what = Listed(missing_texts(box, all_beside))
    return FindingWords(
        NOT_RECORDED(what=what), limit=limit, working=(*working, STILL_MISSING(what=what)),
        remedy=RECORD(),
    )  # fmt: skip


def fixtures_missing() -> FindingWords:
    """Whether a tub or shower is in the room is not recorded yet."""
    what = FIXTURES()
    return FindingWords(
        NOT_RECORDED(what=what), working=(STILL_MISSING(what=what),), remedy=RECORD_FIXTURES()
    )


def distance_lines(
    all_beside: Iterable[BesideTub],
    height_mm: float | None,
    up_mm: float | None,
    away: Callable[[BesideTub], Length] = away_text,
) -> Iterator[Text]:
    """How far away each is, the nearest first, and how far above its rim the box is."""
    for each in nearest_first(all_beside):
        if each.away_mm is None:
            continue
        line = ON_PLAN
        if each.zone in WALLED:
            line = THROUGH
        fixture = fixture_text(each)
        yield line(fixture=fixture, away=away(each))
        if each.rim_mm is not None and each.zone is not BathZone.BELOW:
            height, rim = height_mm or 0.0, Length(each.rim_mm)
            rise = rise_text(each, height, up_mm or 0.0)
            yield RISE(height=Length(height), rim=rim, rise=rise, fixture=fixture)


def rise_text(each: BesideTub, height_mm: float, up_mm: float) -> Length:
    """How far above the rim the box is; beside where the space ends, rounded to its own side."""
    rise = height_mm - (each.rim_mm or 0.0)
    if abs(rise - up_mm) > STEP_MM:
        return Length(rise)
    if each.zone is BathZone.ABOVE:
        return Length(rise, Rounding.UP)
    return Length(rise, Rounding.DOWN)


def either_way(box: str, all_beside: Iterable[BesideTub]) -> Iterator[Text]:
    """What is missing without making a difference."""
    missing = missing_texts(box, all_beside)
    if missing:
        yield EITHER_WAY(what=Listed(missing))
