"""Sheathed cable through metal framing."""

from collections.abc import Iterable, Iterator

from inspections.checker.asking.loose_points import Asked, is_so, judged, teller
from inspections.checker.asking.loose_visual import Round

from ..finding import Finding, Rule, Scope, rule
from ..house.cables import Cable, CableKind
from ..site import HouseByCode

NAME = "metal-framing"
KINDS = (CableKind.NM, CableKind.UF)
WORDS = {
    "bushed": Asked(
        "bushing or grommet that covers the metal's edges", "Put in bushings before the cable."
    ),
    "fished": Asked(
        "fished through metal framing", "Draw the cable through bushed holes, or in armour."
    ),
}


@rule(
    NAME,
    topic="cables",
    title="Cables through metal framing",
    tell=teller(WORDS),
    scope=Scope.WIRING,
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
            yield from here.part(hole, "hole", judged([is_so("bushed", hole.bushed)]), "hole/")
    if book.value(f"{NAME}.fished") is False:
        yield from _fished(here, cables.values())
    yield from here.looks()


def _fished(here: Round, cables: Iterable[Cable]) -> Iterator[Finding]:
    for cable in cables:
        if cable.fished and cable.metal_framing is not False:
            point = is_so("fished", cable.metal_framing, asked=False)
            yield from here.cable(cable, judged([point]))
