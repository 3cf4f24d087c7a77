"""Staples: one cable under each, or as many as it is listed for, and none on edge."""

from collections.abc import Iterator

from inspections.checker.asking.points import Asked, Point, is_so, judged, measure_at_most, teller
from inspections.checker.asking.visual import Judged, Round

from ..finding import Finding, Rule, Scope, rule
from ..house.cables import CableKind, Fastening
from ..site import HouseByCode

NAME = "staples"
STAPLED = (CableKind.NM, CableKind.UF)
WORDS = {
    "cables": Asked(
        "cables under one staple", "Part them, or use a staple listed for so many.", "at most"
    ),
    "on_edge": Asked("stapled on its narrow edge", "Turn the cable flat under the staple."),
    "listed": Asked("listed for the cables it holds", "Read its package and record it."),
}


@rule(NAME, topic="cables", title="Staples", tell=teller(WORDS), scope=Scope.WIRING)
def staples(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A staple holds one cable, or as many as it is listed for; a flat cable lies flat.

    A cable of which no fastening is recorded in a room where it ends is left to eyes.
    """
    book = site.rulebook
    if f"{NAME}.cables" not in book:
        return
    limits = (book[f"{NAME}.cables"], book[f"{NAME}.on_edge"])
    most, edge = limits[0].value, limits[1].value
    stapled = {}
    for cable in site.house.cables:
        if cable.kind in STAPLED:
            stapled[cable.id] = cable

    def judge(seen: Fastening) -> Judged:
        count = len(stapled.keys() & set(seen.cables))
        points = [is_so("on_edge", seen.on_edge, edge)]
        if count <= most or seen.listed_for is not None:
            points.append(measure_at_most("cables", count, max(most, seen.listed_for or 0)))
        else:
            points.append(Point("listed", None, True, None))
        return judged(points)

    here = Round(this, site, limits)
    done = set()
    for seen in site.house.fastenings:
        if stapled.keys() & set(seen.cables):
            for name in seen.cables:
                done.add((name, seen.room))
            yield from here.part(seen, "staple", judge(seen))
    asked = judged([measure_at_most("cables", None, most), is_so("on_edge", None, edge)])
    yield from here.remaining(stapled.values(), done, asked)
    yield from here.looks()
