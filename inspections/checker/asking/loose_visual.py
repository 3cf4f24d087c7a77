"""What eyes settle: computed where somebody recorded it, one look for each room where not."""

from collections import Counter
from collections.abc import Callable, Container, Iterable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from inspections.checker.finding import Finding, FindingWords, Rule, Verdict
from inspections.checker.house.boxes import Box
from inspections.checker.house.cables import Cable
from inspections.checker.house.rooms import RoomKind
from inspections.checker.rulebook import Limit
from inspections.checker.site import HouseByCode
from inspections.checker.words import listed

Judged = tuple[Verdict, Mapping[str, Any]] | None
"""A verdict with the facts and figures it rests on; None when nothing is asked of the part."""


SAID = 6
"""So many parts are named in a look; the working names all."""


class VisualCheck(NamedTuple):
    """A part that waits for eyes: its name, the facts a look rests on, and what is asked."""

    name: str
    rests_on: Any
    data: Mapping[str, Any]


class Round:
    """A rule's round through the house: findings as they come, and at its end the looks."""

    def __init__(self, this: Rule, site: HouseByCode, limits: tuple[Limit, ...]) -> None:
        self.this, self.site, self.limits = this, site, limits
        self._looks: dict[str, list[VisualCheck]] = {}
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
        verdict, data = found
        if verdict is Verdict.LOOK:
            self._look(box.room, VisualCheck(box.id, self.site.stands[box.id], data))
            return ()
        spot = self.site.box_spot(box)
        return (Finding(self.this, box.id, verdict, spot, data, self.limits),)

    def cable(self, cable: Cable, found: Judged, rooms: Sequence[str] = ()) -> tuple[Finding, ...]:
        """The finding on a cable; it is looked at in these rooms, or each where it ends.

        A change of its length is looked at where it ends, not where it comes from.
        """
        if found is None:
            return ()
        verdict, data = found
        if verdict is Verdict.LOOK:
            ends_in = self.site.rooms_of[cable.id]
            for room in rooms or ends_in:
                length = None
                if room == ends_in[-1]:
                    length = cable.length_mm
                self._look(room, VisualCheck(cable.id, (cable.id, cable.ends, length), data))
            return ()
        spot = self.site.cable_spot(cable)
        return (Finding(self.this, cable.id, verdict, spot, data, self.limits),)

    def run(
        self, cable: Cable, room: str, found: Judged, subject: str, name: str
    ) -> tuple[Finding, ...]:
        """The finding on a cable at one place of a room."""
        if found is None:
            return ()
        verdict, data = found
        if verdict is Verdict.LOOK:
            self._look(room, VisualCheck(name, subject, data))
            return ()
        spot = self.site.cable_spot(cable, room)
        return (Finding(self.this, subject, verdict, spot, data, self.limits),)

    def part(self, part: Any, noun: str, found: Judged, prefix: str = "") -> tuple[Finding, ...]:
        """The finding on something with an id, a room and cables: a hole, a staple."""
        name = f"{noun} {part.id}"
        if found is None:
            return ()
        verdict, data = found
        if verdict is Verdict.LOOK:
            self._look(part.room, VisualCheck(name, (part.id, part.cables), data))
            return ()
        spot = self.site.part_spot(self.site.rooms[part.room], name)
        return (Finding(self.this, f"{prefix}{part.id}", verdict, spot, data, self.limits),)

    def wait(self, room: str, name: str, rests_on: Any) -> None:
        """Keep a part that only eyes settle for the look of its room."""
        self._look(room, VisualCheck(name, rests_on, {}))

    def remaining(
        self,
        cables: Iterable[Cable],
        done: Container[tuple[str, str]],
        asked: Judged,
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
                yield from self.cable(cable, asked, rooms)

    def _look(self, room: str, look: VisualCheck) -> None:
        self._looks.setdefault(room, []).append(look)

    def looks(self) -> Iterator[Finding]:
        """One look for each room: its parts, the facts it rests on, and what is asked of them."""
        for room, parts in self._looks.items():
            asked: dict[str, Any] = {}
            for part in parts:
                for point in part.data.get("points", ()):
                    if point.holds is None:
                        asked[point.name] = point.asked
            look = []
            for part in parts:
                look.append(part.name)
            rests_on = []
            for part in parts:
                rests_on.append(part.rests_on)
            data = {
                "look": look,
                "rests_on": rests_on,
                "asked": asked,
            }
            spot = self.site.room_spot(self.site.rooms[room])
            yield Finding(self.this, f"room:{room}", Verdict.LOOK, spot, data, self.limits)


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
        found = judge(box)
        if found is not None:
            yield from here.box(box, found)
    yield from here.looks()


def cables_judged(
    this: Rule,
    site: HouseByCode,
    cables: Iterable[Cable],
    judge: Callable[[Cable], Judged],
    limits: tuple[Limit, ...],
) -> Iterator[Finding]:
    """The same for cables; a cable is looked at in each room where it ends."""
    here = Round(this, site, limits)
    for cable in cables:
        yield from here.cable(cable, judge(cable))
    yield from here.looks()


def tell_look(finding: Finding, asks: str, limit: str) -> FindingWords:
    """What to look for at the parts of a room that nobody recorded."""
    parts = finding.facts["look"]
    more = len(parts) - SAID
    if more <= 1:
        some = parts
    else:
        some = [*parts[:SAID], f"{more} more"]
    return FindingWords(
        f"Look at {listed(some)}: {asks}.",
        "not recorded",
        limit,
        (f"not recorded of {listed(parts)}", f"asked: {limit}"),
        "Look and tick, or record what you find.",
    )


def measured_finding(
    finding: Finding,
    figure: str,
    limit: str,
    says: str,
    remedy: str,
    *working: str,
) -> FindingWords:
    """A finding with a figure: `remedy` says what to do when it is short, or what to record."""
    if finding.verdict is Verdict.MEETS:
        remedy = ""
    return FindingWords(says, figure, limit, working or (f"{figure}; {limit} asked",), remedy)
