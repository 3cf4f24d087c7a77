"""Devices finished: in place, flush, covered, wired the right way round."""

from collections.abc import Iterator

from inspections.checker.asking.finish_items import look_words, room_looks

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


def tell(finding: Finding) -> FindingWords:
    """Which devices to look at."""
    asked = "each flush and tight with its plate on, receptacles tested for polarity and bonding"
    return look_words(finding, "the devices", asked)


@rule(
    NAME,
    topic="finish",
    title="Devices in place and covered",
    tell=tell,
    stage="finish",
    scope=Scope.ROOM,
)
def finish_devices(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Receptacles, switches and controls sit flush and tight, each with its cover plate.

    Receptacles are tested for polarity and for their bonding connection once live. Nothing
    of this can be computed before the finish, so it is one item a room for eyes and tester.
    """
    limit = site.rulebook.get(f"{NAME}.plates")
    if limit and limit.value:
        yield from room_looks(this, site, KINDS, (limit,))
