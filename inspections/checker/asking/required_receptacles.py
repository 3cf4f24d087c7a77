"""Receptacles that a place is to be provided with: how many it has, and how many are required."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from config.messages.message import Joined, Length, Listed, Message, Text, Value, message
from inspections.checker.asking.fixtures import height_of
from inspections.checker.asking.lines import ids_listed
from inspections.checker.asking.on_circuit import boxes_said
from inspections.checker.asking.points import (
    EITHER_WAY,
    NOT_RECORDED,
    RECORD,
    STILL_MISSING,
    figure_rounding,
    limit_rounding,
)
from inspections.checker.asking.receptacles import for_general_use
from inspections.checker.asking.visual import natural
from inspections.checker.finding import Finding, FindingWords, Verdict
from inspections.checker.house.boxes import Box, OnCeiling
from inspections.checker.measures import Comparator
from inspections.checker.site import holds_receptacle

DUST = 0.01  # mm


class WhyNotCounted(StrEnum):
    """Why a receptacle does not count."""

    NOT_GENERAL = "not general"
    ON_CEILING = "on ceiling"
    TOO_HIGH = "too high"
    NOT_FROM_GROUND = "not from ground"


class CountMissing(StrEnum):
    """What is not recorded of a place."""

    HEIGHT = "height"
    DOOR = "door"
    WINDOW_TO_FLOOR = "window to floor"
    BAYS = "bays"
    WASHERS = "washers"
    SIDE = "side"
    FROM_GROUND = "from ground"
    FRONT = "front"
    BACK = "back"
    OUTSIDE = "outside"


@dataclass(frozen=True, slots=True)
class UncountedReceptacle:
    """A receptacle that does not count, by its box."""

    box: str
    why: WhyNotCounted
    height_mm: float | None = None


@dataclass(frozen=True, slots=True)
class CountMissingFact:
    """A fact that is not recorded: of a box and of its room, or of a wall, or of the place."""

    what: CountMissing
    box: str = ""
    room: str = ""
    wall: str = ""


@dataclass(frozen=True, slots=True)
class CountFacts:
    """What a place has of receptacles, by their boxes, and how many are required of it."""

    has: frozenset[str]
    left_out: frozenset[UncountedReceptacle]
    missing: frozenset[CountMissingFact]
    least: int
    most: int
    """What would be required if what is not recorded were against it."""
    highest_mm: float | None


@dataclass(frozen=True, slots=True)
class Provided:
    """The receptacles of a place that count, those that may, and those that do not."""

    has: tuple[str, ...]
    maybe: tuple[CountMissingFact, ...]
    out: tuple[UncountedReceptacle, ...]

    def verdict(self, least: int, most: int) -> Verdict:
        """Whether they are enough, when from `least` to `most` are required."""
        if len(self.has) >= most:
            return Verdict.OK
        if len(self.has) + len(self.maybe) < least:
            return Verdict.NOT_TO_CODE
        return Verdict.INFO_NEEDED

    def facts(
        self,
        required: tuple[int, int],
        highest_mm: float | None = None,
        missing: Iterable[CountMissingFact] = (),
    ) -> CountFacts:
        """What a finding keeps of it; `missing` holds further facts that are not recorded."""
        return CountFacts(
            frozenset(self.has),
            frozenset(self.out),
            frozenset((*missing, *self.maybe)),
            *required,
            highest_mm,
        )


Doubt = Callable[[Box], CountMissingFact | None]


def provided(
    boxes: Iterable[Box],
    highest_mm: float | None = None,
    serves: Callable[[Box], bool] = for_general_use,
    doubt: Doubt | None = None,
) -> Provided:
    """Sort receptacles by whether they count: for use there, and not higher than `highest_mm`.

    `doubt` is what is missing about a box's place, if anything is.
    """
    has: list[str] = []
    maybe: list[CountMissingFact] = []
    out: list[UncountedReceptacle] = []
    for box in boxes:
        if not holds_receptacle(box):
            continue
        missing = None
        if doubt:
            missing = doubt(box)
        unmeasured = highest_mm is not None and height_of(box) is None
        if not_counted := _not_counted(box, highest_mm, serves):
            out.append(not_counted)
        elif missing or unmeasured:
            maybe.append(missing or CountMissingFact(CountMissing.HEIGHT, box.id, box.room))
        else:
            has.append(box.id)
    return Provided(tuple(has), tuple(maybe), tuple(out))


def _not_counted(
    box: Box, highest_mm: float | None, serves: Callable[[Box], bool]
) -> UncountedReceptacle | None:
    """Why it surely does not count, if it does not."""
    if not serves(box):
        return UncountedReceptacle(box.id, WhyNotCounted.NOT_GENERAL)
    if highest_mm is None:
        return None
    if isinstance(box.place, OnCeiling):
        return UncountedReceptacle(box.id, WhyNotCounted.ON_CEILING)
    height = height_of(box)
    if height is not None and height > highest_mm + DUST:
        return UncountedReceptacle(box.id, WhyNotCounted.TOO_HIGH, height)
    return None


COUNT = message(
    "required-receptacles.count",
    "{place}: {n} receptacles that count; {required} required.",
    one="{place}: {n} receptacle that counts; {required} required.",
)
NONE = message("required-receptacles.none", "{place}: no receptacle; {required} required.")
NONE_COUNTS = message(
    "required-receptacles.none-counts", "{place}: no receptacle that counts; {required} required."
)
OK = message(
    "required-receptacles.ok",
    "{place}: {n} receptacles; {required} required.",
    one="{place}: {n} receptacle; {required} required.",
)
NO_HIGHER = message("required-receptacles.no-higher", "No higher than {highest}.")
MEASURE = message("required-receptacles.measure", "Measure it; {highest} maximum.")
COUNTED = message("required-receptacles.counted", "these count: {boxes}")
NOTHING = message("required-receptacles.nothing", "no receptacle is recorded here")
HIGHEST = message("required-receptacles.highest", "receptacles count up to {highest} high")
UP_TO = message("required-receptacles.up-to", "as many as {most} may be required")
LEFT_OUT: dict[WhyNotCounted, Message] = {
    WhyNotCounted.NOT_GENERAL: message(
        "required-receptacles.not-general", "{box} does not count: not for general use"
    ),
    WhyNotCounted.ON_CEILING: message(
        "required-receptacles.on-ceiling", "{box} does not count: in the ceiling"
    ),
    WhyNotCounted.TOO_HIGH: message(
        "required-receptacles.too-high", "{box} does not count: {height} up"
    ),
    WhyNotCounted.NOT_FROM_GROUND: message(
        "required-receptacles.not-from-ground", "{box} does not count: out of reach from the ground"
    ),
}
WINDOW = message(
    "required-receptacles.window", "whether the window in wall {wall} reaches the floor"
)
OF_PLACE: dict[CountMissing, Message] = {
    CountMissing.DOOR: message("deck-receptacles.door", "whether a door of the house leads to it"),
    CountMissing.BAYS: message(
        "garage-receptacles.vehicles", "how many vehicles the garage is for"
    ),
    CountMissing.WASHERS: message("laundry-receptacles.washers", "where washers will stand"),
    CountMissing.FRONT: message("outdoor-receptacles.front", "what is at the front of the house"),
    CountMissing.BACK: message("outdoor-receptacles.back", "what is at the back of the house"),
    CountMissing.OUTSIDE: message("outdoor-receptacles.outside", "what is outside the house"),
}
OF_BOXES: dict[CountMissing, tuple[Message, Message]] = {
    CountMissing.HEIGHT: (
        message(
            "required-receptacles.heights",
            "how high boxes {boxes} are",
            one="how high box {boxes} is",
        ),
        message(
            "required-receptacles.heights-of",
            "how high {n} boxes are",
            one="how high {n} box is",
        ),
    ),
    CountMissing.SIDE: (
        message(
            "outdoor-receptacles.sides",
            "which side of the house boxes {boxes} are on",
            one="which side of the house box {boxes} is on",
        ),
        message(
            "outdoor-receptacles.sides-of",
            "which side of the house {n} boxes are on",
            one="which side of the house {n} box is on",
        ),
    ),
    CountMissing.FROM_GROUND: (
        message(
            "outdoor-receptacles.reach",
            "whether boxes {boxes} can be reached from the ground",
            one="whether box {boxes} can be reached from the ground",
        ),
        message(
            "outdoor-receptacles.reach-of",
            "whether {n} boxes can be reached from the ground",
            one="whether {n} box can be reached from the ground",
        ),
    ),
}


def missing_said(missing: Iterable[CountMissingFact]) -> tuple[Value, ...]:
    """What is not recorded, each kind once and boxes together."""
    said: list[Value] = []
    facts = sorted(missing, key=lambda fact: (natural(fact.wall), natural(fact.box)))
    for what in CountMissing:
        boxes = []
        for fact in facts:
            if fact.what is not what:
                continue
            if what is CountMissing.WINDOW_TO_FLOOR:
                said.append(WINDOW(wall=fact.wall))
            elif what in OF_PLACE:
                said.append(OF_PLACE[what]())
            else:
                boxes.append(fact.box)
        if boxes:
            said.append(boxes_said(*OF_BOXES[what], boxes))
    return tuple(said)


def tell_count(
    finding: Finding,
    count: CountFacts,
    place: Value,
    add: Message,
    notes: Sequence[Value] = (),
) -> FindingWords:
    """A place, what it has and what is required of it; `add` says what to install."""
    words = FindingWords(
        _says(count, finding.verdict, place),
        len(count.has),
        count.least,
        (*_working(count, finding.verdict), *notes),
    )
    if finding.verdict is Verdict.NOT_TO_CODE:
        return replace(words, remedy=add_words(count, add()))
    if finding.verdict is Verdict.INFO_NEEDED:
        return replace(words, remedy=_to_record(count))
    return words


def _says(count: CountFacts, verdict: Verdict, place: Value) -> Text:
    if verdict is Verdict.INFO_NEEDED:
        return NOT_RECORDED(what=Listed(missing_said(count.missing)))
    if verdict is not Verdict.NOT_TO_CODE:
        return OK(place=place, n=len(count.has), required=count.least)
    if count.has:
        return COUNT(place=place, n=len(count.has), required=count.least)
    if count.left_out:
        return NONE_COUNTS(place=place, required=count.least)
    return NONE(place=place, required=count.least)


def add_words(count: CountFacts, add: Text) -> Value:
    """What to install, and how high it may be where that matters."""
    highest = highest_said(count)
    if highest is None:
        return add
    return Joined((add, NO_HIGHER(highest=highest)))


def _to_record(count: CountFacts) -> Text:
    highest = highest_said(count)
    kinds = {fact.what for fact in count.missing}
    if highest is not None and kinds == {CountMissing.HEIGHT}:
        return MEASURE(highest=highest)
    return RECORD()


def highest_said(count: CountFacts) -> Length | None:
    """The greatest height at which a receptacle counts, rounded to the safe side."""
    if count.highest_mm is None:
        return None
    return Length(count.highest_mm, limit_rounding(Comparator.AT_MOST))


def _working(count: CountFacts, verdict: Verdict) -> list[Value]:
    lines: list[Value] = []
    if count.has:
        lines.append(COUNTED(boxes=ids_listed(count.has)))
    elif not count.left_out and not any(fact.box for fact in count.missing):
        lines.append(NOTHING())
    highest = highest_said(count)
    if highest is not None:
        lines.append(HIGHEST(highest=highest))
    for each in sorted(count.left_out, key=lambda out: natural(out.box)):
        lines.append(_left_out(each))
    if count.most > count.least:
        lines.append(UP_TO(most=count.most))
    missing = EITHER_WAY
    if verdict is Verdict.INFO_NEEDED:
        missing = STILL_MISSING
    for fact in missing_said(count.missing):
        lines.append(missing(what=fact))
    return lines


def _left_out(each: UncountedReceptacle) -> Text:
    if each.why is WhyNotCounted.TOO_HIGH and each.height_mm is not None:
        height = Length(each.height_mm, figure_rounding(Comparator.AT_MOST, False))
        return LEFT_OUT[each.why](box=each.box, height=height)
    return LEFT_OUT[each.why](box=each.box)
