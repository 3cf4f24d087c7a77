"""What eyes settle: computed where somebody recorded it, one line for each room where not."""

import re
from collections import Counter
from collections.abc import Callable, Container, Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from config.messages.message import Joined, Listed, Message, Text, Value, message
from inspections.checker.facts import digest
from inspections.checker.finding import Finding, FindingWords, Rule, Verdict
from inspections.checker.house.boxes import Box
from inspections.checker.house.cables import Cable
from inspections.checker.house.rooms import RoomKind
from inspections.checker.rulebook import Limit
from inspections.checker.site import HouseByCode
from inspections.checker.spot import BOX, CABLE, HOLE, STAPLE


class PartKind(StrEnum):
    """What a part is that waits for eyes."""

    BOX = "box"
    CABLE = "cable"
    HOLE = "hole"
    NOTCH = "notch"
    STAPLE = "staple"
    SUPPORT = "support"
    BUNDLE = "bundle"


PART: dict[PartKind, Message] = {
    PartKind.BOX: BOX,
    PartKind.CABLE: CABLE,
    PartKind.HOLE: HOLE,
    PartKind.STAPLE: STAPLE,
    PartKind.NOTCH: message("place.notch", "notch {notch}"),
    PartKind.SUPPORT: message("place.support", "support {support}"),
    PartKind.BUNDLE: message("place.bundle", "bundle {bundle}"),
}
COUNTED: dict[PartKind, Message] = {
    PartKind.BOX: message("count.boxes", "{n} boxes", one="{n} box"),
    PartKind.CABLE: message("count.cables", "{n} cables", one="{n} cable"),
    PartKind.HOLE: message("count.holes", "{n} holes", one="{n} hole"),
    PartKind.NOTCH: message("count.notches", "{n} notches", one="{n} notch"),
    PartKind.STAPLE: message("count.staples", "{n} staples", one="{n} staple"),
    PartKind.SUPPORT: message("count.supports", "{n} supports", one="{n} support"),
    PartKind.BUNDLE: message("count.bundles", "{n} bundles", one="{n} bundle"),
}
HERE = message("verify.here", "{checks} ({parts} here)")
PARTS = message("verify.parts", "not recorded yet: {parts}")
NAMED = message("verify.named", "{counted} ({ids})")
VERIFY = message("verify.remedy", "Verify on site, or record what you find.")


def part_text(kind: PartKind, part: str) -> Text:
    """A part as a person points at it: box R22."""
    return PART[kind](**{kind.value: part})


@dataclass(frozen=True, slots=True)
class SeenPart:
    """A part that waits for eyes, and a digest of what else an answer about it rests on."""

    kind: PartKind
    id: str
    rests_on: str


@dataclass(frozen=True, slots=True)
class HeldTo:
    """What parts of a room are held to, by the name of the limit."""

    name: str
    limit: float | bool | str | None


@dataclass(frozen=True, slots=True)
class RoomFacts:
    """The parts of a room that are not recorded yet, and what they are held to."""

    parts: frozenset[SeenPart]
    held_to: frozenset[HeldTo]


Judged = tuple[Verdict, Any] | None
"""A verdict with the facts it rests on; None when nothing is required of the part."""


@dataclass(slots=True)
class _Waiting:
    """What waits for eyes in a room: its parts, and by its name what they are held to."""

    parts: set[SeenPart]
    held_to: dict[str, float | bool | str | None]


