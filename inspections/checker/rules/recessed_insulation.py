"""Recessed lights and the insulation around them."""

from collections.abc import Iterator

from config.messages.message import Message, message
from inspections.checker.asking.fixing import done, figure, light_path
from inspections.checker.asking.points import (
    DUST,
    Point,
    PointsFacts,
    at_least,
    is_so,
    judged,
)
from inspections.checker.asking.recessed import TYPE_IC, recessed_judged
from inspections.checker.asking.told_alone import found_in, limit_of, not_recorded, points_by_name
from inspections.checker.asking.visual import Judged
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.boxes import Box, Recessed
from ..measures import Comparator, Tape, point_limit
from ..site import HouseByCode

NAME = "recessed-insulation"
WAY = Comparator.AT_LEAST
NOT_BY_EYE = ("marked", "insulated", "insulation_mm")
GAP = message(f"{NAME}.gap", "Light {light} is {figure} from insulation; {limit} minimum.")
DRY = message(f"{NAME}.dry", "No insulation goes around light {light}.")
REMEDY = message(
    f"{NAME}.remedy", "Install a Type IC light, or a barrier to hold the insulation back."
)
GAP_LINE = message(f"{NAME}.gap-line", "distance {figure}, {limit} minimum")
NOT_IC_LINE = message(f"{NAME}.not-ic-line", "not marked Type IC")
INSULATED_LINE = message(f"{NAME}.insulated-line", "insulation in its cavity")
TAPE = message(f"{NAME}.tape", "nearest insulation")
MISSING: dict[str, Message] = {
    "marked": TYPE_IC["marked"].missing,
    "insulated": message(
        f"{NAME}.insulated-missing", "whether the cavity of light {part} is insulated"
    ),
    "insulation_mm": message(f"{NAME}.gap-missing", "how far light {part} is from insulation"),
}


def tell(finding: Finding) -> FindingWords:
    """How far the insulation is from the light, or why that is nothing to it."""
    facts: PointsFacts = finding.facts
    if finding.verdict is Verdict.INFO_NEEDED:
        return not_recorded(facts, MISSING)
    points = points_by_name(facts)
    gap = points.get("insulation_mm")
    if gap is not None:
        return _tell_gap(facts.part, gap, finding.verdict)
    says = DRY(light=facts.part)
    if "marked" in points:
        says = TYPE_IC["marked"].ok(part=facts.part)
    return FindingWords(says, working=(says,))


def _tell_gap(light: str, gap: Point, verdict: Verdict) -> FindingWords:
    figure, limit = found_in(gap, WAY), limit_of(gap, WAY)
    says = GAP(light=light, figure=figure, limit=limit)
    line = GAP_LINE(figure=figure, limit=limit)
    if verdict is Verdict.OK:
        return FindingWords(says, figure, limit, (line,))
    return FindingWords(says, figure, limit, (NOT_IC_LINE(), INSULATED_LINE(), line), REMEDY())


def _fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """A light marked for it, no insulation there, or insulation kept off."""
    facts = finding.facts
    path = (*light_path(house, facts.part), "recessed")
    for point in facts.points:
        if point.name == "marked":
            yield done((*path, "insulation_contact"))
        elif point.name == "insulated":
            yield done((*path, "insulated"), False)
        else:
            yield figure((*path, "insulation_mm"), point.limit, taped=True)


@rule(
    NAME,
    topic="recessed luminaires",
    title="Recessed lights in insulation",
    tell=tell,
    scope=Scope.ROOM,
    tapes=(Tape(TAPE, WAY, "insulation_mm", point_limit("insulation_mm")),),
    facts=PointsFacts,
    workmanship=True,
    fixes=_fixes,
)
def recessed_insulation(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A recessed light that insulation touches is marked for it (Type IC).

    From any other the insulation is kept off by the distance that the code gives. One that is
    marked may be anywhere.
    """
    limit = site.rulebook.get(f"{NAME}.insulation_mm")
    if limit is None:
        return
    minimum = limit.value
    yield from recessed_judged(this, site, lambda box, r: _judged(box, r, minimum), (limit,))


def _judged(box: Box, found: Recessed, minimum: float) -> Judged:
    gap = found.insulation_mm
    if found.insulation_contact:
        return judged(PointsFacts(box.id, (is_so("marked", True),)))
    if found.insulated is False:
        return judged(PointsFacts(box.id, (Point("insulated", False, False, True),)))
    if gap is not None and gap >= minimum - DUST:
        return judged(PointsFacts(box.id, (at_least("insulation_mm", gap, minimum),)))
    needed = (
        is_so("marked", found.insulation_contact),
        is_so("insulated", found.insulated, False),
        at_least("insulation_mm", gap, minimum),
    )
    missing = tuple(point for point in needed if point.holds is None)
    return judged(PointsFacts(box.id, missing or needed), NOT_BY_EYE)
