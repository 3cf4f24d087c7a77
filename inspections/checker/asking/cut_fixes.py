"""What settles a hole or a notch in framing that takes too much of it."""

from collections.abc import Iterator

from inspections.checker.asking.fixing import Fixes, done, figure
from inspections.checker.asking.framing import CutFacts
from inspections.checker.asking.points import Point
from inspections.checker.finding import Finding
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix
from inspections.checker.house.paths import Path


def cut_fixes(among: str, size: str) -> Fixes:
    """Of holes or notches, whose size across the member is that fact."""

    def fixes(finding: Finding, _house: House) -> Iterator[Fix]:
        facts = finding.facts
        if isinstance(facts, CutFacts):
            for point in facts.points:
                if not point.holds:
                    yield from _point(among, size, facts, point)

    return fixes


def _point(among: str, size: str, facts: CutFacts, point: Point) -> Iterator[Fix]:
    part: Path = (among, facts.part)
    if isinstance(point.limit, bool):
        yield done((*part, point.name), point.limit)
        return
    limit = float(point.limit or 0)
    if point.name.endswith("edge_mm"):
        yield figure((*part, "edge_mm"), least=limit, taped=True)
    elif facts.member_mm is None:
        yield figure((*part, "member_mm"))
    elif point.name == "bearing_percent":
        yield figure((*part, "bearing_mm"), most=limit / 100 * facts.member_mm)
    elif point.name.endswith("left_mm"):
        yield figure((*part, size), most=facts.member_mm - limit)
    else:
        yield figure((*part, size), most=limit / 100 * facts.member_mm)
        if among == "holes" and point.name == "stud_bearing_percent":
            yield done((*part, "doubled"))
