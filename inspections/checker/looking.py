"""What eyes settle: computed where somebody recorded it, one look for each room where not."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from .finding import Finding, Rule, Spot, Verdict, Words
from .house.boxes import Box
from .house.cables import Cable
from .rulebook import Limit
from .site import Site
from .words import listed

Judged = tuple[Verdict, Mapping[str, Any]] | None
"""A verdict with the facts and figures it rests on; None when nothing is asked of the part."""


SAID = 6
"""So many parts are named in a look; the working names all."""


class Look(NamedTuple):
    """A part that waits for eyes: its name, the facts a look rests on, and what is asked."""

    name: str
    rests_on: Any
    data: Mapping[str, Any]


class Round:
    """A rule's round through the house: findings as they come, and at its end the looks."""

    def __init__(self, this: Rule, site: Site, limits: tuple[Limit, ...]) -> None:
        self.this, self.site, self.limits = this, site, limits
        self._looks: dict[str, list[Look]] = {}
        self._named: Counter[str] = Counter()

    def numbered(self, name: str) -> str:
        """A subject for something without an id: the second of a name is `name/2`."""
        self._named[name] += 1
        return name if self._named[name] == 1 else f"{name}/{self._named[name]}"

    def settle(
        self,
        found: Judged,
        subject: str,
        spot: Callable[[], Spot],
        rooms: Iterable[str],
        look: tuple[str, Any],
    ) -> Iterator[Finding]:
        """The finding on one part; or keep it, by name and facts, for a look in each room."""
        if found is None:
            return
        verdict, data = found
        if verdict is Verdict.LOOK:
            for room in rooms:
                self._looks.setdefault(room, []).append(Look(*look, data))
        else:
            yield Finding(self.this, subject, verdict, spot(), data, self.limits)

    def box(self, box: Box, found: Judged) -> Iterator[Finding]:
        """The finding on a box."""
        stands = (box.id, box.gangs, *box.place.__dict__.values())
        spot = self.site.box_spot
        yield from self.settle(found, box.id, lambda: spot(box), (box.room,), (box.id, stands))

    def cable(self, cable: Cable, found: Judged, rooms: Sequence[str] = ()) -> Iterator[Finding]:
        """The finding on a cable; it is looked at in these rooms, or each where it ends."""
        spot, rooms = self.site.cable_spot, rooms or self.site.rooms_of(cable)
        run = (cable.id, cable.ends, cable.length_mm)
        yield from self.settle(found, cable.id, lambda: spot(cable), rooms, (cable.id, run))

    def run(
        self, cable: Cable, room: str, found: Judged, subject: str, look: tuple[str, Any]
    ) -> Iterator[Finding]:
        """The finding on a cable at one place of a room."""
        spot = self.site.cable_spot
        yield from self.settle(found, subject, lambda: spot(cable, room), (room,), look)

    def part(self, part: Any, noun: str, found: Judged, prefix: str = "") -> Iterator[Finding]:
        """The finding on something with an id, a room and cables: a hole, a staple."""
        name = f"{noun} {part.id}"
        room = self.site.rooms[part.room]
        spot = self.site.part_spot
        look = (name, (part.id, part.cables))
        yield from self.settle(
            found, f"{prefix}{part.id}", lambda: spot(room, name), (part.room,), look
        )

    def looks(self) -> Iterator[Finding]:
        """One look for each room: its parts, the facts it rests on, and what is asked of them."""
        for room, parts in self._looks.items():
            asked = {
                point.name: point.asked
                for part in parts
                for point in part.data.get("points", ())
                if point.holds is None
            }
            data = {
                "look": [part.name for part in parts],
                "rests_on": [part.rests_on for part in parts],
                "asked": asked,
            }
            spot = self.site.room_spot(self.site.rooms[room])
            yield Finding(self.this, f"room:{room}", Verdict.LOOK, spot, data, self.limits)


def boxes_judged(
    this: Rule,
    site: Site,
    boxes: Iterable[Box],
    judge: Callable[[Box], Judged],
    limits: tuple[Limit, ...],
) -> Iterator[Finding]:
    """A finding for each box; those that `judge` leaves to eyes are gathered room by room."""
    here = Round(this, site, limits)
    for box in boxes:
        yield from here.box(box, judge(box))
    yield from here.looks()


def cables_judged(
    this: Rule,
    site: Site,
    cables: Iterable[Cable],
    judge: Callable[[Cable], Judged],
    limits: tuple[Limit, ...],
) -> Iterator[Finding]:
    """The same for cables; a cable is looked at in each room where it ends."""
    here = Round(this, site, limits)
    for cable in cables:
        yield from here.cable(cable, judge(cable))
    yield from here.looks()


def tell_look(finding: Finding, asks: str, limit: str) -> Words:
    """What to look for at the parts of a room that nobody recorded."""
    parts = finding.data["look"]
    more = len(parts) - SAID
    some = parts if more <= 1 else [*parts[:SAID], f"{more} more"]
    return Words(
        f"Look at {listed(some)}: {asks}.",
        "not recorded",
        limit,
        (f"not recorded of {listed(parts)}", f"asked: {limit}"),
        "Look and tick, or record what you find.",
    )


def told(
    finding: Finding,
    figure: str,
    limit: str,
    says: str,
    mend: str,
    *working: str,
) -> Words:
    """A finding with a figure: `mend` says what to do when it is short, or what to record."""
    remedy = "" if finding.verdict is Verdict.MEETS else mend
    return Words(says, figure, limit, working or (f"{figure}; {limit} asked",), remedy)
