"""Receptacles at counters as a shop wants them: all at one height, of one rating."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Amperes, Joined, Length, Rounding, Text, Value, message
from inspections.checker.asking.counters import CounterLine
from inspections.checker.asking.fixtures import height_of
from inspections.checker.asking.line_sentences import missing_lines
from inspections.checker.asking.lines import HEIGHT, of_boxes
from inspections.checker.asking.parts_named import parts_not_recorded
from inspections.checker.asking.points import RECORD
from inspections.checker.geometry.intervals import EPSILON

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, DeviceKind
from ..house.rooms import CounterKind
from ..site import HouseByCode

NAME = "counter-heights"


GOOD = message(f"{NAME}.ok", "Receptacle {box} is {height} up and rated {rating}.")
OFF = message(f"{NAME}.off", "Receptacle {box} is {figure} up; {least} to {most} required.")
OFF_ONE = message(f"{NAME}.off-one", "Receptacle {box} is {figure} up; {limit} required.")
WEAK = message(f"{NAME}.weak", "Receptacle {box} is rated {figure}; {limit} required.")
SET = message(f"{NAME}.set", "Move the box to that height.")
CHANGE = message(f"{NAME}.change", "Install one of that rating.")
RATING = message(f"{NAME}.missing.rating", "the rating of receptacle {box}")
RANGE = message(f"{NAME}.range", "{least} to {most}")
UP = message(f"{NAME}.height", "Height: {figure}; {limit} required.")
RATED = message(f"{NAME}.rating", "Rating: {figure}; {limit} required.")


@dataclass(frozen=True, slots=True)
class CounterHeightFacts:
    """The height and rating of a receptacle at a counter, and what the shop wants."""

    box: str
    height_mm: float | None
    rated_a: float | None
    """The least of its receptacles, of those that are recorded."""
    rating_missing: bool
    least_mm: float
    most_mm: float
    least_a: float

    @property
    def off(self) -> bool:
        """Whether it is at another height."""
        if self.height_mm is None:
            return False
        return not self.least_mm - EPSILON <= self.height_mm <= self.most_mm + EPSILON

    @property
    def weak(self) -> bool:
        """Whether it is rated too low."""
        return self.rated_a is not None and self.rated_a < self.least_a


def tell(finding: Finding) -> FindingWords:
    """The receptacle's height and rating against the shop's."""
    facts: CounterHeightFacts = finding.facts
    missing = _missing(facts)
    figure, limit = _figures(facts)
    working = (*_working(facts), *missing_lines(missing, finding.verdict is Verdict.INFO_NEEDED))
    if finding.verdict is Verdict.INFO_NEEDED:
        return FindingWords(parts_not_recorded(missing), figure, limit, working, RECORD())
    if finding.verdict is Verdict.OK:
        says = GOOD(box=facts.box, height=_height(facts), rating=Amperes(facts.rated_a or 0))
        return FindingWords(says, figure, limit, working)
    wrong: list[Value] = []
    remedy: list[Value] = []
    if facts.off:
        wrong.append(_off(facts))
        remedy.append(SET())
    if facts.weak:
        amperes = Amperes(facts.rated_a or 0)
        wrong.append(WEAK(box=facts.box, figure=amperes, limit=Amperes(facts.least_a)))
        remedy.append(CHANGE())
    return FindingWords(Joined(tuple(wrong)), figure, limit, working, Joined(tuple(remedy)))


def _off(facts: CounterHeightFacts) -> Text:
    if facts.least_mm == facts.most_mm:
        return OFF_ONE(box=facts.box, figure=_height(facts), limit=Length(facts.least_mm))
    least, most = Length(facts.least_mm, Rounding.UP), Length(facts.most_mm, Rounding.DOWN)
    return OFF(box=facts.box, figure=_height(facts), least=least, most=most)


def _height(facts: CounterHeightFacts) -> Length:
    """Rounded to its own side of the limits: within them inwards, beyond them outwards."""
    height = facts.height_mm or 0.0
    near_most = height > (facts.least_mm + facts.most_mm) / 2
    if near_most is facts.off:
        return Length(height, Rounding.UP)
    return Length(height, Rounding.DOWN)


def _allowed(facts: CounterHeightFacts) -> Value:
    if facts.least_mm == facts.most_mm:
        return Length(facts.least_mm)
    least, most = Length(facts.least_mm, Rounding.UP), Length(facts.most_mm, Rounding.DOWN)
    return RANGE(least=least, most=most)


def _figures(facts: CounterHeightFacts) -> tuple[Value, Value]:
    figures: list[Value] = []
    if facts.height_mm is not None:
        figures.append(_height(facts))
    if facts.rated_a is not None:
        figures.append(Amperes(facts.rated_a))
    return Joined(tuple(figures), "; "), Joined((_allowed(facts), Amperes(facts.least_a)), "; ")


def _missing(facts: CounterHeightFacts) -> list[Value]:
    missing: list[Value] = []
    if facts.height_mm is None:
        missing.append(HEIGHT(of_boxes=of_boxes((facts.box,))))
    if facts.rating_missing:
        missing.append(RATING(box=facts.box))
    return missing


def _working(facts: CounterHeightFacts) -> Iterator[Value]:
    if facts.height_mm is not None:
        yield UP(figure=_height(facts), limit=_allowed(facts))
    if facts.rated_a is not None:
        yield RATED(figure=Amperes(facts.rated_a), limit=Amperes(facts.least_a))


@rule(
    NAME,
    topic="receptacles",
    title="Counter receptacles alike",
    tell=tell,
    scope=Scope.ROOM,
    facts=CounterHeightFacts,
    workmanship=True,
)
def counter_heights(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Receptacles above a wall counter are at one height and have one rating.

    No code requires it. A shop that wants it amends `asked`, and the height and rating with it.
    """
    book = site.rulebook
    if not book.value(f"{NAME}.asked"):
        return
    limits = tuple(book.limits_of(NAME))
    for counter in site.house.counters:
        if counter.kind is not CounterKind.WALL:
            continue
        line = CounterLine(counter, book)
        for outlet in line.outlets(site.receptacles_in[counter.room]):
            if outlet.counts is not False:
                box = site.boxes[outlet.box]
                verdict, facts = _judge(site, box)
                yield Finding(this, box.id, verdict, site.box_spot(box), facts, limits)


def _judge(site: HouseByCode, box: Box) -> tuple[Verdict, CounterHeightFacts]:
    book = site.rulebook
    ratings = []
    rating_missing = False
    for device in box.devices:
        if device.kind is DeviceKind.RECEPTACLE:
            if device.amperes is None:
                rating_missing = True
            else:
                ratings.append(device.amperes)
    facts = CounterHeightFacts(
        box.id,
        height_of(box),
        min(ratings, default=None),
        rating_missing,
        book.value(f"{NAME}.least_mm"),
        book.value(f"{NAME}.most_mm"),
        book.value(f"{NAME}.least_a"),
    )
    if facts.off or facts.weak:
        return Verdict.NOT_TO_CODE, facts
    if facts.height_mm is None or rating_missing:
        return Verdict.INFO_NEEDED, facts
    return Verdict.OK, facts
