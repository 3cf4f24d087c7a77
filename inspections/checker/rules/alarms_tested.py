"""Smoke and carbon monoxide alarms tested at the finish."""

from collections.abc import Iterator

from config.messages.message import message
from inspections.checker.asking.finish_items import FinishFacts, look_words, room_looks

from ..finding import Finding, FindingWords, Rule, Scope, rule
from ..house.boxes import DeviceKind
from ..site import HouseByCode

NAME = "alarms-tested"
KINDS = frozenset({DeviceKind.SMOKE_ALARM, DeviceKind.CO_ALARM, DeviceKind.COMBINED_ALARM})
SOUNDS = message(f"{NAME}.sounds", "Each alarm sounds and sets off all the others.")
IN_DATE = message(f"{NAME}.in-date", "Dates are good and dust caps are off.")
PRESS = message(f"{NAME}.remedy", "Press each test button with the circuit live.")


def tell(finding: Finding) -> FindingWords:
    """What to verify of the alarms."""
    return look_words(finding, (SOUNDS(), IN_DATE()), PRESS())


@rule(
    NAME,
    topic="finish",
    title="Alarms tested",
    tell=tell,
    stage="finish",
    scope=Scope.ROOM,
    facts=FinishFacts,
    workmanship=True,
)
def alarms_tested(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Each alarm is sounded by its own button once the circuit is live.

    Interconnected alarms all sound with it; dust caps are off and the date on it is good. One
    item a room, for ears.
    """
    limit = site.rulebook.get(f"{NAME}.sounded")
    if limit and limit.value:
        yield from room_looks(this, site, KINDS, (limit,))
