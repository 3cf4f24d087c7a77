"""Staples: one cable under each, or as many as it is listed for, and none on edge."""

from collections.abc import Iterator

from inspections.checker.asking.fixing import done, figure
from inspections.checker.asking.points import (
    Plural,
    Point,
    PointsFacts,
    PointWords,
    at_most,
    is_so,
    judged,
    point_words,
    teller,
)
from inspections.checker.asking.visual import Judged, PartKind, RoomFacts, Round
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix
from inspections.checker.house.paths import Path

from ..finding import Finding, Rule, Scope, rule
from ..house.cables import CableKind, Fastening
from ..measures import Comparator
from ..site import HouseByCode

NAME = "staples"
STAPLED = (CableKind.NM, CableKind.UF)
HOLDS = Plural(
    one="Staple {part} holds {figure} cable; {limit} allowed.",
    many="Staple {part} holds {figure} cables; {limit} allowed.",
)
WORDS = point_words(
    NAME,
    {
        "cables": PointWords(
            wrong=HOLDS,
            ok=HOLDS,
            missing="how many cables staple {part} holds",
            remedy="Separate them, or use a staple listed for {figure}.",
            verify=Plural(
                one="{limit} cable under each staple.",
                many="No more than {limit} cables under each staple.",
                count="limit",
            ),
            way=Comparator.AT_MOST,
        ),
        "on_edge": PointWords(
            wrong="Staple {part} holds a flat cable on edge.",
            ok="The cable under staple {part} lies flat.",
            missing="whether the cable under staple {part} lies flat",
            remedy="Turn the cable flat and staple it again.",
            verify="No flat cable is stapled on edge.",
        ),
        "listed": PointWords(
            wrong="Staple {part} is not listed for the cables it holds.",
            ok="Staple {part} is listed for the cables it holds.",
            missing="how many cables staple {part} is listed for",
            remedy="Read its package and record it.",
            verify="Staples over several cables are listed for as many.",
        ),
    },
)


def _fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """A staple that is listed for them, or one cable under it; a flat cable laid flat."""
    if not isinstance(finding.facts, PointsFacts):
        return
    part: Path = ("fastenings", finding.facts.part)
    for point in finding.facts.points:
        if point.name == "on_edge" and not point.holds:
            yield done((*part, "on_edge"), point.limit)
        elif not point.holds:
            seen = next(each for each in house.fastenings if each.id == finding.facts.part)
            yield figure((*part, "listed_for"), least=len(seen.cables))
            yield done((*part, "cables"), list(seen.cables[:1]))


@rule(
    NAME,
    topic="cables",
    title="Staples",
    tell=teller(WORDS),
    scope=Scope.WIRING,
    facts=PointsFacts | RoomFacts,
    workmanship=True,
    fixes=_fixes,
)
def staples(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A staple holds one cable, or as many as it is listed for; a flat cable lies flat.

    A cable of which no fastening is recorded in a room where it ends is verified by eye.
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
        flat = is_so("on_edge", seen.on_edge, edge)
        number = Point("listed", None, True, None)
        if count <= most or seen.listed_for is not None:
            number = at_most("cables", count, max(most, seen.listed_for or 0))
        return judged(PointsFacts(seen.id, (flat, number)))

    here = Round(this, site, limits)
    done = set()
    for seen in site.house.fastenings:
        if stapled.keys() & set(seen.cables):
            for name in seen.cables:
                done.add((name, seen.room))
            yield from here.part(seen, PartKind.STAPLE, judge(seen))
    unseen = (at_most("cables", None, most), is_so("on_edge", None, edge))
    yield from here.remaining(stapled.values(), done, judged(PointsFacts("", unseen)))
    yield from here.rooms_to_verify()
