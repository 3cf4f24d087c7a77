"""What to verify, by room: boxes, cables, and each check of a room's own as one box to tick.

A check that several rooms have is said once for all of them; one of a single room is said there.
"""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum

from config.messages.message import Joined, Listed, Text, Value
from inspections.checker.asking.visual import COUNTED, PartKind, RoomFacts
from inspections.checker.finding import Finding, Verdict
from inspections.papers.sheets import site_list_messages as words
from inspections.papers.sheets.checklist import SeenMark
from inspections.papers.sheets.site_rows import ToTick
from inspections.papers.sheets.tick_boxes import TickBox


class Card(StrEnum):
    """What is looked at in one go."""

    BOXES = "boxes"
    CABLES = "cables"
    OWN = "own"


@dataclass
class Cards:
    """What to verify in a house: the checks of several rooms, and by room what is to be ticked."""

    checks: dict[Card, dict[str, Value]]
    """Each requirement once, by its rule and words, in the order in which they first come."""
    as_drawn: bool = False
    """Whether anything that is OK on plan waits for somebody on site."""
    by_room: dict[str, list[list[ToTick]]] = field(default_factory=dict)

    def rows(self, room: str) -> list[list[ToTick]]:
        """The rows of a room, each with its boxes to tick."""
        return self.by_room.get(room, [])


@dataclass
class _Room:
    """The lines of a room by card, and those that comply as drawn."""

    lines: dict[Card, list[Finding]] = field(default_factory=dict)
    as_drawn: list[Finding] = field(default_factory=list)


def verify_cards(
    findings: Sequence[Finding],
    marks: Mapping[str, SeenMark],
    numbers: Collection[str],
    alone: Collection[str],
) -> Cards:
    """The cards of findings; what has a number is a line of its own, whatever it was."""
    rooms: dict[str, _Room] = {}
    usual = _in_several_rooms(findings)
    for finding in findings:
        if finding.key in numbers:
            continue
        room = rooms.setdefault(finding.spot.room, _Room())
        if finding.verdict is Verdict.VERIFY:
            room.lines.setdefault(_card(finding, usual), []).append(finding)
        elif _waits(finding, marks, alone):
            room.as_drawn.append(finding)
    cards = Cards(_checks(findings, usual))
    for name, room in rooms.items():
        cards.as_drawn = cards.as_drawn or bool(room.as_drawn)
        cards.by_room[name] = list(_rows(room, marks))
    return cards


def _waits(finding: Finding, marks: Mapping[str, SeenMark], alone: Collection[str]) -> bool:
    """Whether it is OK on plan, made by hands, and confirmed with its room or by nobody yet."""
    by_hand = finding.rule.workmanship and finding.verdict is Verdict.OK
    return by_hand and (finding.key in marks or finding.key not in alone)


def _in_several_rooms(findings: Sequence[Finding]) -> set[str]:
    rooms: dict[str, set[str]] = {}
    for finding in findings:
        if finding.verdict is Verdict.VERIFY and isinstance(finding.facts, RoomFacts):
            rooms.setdefault(finding.rule.id, set()).add(finding.spot.room)
    several: set[str] = set()
    for rule, where in rooms.items():
        if len(where) > 1:
            several.add(rule)
    return several


def _card(finding: Finding, usual: Collection[str]) -> Card:
    if finding.rule.id not in usual or not isinstance(finding.facts, RoomFacts):
        return Card.OWN
    for part in finding.facts.parts:
        if part.kind is not PartKind.BOX:
            return Card.CABLES
    return Card.BOXES


def _checks(findings: Sequence[Finding], usual: Collection[str]) -> dict[Card, dict[str, Value]]:
    found: dict[Card, dict[str, Value]] = {Card.BOXES: {}, Card.CABLES: {}}
    for finding in findings:
        if finding.verdict is not Verdict.VERIFY:
            continue
        card = _card(finding, usual)
        if card is Card.OWN:
            continue
        for check in _requirements(finding):
            found[card].setdefault(repr(check), check)
    return found


