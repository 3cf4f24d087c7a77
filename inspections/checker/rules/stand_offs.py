"""Stand-offs where many cables run side by side along framing."""

from collections.abc import Iterator

from inspections.checker.asking.loose_points import Asked, is_so, judged, measure_at_most, teller
from inspections.checker.asking.loose_visual import Judged, Round

from ..finding import Finding, Rule, Scope, rule
from ..house.cables import Bundle
from ..site import HouseByCode

NAME = "stand-offs"
WORDS = {
    "cables": Asked("cables side by side on framing", "Put up stand-offs.", "at most"),
    "stand_offs": Asked("held by stand-offs", "Put up stand-offs."),
}


@rule(
    NAME,
    topic="cables",
    title="Stand-offs for cables side by side",
    tell=teller(WORDS),
    scope=Scope.WIRING,
)
def stand_offs(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Where more cables run side by side than fit on a stud, stand-offs hold them.

    So they keep their distance from the face that will be boarded, and from one another.
    """
    limit = site.rulebook.get(f"{NAME}.cables")
    if limit is None:
        return

    def judge(seen: Bundle) -> Judged:
        count = measure_at_most("cables", len(set(seen.cables)), limit.value)
        return judged([count if count.holds else is_so("stand_offs", seen.stand_offs)])

    here = Round(this, site, (limit,))
    for bundle in site.house.bundles:
        yield from here.part(bundle, "bundle", judge(bundle))
    yield from here.looks()
