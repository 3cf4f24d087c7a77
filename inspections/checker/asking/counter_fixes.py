"""What settles a space of a wall counter that no receptacle reaches."""

from collections.abc import Iterator

from inspections.checker.asking.coverage import Lack
from inspections.checker.asking.fixing import figure
from inspections.checker.asking.line_fixes import lacking_fixes, receptacle_in
from inspections.checker.asking.receptacles import USUAL_TOP_MM
from inspections.checker.finding import Finding, Verdict
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix
from inspections.checker.house.paths import Path

ABOVE_TOP_MM = 200.0
"""Where a receptacle over a counter is set, whose height the person who sets it corrects."""


def counter_fixes(finding: Finding, house: House) -> Iterator[Fix]:
    """A receptacle over it; while the height of one is missing, that height."""
    top = _top(finding, house)
    if finding.verdict is Verdict.INFO_NEEDED:
        most = None
        for limit in finding.limits:
            if limit.name.endswith(".max_above_mm"):
                most = top + limit.value
        for each in sorted(finding.facts.missing, key=lambda each: each.part):
            if each.what is Lack.ABOVE:
                path: Path = ("boxes", each.part, "place", "height_mm")
                yield figure(path, least=top, most=most)
        yield from lacking_fixes(finding.facts)
        return
    for gap in finding.facts.gaps:
        yield receptacle_in(finding, house, gap, top + ABOVE_TOP_MM)


def _top(finding: Finding, house: House) -> float:
    """The height of the counter that the finding is about."""
    for counter in house.counters:
        if finding.subject.startswith(f"{counter.id}."):
            return counter.top_mm or USUAL_TOP_MM
    return USUAL_TOP_MM
