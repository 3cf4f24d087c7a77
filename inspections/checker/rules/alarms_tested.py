"""Smoke and carbon monoxide alarms tested at the finish."""

from collections.abc import Iterator

from inspections.checker.asking.finish_items import look_words, room_looks

from ..finding import Finding, FindingWords, Rule, Scope, rule
from ..house.boxes import DeviceKind
from ..site import HouseByCode

NAME = "alarms-tested"
KINDS = frozenset({DeviceKind.SMOKE_ALARM, DeviceKind.CO_ALARM, DeviceKind.COMBINED_ALARM})


def tell(finding: Finding) -> FindingWords:
    """Which alarms to test."""
    asked = "each sounds by its button and sounds all the others, with its date and no dust cap"
    return look_words(finding, "the alarms", asked)


@rule(NAME, topic="finish", title="Alarms tested", tell=tell, stage="finish", scope=Scope.ROOM)
def alarms_tested(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Each alarm is sounded by its own button once the circuit is live.

    Interconnected alarms all sound with it; dust caps are off and the date on it is good. One
    item a room, for ears.
    """
    limit = site.rulebook.get(f"{NAME}.sounded")
    if limit and limit.value:
        yield from room_looks(this, site, KINDS, (limit,))