class Round:
    """A rule's round through the house: findings as they come, and at its end what waits."""

    def __init__(self, this: Rule, site: HouseByCode, limits: tuple[Limit, ...]) -> None:
        self.this, self.site, self.limits = this, site, limits
        self._waiting: dict[str, _Waiting] = {}
        self._named: Counter[str] = Counter()

    def numbered(self, name: str) -> str:
        """A subject for something without an id: the second of a name is `name/2`."""
        self._named[name] += 1
        if self._named[name] == 1:
            return name
        return f"{name}/{self._named[name]}"

    def box(self, box: Box, found: Judged) -> tuple[Finding, ...]:
        """The finding on a box, or none while it waits for eyes."""
        if found is None:
            return ()
        verdict, facts = found
        if verdict is Verdict.VERIFY:
            self.wait(box.room, PartKind.BOX, box.id, self.site.stands[box.id], facts)
            return ()
        spot = self.site.box_spot(box)
        return (Finding(self.this, box.id, verdict, spot, facts, self.limits),)

    def cable(self, cable: Cable, found: Judged, rooms: Sequence[str] = ()) -> tuple[Finding, ...]:
        """The finding on a cable; it is verified in these rooms, or each where it ends.

        A change of its length is verified where it ends, not where it comes from.
        """
        if found is None:
            return ()
        verdict, facts = found
        if verdict is Verdict.VERIFY:
            ends_in = self.site.rooms_of[cable.id]
            for room in rooms or ends_in:
                rests_on = self.site.ends[cable.id]
                if room == ends_in[-1]:
                    rests_on = self.site.runs[cable.id]
                self.wait(room, PartKind.CABLE, cable.id, rests_on, facts)
            return ()
        spot = self.site.cable_spot(cable)
        return (Finding(self.this, cable.id, verdict, spot, facts, self.limits),)

    def run(self, cable: Cable, room: str, found: Judged, subject: str) -> tuple[Finding, ...]:
        """The finding on a cable at one place of a room; `subject` tells the places apart."""
        if found is None:
            return ()
        verdict, facts = found
        if verdict is Verdict.VERIFY:
            self.wait(room, PartKind.CABLE, cable.id, digest(subject), facts)
            return ()
        spot = self.site.cable_spot(cable, room)
        return (Finding(self.this, subject, verdict, spot, facts, self.limits),)

    def part(
        self, part: Any, kind: PartKind, found: Judged, prefix: str = ""
    ) -> tuple[Finding, ...]:
        """The finding on something with an id, a room and cables: a hole, a staple."""
        if found is None:
            return ()
        verdict, facts = found
        if verdict is Verdict.VERIFY:
            rests_on = digest((part.id, part.cables))
            self.wait(part.room, kind, part.id, rests_on, facts)
            return ()
        spot = self.site.part_spot(self.site.rooms[part.room], part_text(kind, part.id))
        return (Finding(self.this, f"{prefix}{part.id}", verdict, spot, facts, self.limits),)

    def wait(self, room: str, kind: PartKind, part: str, rests_on: str, facts: Any = None) -> None:
        """Keep a part that only eyes settle, with a digest of what it rests on, for its room."""
        waiting = self._waiting.get(room)
        if waiting is None:
            waiting = self._waiting[room] = _Waiting(set(), {})
        waiting.parts.add(SeenPart(kind, part, rests_on))
        for point in getattr(facts, "points", ()):
            if point.holds is None:
                waiting.held_to[point.name] = point.limit

    def remaining(
        self,
        cables: Iterable[Cable],
        done: Container[tuple[str, str]],
        found: Judged,
        kinds: Container[RoomKind] | None = None,
    ) -> Iterator[Finding]:
        """Cables in rooms where they end and nothing of them is recorded: of some kinds, or all."""
        for cable in cables:
            rooms = []
            for room in self.site.rooms_of[cable.id]:
                fits = kinds is None or self.site.rooms[room].kind in kinds
                if fits and (cable.id, room) not in done:
                    rooms.append(room)
            if rooms:
                yield from self.cable(cable, found, rooms)

    def rooms_to_verify(self) -> Iterator[Finding]:
        """One finding for each room: its parts that wait, and what they are held to."""
        for room, waiting in self._waiting.items():
            held_to = frozenset(HeldTo(*each) for each in waiting.held_to.items())
            facts = RoomFacts(frozenset(waiting.parts), held_to)
            spot = self.site.room_spot(self.site.rooms[room])
            yield Finding(self.this, f"room:{room}", Verdict.VERIFY, spot, facts, self.limits)


def boxes_judged(
    this: Rule,
    site: HouseByCode,
    boxes: Iterable[Box],
    judge: Callable[[Box], Judged],
    limits: tuple[Limit, ...],
) -> Iterator[Finding]:
    """A finding for each box; those that `judge` leaves to eyes are gathered room by room."""
    here = Round(this, site, limits)
    for box in boxes:
        yield from here.box(box, judge(box))
    yield from here.rooms_to_verify()


def cables_judged(
    this: Rule,
    site: HouseByCode,
    cables: Iterable[Cable],
    judge: Callable[[Cable], Judged],
    limits: tuple[Limit, ...],
) -> Iterator[Finding]:
    """The same for cables; a cable is verified in each room where it ends."""
    here = Round(this, site, limits)
    for cable in cables:
        yield from here.cable(cable, judge(cable))
    yield from here.rooms_to_verify()


def room_words(facts: RoomFacts, checks: Sequence[Value], limit: Value = "") -> FindingWords:
    """What to verify of the parts of a room; each check is a sentence."""
    every = Joined(tuple(checks))
    return FindingWords(
        HERE(checks=every, parts=_counts(facts.parts)),
        limit=limit,
        working=(PARTS(parts=_named(facts.parts)), *checks),
        remedy=VERIFY(),
    )


def _counts(parts: Iterable[SeenPart]) -> Value:
    """How many parts of each kind: 3 boxes and 2 cables."""
    kinds = Counter(kind for kind, _ in {(part.kind, part.id) for part in parts})
    return Listed(tuple(COUNTED[kind](n=kinds[kind]) for kind in PartKind if kind in kinds))


def _named(parts: Iterable[SeenPart]) -> Value:
    """Every part by its id, several of a kind after their number, R2 before R10."""
    by_kind: dict[PartKind, set[str]] = {}
    for part in parts:
        by_kind.setdefault(part.kind, set()).add(part.id)
    named = []
    for kind in PartKind:
        ids = tuple(sorted(by_kind.get(kind, ()), key=natural))
        if len(ids) == 1:
            named.append(part_text(kind, ids[0]))
        elif ids:
            named.append(NAMED(counted=COUNTED[kind](n=len(ids)), ids=Listed(ids)))
    return Listed(tuple(named))


def natural(text: str) -> list[tuple[int, str]]:
    """A key that puts R2 before R10."""
    return [(int(each), "") if each.isdigit() else (-1, each) for each in re.split(r"(\d+)", text)]
