"""Cable sheath that reaches into the box."""

from collections.abc import Iterator

from inspections.checker.asking.fixing import box_facts
from inspections.checker.asking.points import (
    PointsFacts,
    PointWords,
    at_least,
    judged,
    point_words,
    tapes,
    teller,
)
from inspections.checker.asking.visual import Judged, RoomFacts, boxes_judged

from ..finding import Finding, Rule, Scope, rule
from ..house.boxes import Box
from ..house.cables import CableKind
from ..measures import Comparator
from ..site import HouseByCode

NAME = "sheath-in-box"
SHEATHED = (CableKind.NM, CableKind.UF)
REACHES = "Sheath reaches {figure} into box {part}; {limit} minimum."
WORDS = point_words(
    NAME,
    {
        "sheath_mm": PointWords(
            wrong=REACHES,
            ok=REACHES,
            missing="how far sheath reaches into box {part}",
            remedy="Pull in more, past any clamp.",
            verify="Sheath reaches {limit} or more into each box, past any clamp.",
            tape="sheath inside the box",
            way=Comparator.AT_LEAST,
        ),
    },
)


@rule(
    NAME,
    topic="boxes",
    title="Sheath into the box",
    tell=teller(WORDS),
    scope=Scope.ROOM,
    tapes=tapes(WORDS, "sheath_mm"),
    facts=PointsFacts | RoomFacts,
    workmanship=True,
    fixes=box_facts(WORDS, sheath_mm="sheath_mm"),
)
def sheath_in_box(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """The sheath of a nonmetallic cable reaches into the box, beyond any clamp.

    Conductors without their sheath outside the box have nothing to protect them.
    """
    limit = site.rulebook.get(f"{NAME}.sheath_mm")
    if limit is None:
        return

    def judge(box: Box) -> Judged:
        return judged(PointsFacts(box.id, (at_least("sheath_mm", box.sheath_mm, limit.value),)))

    boxes = (box for box in site.house.boxes if _has_sheathed(site, box))
    yield from boxes_judged(this, site, boxes, judge, (limit,))


def _has_sheathed(site: HouseByCode, box: Box) -> bool:
    for entry in site.wiring.power_at(box.id):
        if entry.cable.kind in SHEATHED:
            return True
    return False
