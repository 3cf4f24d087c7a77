"""Cable sheath that reaches into the box."""

from collections.abc import Iterator

from inspections.checker.asking.loose_points import Asked, at_least, judged, tapes, teller
from inspections.checker.asking.loose_visual import Judged, boxes_judged

from ..finding import Finding, Rule, Scope, rule
from ..house.boxes import Box
from ..house.cables import CableKind
from ..site import HouseByCode

NAME = "sheath-in-box"
SHEATHED = (CableKind.NM, CableKind.UF)
WORDS = {
    "sheath_mm": Asked("sheath inside the box", "Draw more sheath into the box.", "at least"),
}


@rule(
    NAME,
    topic="boxes",
    title="Sheath into the box",
    tell=teller(WORDS),
    scope=Scope.ROOM,
    tapes=tapes(WORDS, "sheath_mm"),
)
def sheath_in_box(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """The sheath of a nonmetallic cable reaches into the box, beyond any clamp.

    Conductors without their sheath outside the box have nothing to protect them.
    """
    limit = site.rulebook.get(f"{NAME}.sheath_mm")
    if limit is None:
        return

    def judge(box: Box) -> Judged:
        return judged([at_least("sheath_mm", box.sheath_mm, limit.value)])

    boxes = (box for box in site.house.boxes if _has_sheathed(site, box))
    yield from boxes_judged(this, site, boxes, judge, (limit,))


def _has_sheathed(site: HouseByCode, box: Box) -> bool:
    for entry in site.wiring.power_at(box.id):
        if entry.cable.kind in SHEATHED:
            return True
    return False
