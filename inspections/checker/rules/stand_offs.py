"""Stand-offs where many cables run side by side along framing."""

from collections.abc import Iterator
from dataclasses import dataclass

from config.messages.message import Value, message
from inspections.checker.asking.fixing import done
from inspections.checker.asking.points import PointsFacts, at_most, is_so, judged
from inspections.checker.asking.told_alone import RoomCheck, room_told
from inspections.checker.asking.visual import Judged, PartKind, RoomFacts, Round
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix

from ..finding import Finding, FindingWords, Rule, Scope, Verdict, rule
from ..house.cables import Bundle
from ..site import HouseByCode

NAME = "stand-offs"
FEW = message(
    f"{NAME}.few",
    "{n} cables in bundle {bundle}; stand-offs required above {limit}.",
    one="{n} cable in bundle {bundle}; stand-offs required above {limit}.",
)
HELD = message(f"{NAME}.held", "Stand-offs hold bundle {bundle}.")
BARE = message(
    f"{NAME}.bare",
    "{n} cables in bundle {bundle} with no stand-offs; {limit} maximum.",
    one="{n} cable in bundle {bundle} with no stand-offs; {limit} maximum.",
)
REMEDY = message(f"{NAME}.remedy", "Install stand-offs.")
VERIFY = message(f"{NAME}.verify", "Stand-offs hold the bundled cables.")
COUNT = message(
    f"{NAME}.count",
    "{n} cables; {limit} maximum without stand-offs",
    one="{n} cable; {limit} maximum without stand-offs",
)


@dataclass(frozen=True, slots=True)
class StandOffFacts(PointsFacts):
    """A bundle by its stand-offs, or by so few cables that it needs none."""

    cables: int
    maximum: int


def tell(finding: Finding) -> FindingWords:
    """How many cables run side by side, and whether stand-offs hold them."""
    facts = finding.facts
    if isinstance(facts, RoomFacts):
        return room_told(facts, {"stand_offs": RoomCheck(VERIFY)})
    bundle: str = facts.part
    numbers: dict[str, Value] = {"n": facts.cables, "limit": facts.maximum}
    working = (COUNT(**numbers),)
    if finding.verdict is Verdict.NOT_TO_CODE:
        says = BARE(bundle=bundle, **numbers)
        return FindingWords(says, facts.cables, facts.maximum, working, REMEDY())
    if facts.cables > facts.maximum:
        return FindingWords(HELD(bundle=bundle), working=working)
    return FindingWords(FEW(bundle=bundle, **numbers), facts.cables, facts.maximum, working)


def _fixes(finding: Finding, _house: House) -> Iterator[Fix]:
    """Stand-offs on it."""
    if isinstance(finding.facts, StandOffFacts):
        yield done(("bundles", finding.facts.part, "stand_offs"))


@rule(
    NAME,
    topic="cables",
    title="Stand-offs for cables side by side",
    tell=tell,
    scope=Scope.WIRING,
    facts=StandOffFacts | RoomFacts,
    workmanship=True,
    fixes=_fixes,
)
def stand_offs(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Where more cables run side by side than fit on a stud, stand-offs hold them.

    So they keep their distance from the face that takes drywall, and from one another.
    """
    limit = site.rulebook.get(f"{NAME}.cables")
    if limit is None:
        return

    def judge(seen: Bundle) -> Judged:
        cables = len(set(seen.cables))
        point = at_most("cables", cables, limit.value)
        if not point.holds:
            point = is_so("stand_offs", seen.stand_offs)
        return judged(StandOffFacts(seen.id, (point,), cables, limit.value))

    here = Round(this, site, (limit,))
    for bundle in site.house.bundles:
        yield from here.part(bundle, PartKind.BUNDLE, judge(bundle))
    yield from here.rooms_to_verify()
