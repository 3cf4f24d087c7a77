"""Devices finished: in place, flush, covered, wired the right way round."""

from collections.abc import Iterator

from config.messages.message import message
from inspections.checker.asking.finish_items import FinishFacts, look_words, room_looks

from ..finding import Finding, FindingWords, Rule, Scope, rule
from ..house.boxes import DeviceKind
from ..site import HouseByCode

NAME = "finish-devices"
KINDS = frozenset(
    {
        DeviceKind.RECEPTACLE,
        DeviceKind.SWITCH,
        DeviceKind.DIMMER,
        DeviceKind.FAN_CONTROL,
        DeviceKind.THERMOSTAT,
        DeviceKind.DISCONNECT,
    }
)
TIGHT = message(f"{NAME}.tight", "Each device is tight and flush, with its plate on.")
TESTED = {
    "NEC": message(f"{NAME}.tested.nec", "Receptacles test right for polarity and grounding."),
    "CEC": message(f"{NAME}.tested.cec", "Receptacles test right for polarity and bonding."),
}
TRY = message(f"{NAME}.remedy", "Check each by hand, and plug a tester into each receptacle.")
NO_RECEPTACLE = message(f"{NAME}.plates.remedy", "Check each by hand.")


def tell(finding: Finding) -> FindingWords:
    """What to verify of the devices."""
    facts: FinishFacts = finding.facts
    for each in facts.boxes:
        if DeviceKind.RECEPTACLE in each.devices:
            return look_words(finding, (TIGHT(), TESTED[finding.code]()), TRY())
    return look_words(finding, (TIGHT(),), NO_RECEPTACLE())


@rule(
    NAME,
    topic="finish",
    title="Devices in place and covered",
    tell=tell,
    stage="finish",
    scope=Scope.ROOM,
    facts=FinishFacts,
    workmanship=True,
)
def finish_devices(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Receptacles, switches and controls sit flush and tight, each with its cover plate.

    Receptacles are tested for polarity and for their bonding connection once live. Nothing
    of this can be computed before the finish, so it is one item a room for eyes and tester.
    """
    limit = site.rulebook.get(f"{NAME}.plates")
    if limit and limit.value:
        yield from room_looks(this, site, KINDS, (limit,))
