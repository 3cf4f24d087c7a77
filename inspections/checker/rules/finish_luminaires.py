"""Luminaires and fans finished: hung, canopied, lamped and working."""

from collections.abc import Iterator

from inspections.checker.asking.finish_items import look_words, room_looks

from ..finding import Finding, FindingWords, Rule, Scope, rule
from ..house.boxes import DeviceKind
from ..site import HouseByCode

NAME = "finish-luminaires"
KINDS = frozenset({DeviceKind.LUMINAIRE, DeviceKind.CEILING_FAN, DeviceKind.EXHAUST_FAN})


def tell(finding: Finding) -> FindingWords:
    """Which luminaires and fans to look at."""
    asked = "each fixed to its box, canopy tight, lamped within its marking, worked by its switch"
    return look_words(finding, "the luminaires and fans", asked)


@rule(
    NAME,
    topic="finish",
    title="Luminaires and fans hung",
    tell=tell,
    stage="finish",
    scope=Scope.ROOM,
)
def finish_luminaires(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Every lighting outlet and fan outlet ends in something that is fixed, covered and works.

    A canopy leaves no gap to the finished surface, and the lamp is within the marking. One
    item a room, for eyes.
    """
    limit = site.rulebook.get(f"{NAME}.hung")
    if limit and limit.value:
        yield from room_looks(this, site, KINDS, (limit,))
