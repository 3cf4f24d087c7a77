"""Sheathed cable through metal framing."""

from collections.abc import Iterable, Iterator

from inspections.checker.asking.fixing import done
from inspections.checker.asking.points import (
    PointsFacts,
    PointWords,
    is_so,
    judged,
    point_words,
    teller,
)
from inspections.checker.asking.visual import PartKind, RoomFacts, Round
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, Rule, Scope, rule
from ..house.cables import Cable, CableKind
from ..site import HouseByCode

NAME = "metal-framing"
KINDS = (CableKind.NM, CableKind.UF)
WORDS = point_words(
    NAME,
    {
        "bushed": PointWords(
            wrong="Hole {part} in metal has no bushing or grommet.",
            ok="A bushing or grommet covers the edges of hole {part}.",
            missing="whether hole {part} has a bushing or grommet",
            remedy="Install a bushing that covers the metal edges.",
            verify="Bushings or grommets cover the edges of holes in metal.",
        ),
        "fished": PointWords(
            wrong="Cable {part} is fished through metal.",
            ok="Cable {part} is fished through wood.",
            missing="whether cable {part} is fished through metal",
            remedy="Re-pull it through bushed holes, or use armoured cable (AC90).",
            verify="No cable is fished through metal.",
        ),
    },
)


def _fixes(finding: Finding, _house: House) -> Iterator[Fix]:
    """A bushing; a cable that is not fished through metal."""
    if not isinstance(finding.facts, PointsFacts):
        return
    for point in finding.facts.points:
        if point.name == "bushed":
            yield done(("holes", finding.facts.part, "bushed"))
        else:
            yield done(("cables", finding.facts.part, "fished"), False)


@rule(
    NAME,
    topic="cables",
    title="Cables through metal framing",
    tell=teller(WORDS),
    scope=Scope.WIRING,
    facts=PointsFacts | RoomFacts,
    workmanship=True,
    fixes=_fixes,
)
def metal_framing(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A sheathed cable goes through a metal stud or joist in a bushing that covers its edges.

    Where the code says so, it is not fished through metal framing at all, since nobody sees
    the edges that it is drawn over.
    """
    book = site.rulebook
    limits = tuple(book.limits_of(NAME))
    if not book.value(f"{NAME}.bushed"):
        return
    here = Round(this, site, limits)
    cables = {cable.id: cable for cable in site.house.cables if cable.kind in KINDS}
    for hole in site.house.holes:
        if hole.metal and cables.keys() & set(hole.cables):
            found = judged(PointsFacts(hole.id, (is_so("bushed", hole.bushed),)))
            yield from here.part(hole, PartKind.HOLE, found, "hole/")
    if book.value(f"{NAME}.fished") is False:
        yield from _fished(here, cables.values())
    yield from here.rooms_to_verify()


def _fished(here: Round, cables: Iterable[Cable]) -> Iterator[Finding]:
    for cable in cables:
        if cable.fished and cable.metal_framing is not False:
            point = is_so("fished", cable.metal_framing, False)
            yield from here.cable(cable, judged(PointsFacts(cable.id, (point,))))
