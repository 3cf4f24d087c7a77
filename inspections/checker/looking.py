"""What eyes settle: computed where somebody recorded it, one look for each room where not."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any, NamedTuple

from .finding import Finding, Rule, Verdict, Words
from .house.boxes import Box
from .house.cables import Cable
from .rulebook import Limit
from .site import Site
from .words import listed

Judged = tuple[Verdict, Mapping[str, Any]] | None
"""A verdict with the facts and figures it rests on; None when nothing is asked of the part."""


class Look(NamedTuple):
    """A part that waits for eyes: its name, the facts a look rests on, and what is asked."""

    name: str
    rests_on: Any
    data: Mapping[str, Any]


Looks = dict[str, list[Look]]


def boxes_judged(
    this: Rule,
    site: Site,
    boxes: Iterable[Box],
    judge: Callable[[Box], Judged],
    limits: tuple[Limit, ...],
) -> Iterator[Finding]:
    """A finding for each box; those that `judge` leaves to eyes are gathered room by room."""
    looks: Looks = {}
    for box in boxes:
        if (found := judge(box)) is None:
            continue
        verdict, data = found
        if verdict is Verdict.LOOK:
            stands = (box.id, box.gangs, *box.place.__dict__.values())
            looks.setdefault(box.room, []).append(Look(box.id, stands, data))
        else:
            yield Finding(this, box.id, verdict, site.box_spot(box), data, limits)
    yield from looked(this, site, looks, limits)


def cables_judged(
    this: Rule,
    site: Site,
    cables: Iterable[Cable],
    judge: Callable[[Cable], Judged],
    limits: tuple[Limit, ...],
) -> Iterator[Finding]:
    """The same for cables; a cable is looked at in each room where it ends."""
    looks: Looks = {}
    for cable in cables:
        if (found := judge(cable)) is None:
            continue
        verdict, data = found
        if verdict is Verdict.LOOK:
            for room in site.rooms_of(cable):
                looks.setdefault(room, []).append(Look(cable.id, run_of(cable), data))
        else:
            yield Finding(this, cable.id, verdict, site.cable_spot(cable), data, limits)
    yield from looked(this, site, looks, limits)


def run_of(cable: Cable) -> Any:
    """What a look at a cable rests on: another run is another cable to the eye."""
    return (cable.id, cable.ends, cable.length_mm)


def looked(this: Rule, site: Site, looks: Looks, limits: tuple[Limit, ...]) -> Iterator[Finding]:
    """One look for each room: its parts, the facts it rests on, and what is asked of them."""
    for room, parts in looks.items():
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
        spot = site.room_spot(site.rooms[room])
        yield Finding(this, f"room:{room}", Verdict.LOOK, spot, data, limits)


def tell_look(finding: Finding, asks: str, limit: str) -> Words:
    """What to look for at the parts of a room that nobody recorded."""
    parts = listed(finding.data["look"])
    return Words(
        f"Look at {parts}: {asks}.",
        "not recorded",
        limit,
        (f"not recorded of {parts}", f"asked: {limit}"),
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
