"""Luminaires and fans finished: hung, canopied, lamped and working."""

from collections.abc import Iterator

from config.messages.message import message
from inspections.checker.asking.finish_items import FinishFacts, look_words, room_looks

from ..finding import Finding, FindingWords, Rule, Scope, rule
from ..house.boxes import DeviceKind
from ..site import HouseByCode

NAME = "finish-luminaires"
KINDS = frozenset({DeviceKind.LUMINAIRE, DeviceKind.CEILING_FAN, DeviceKind.EXHAUST_FAN})
HUNG = message(f"{NAME}.hung", "Each light and fan is secure, with no gap at its canopy.")
WORKS = message(f"{NAME}.works", "It works from its switch, with lamps no larger than marked.")
SWITCH_ON = message(f"{NAME}.remedy", "Try each from its switch and read its lamp marking.")


def tell(finding: Finding) -> FindingWords:
    """What to verify of the lights and fans."""
    return look_words(finding, (HUNG(), WORKS()), SWITCH_ON())


@rule(
    NAME,
    topic="finish",
    title="Lights and fans hung",
    tell=tell,
    stage="finish",
    scope=Scope.ROOM,
    facts=FinishFacts,
    workmanship=True,
)
def finish_luminaires(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Every lighting outlet and fan outlet ends in something that is fixed, covered and works.

    A canopy leaves no gap to the finished surface, and the lamp is within the marking. One
    item a room, for eyes.
    """
    limit = site.rulebook.get(f"{NAME}.hung")
    if limit and limit.value:
        yield from room_looks(this, site, KINDS, (limit,))
