"""What eyes settle: computed where somebody recorded it, one look for each room where not."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import Any

from .finding import Finding, Rule, Verdict, Words
from .house.boxes import Box
from .house.cables import Cable
from .rulebook import Limit
from .site import Site
from .words import listed

Judged = tuple[Verdict, Mapping[str, Any]]
"""A verdict with the facts and figures it rests on."""


def boxes_judged(
    this: Rule,
    site: Site,
    boxes: Iterable[Box],
    judge: Callable[[Box], Judged],
    limits: tuple[Limit, ...],
) -> Iterator[Finding]:
    """A finding for each box; those that `judge` leaves to eyes are gathered room by room."""
    looks: dict[str, list[tuple[str, Any]]] = {}
    for box in boxes:
        verdict, data = judge(box)
        if verdict is Verdict.LOOK:
            stands = (box.id, box.gangs, *box.place.__dict__.values())
            looks.setdefault(box.room, []).append((box.id, stands))
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
    looks: dict[str, list[tuple[str, Any]]] = {}
    for cable in cables:
        verdict, data = judge(cable)
        if verdict is Verdict.LOOK:
            for room in site.rooms_of(cable):
                looks.setdefault(room, []).append((cable.id, run_of(cable)))
        else:
            yield Finding(this, cable.id, verdict, site.cable_spot(cable), data, limits)
    yield from looked(this, site, looks, limits)


def run_of(cable: Cable) -> Any:
    """What a look at a cable rests on: another run is another cable to the eye."""
    return (cable.id, cable.ends, cable.length_mm)


def looked(
    this: Rule,
    site: Site,
    looks: Mapping[str, Sequence[tuple[str, Any]]],
    limits: tuple[Limit, ...],
) -> Iterator[Finding]:
    """One look for each room, with the names of the parts and the facts it rests on."""
    asked = {limit.name.partition(".")[2]: limit.value for limit in limits}
    for room, parts in looks.items():
        data = {
            "look": [name for name, _ in parts],
            "rest": [facts for _, facts in parts],
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
        (f"nothing is recorded of {parts}", f"asked: {limit}"),
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
