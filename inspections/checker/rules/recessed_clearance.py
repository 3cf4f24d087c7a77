"""Recessed lights and what burns around them."""

from collections.abc import Iterator
from dataclasses import replace

from inspections.checker.asking.fixing import recessed_facts
from inspections.checker.asking.points import (
    PointsFacts,
    PointWords,
    at_least,
    is_so,
    judged,
    point_words,
    tapes,
    teller,
)
from inspections.checker.asking.recessed import TYPE_IC, recessed_judged
from inspections.checker.asking.visual import Judged, RoomFacts

from ..finding import Finding, Rule, Scope, rule
from ..house.boxes import Box, Recessed
from ..measures import Comparator
from ..site import HouseByCode

NAME = "recessed-clearance"
NEAREST = "Light {part} is {figure} from combustible material; {limit} minimum."
WORDS = TYPE_IC | point_words(
    NAME,
    {
        "combustible_mm": PointWords(
            wrong=NEAREST,
            ok=NEAREST,
            missing="how far light {part} is from combustible material",
            remedy="Move it, or install a Type IC light.",
            verify="Recessed lights are Type IC, or {limit} or more from combustible material.",
            tape="nearest combustible material",
            way=Comparator.AT_LEAST,
        ),
    },
)


@rule(
    NAME,
    topic="recessed luminaires",
    title="Recessed lights clear of framing",
    tell=teller(WORDS),
    scope=Scope.ROOM,
    tapes=tapes(WORDS, "combustible_mm"),
    facts=PointsFacts | RoomFacts,
    workmanship=True,
    fixes=recessed_facts(WORDS, combustible_mm="combustible_mm", marked="insulation_contact"),
)
def recessed_clearance(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A recessed light is clear of framing and all else that burns.

    The points where it is held, and the edge of the opening, may touch. One that is marked for
    contact with insulation (Type IC) may touch framing too.
    """
    limit = site.rulebook.get(f"{NAME}.combustible_mm")
    if limit is None:
        return

    def judge(box: Box, found: Recessed) -> Judged:
        if found.insulation_contact:
            return judged(PointsFacts(box.id, (is_so("marked", True),)))
        clear = at_least("combustible_mm", found.combustible_mm, limit.value)
        if clear.holds or found.insulation_contact is False:
            return judged(PointsFacts(box.id, (clear,)))
        either = (is_so("marked", None), replace(clear, holds=None))
        return judged(PointsFacts(box.id, either))

    yield from recessed_judged(this, site, judge, (limit,))