def _requirements(finding: Finding) -> Sequence[Value]:
    """What is required of the parts of a room, without how many they are."""
    says = finding.words.says
    if isinstance(says, Text):
        checks = says.given.get("checks")
        if isinstance(checks, Joined):
            return checks.of
    return (says,)


def _rows(room: _Room, marks: Mapping[str, SeenMark]) -> Iterator[list[ToTick]]:
    """One row for boxes, cables and what is as drawn, then one for each check of its own."""
    first: list[ToTick] = []
    for card in (Card.BOXES, Card.CABLES):
        lines = room.lines.get(card, [])
        if lines:
            first += _ticks(lines, marks, _of_all(lines), whole=len(lines))
    if room.as_drawn:
        first += _ticks(room.as_drawn, marks, _as_drawn, whole=len(room.as_drawn))
    if first:
        yield first
    for finding in room.lines.get(Card.OWN, []):
        mark = marks.get(finding.key)
        if mark is not None and mark.passed:
            yield [ToTick(_done(finding.rule.named, mark), TickBox.OK)]
        elif mark is not None and mark.na:
            yield [ToTick(_not_applied(finding.rule.named, mark), TickBox.NA)]
        elif mark is not None:
            yield [ToTick(Joined((finding.words.says, mark.told), " "))]
        else:
            yield [ToTick(finding.words.says)]


def _of_all(lines: Sequence[Finding]) -> Callable[[Sequence[Finding]], Value]:
    """The parts of a whole card, whichever of its checks a row has."""
    parts = _counted(lines)
    return lambda _some: parts


def _as_drawn(lines: Sequence[Finding]) -> Value:
    """So many checks of what is as drawn."""
    return words.COUNT_AS_DRAWN(n=len(lines))


def _ticks(
    lines: Sequence[Finding],
    marks: Mapping[str, SeenMark],
    what: Callable[[Sequence[Finding]], Value],
    *,
    whole: int,
) -> Iterator[ToTick]:
    """What is open of a card, then what somebody ticked of it, by whom and when.

    `what` counts those of a row.
    """
    waiting: list[Finding] = []
    done: dict[SeenMark, list[Finding]] = {}
    for finding in lines:
        mark = marks.get(finding.key)
        if mark is not None and (mark.passed or mark.na):
            done.setdefault(mark, []).append(finding)
        else:
            waiting.append(finding)
    if waiting:
        yield ToTick(_named(waiting, what(waiting), whole, marks))
    for mark, same in done.items():
        named = _named(same, what(same), whole, {})
        if mark.na:
            yield ToTick(_not_applied(named, mark), TickBox.NA)
        else:
            yield ToTick(_done(named, mark), TickBox.OK)


def _named(
    lines: Sequence[Finding], what: Value, whole: int, marks: Mapping[str, SeenMark]
) -> Value:
    """A card by its count; some of its checks by their titles as well."""
    told: list[Value] = []
    for finding in lines:
        mark = marks.get(finding.key)
        if mark is not None:
            told.append(mark.told)
    named = what
    if len(lines) < whole:
        titles: dict[Value, None] = {}
        for finding in lines:
            titles.setdefault(finding.rule.named)
        named = words.NAMED_CHECKS(parts=what, checks=Joined(tuple(titles), ", "))
    if told:
        return Joined((named, *dict.fromkeys(told)), " ")
    return named


def _not_applied(what: Value, mark: SeenMark) -> Value:
    """A check with the reason why it does not apply, by whom and when."""
    return Joined((what, mark.told), ": ")


def _done(what: Value, mark: SeenMark) -> Value:
    return words.DONE(what=what, person=mark.by, day=mark.when)


def _counted(lines: Sequence[Finding]) -> Value:
    """The parts of a card, counted: each box once, however many checks it has."""
    parts: dict[PartKind, set[str]] = {}
    for finding in lines:
        if isinstance(finding.facts, RoomFacts):
            for part in finding.facts.parts:
                parts.setdefault(part.kind, set()).add(part.id)
    for kind in (PartKind.BOX, PartKind.CABLE):
        if kind in parts:
            return COUNTED[kind](n=len(parts[kind]))
    counted = []
    for kind, ids in parts.items():
        counted.append(COUNTED[kind](n=len(ids)))
    return Listed(tuple(counted), "and")
