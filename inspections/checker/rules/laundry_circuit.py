"""A circuit for the receptacles of the laundry."""

from collections.abc import Iterator

from inspections.checker.asking.use_circuits import (
    CircuitUse,
    Use,
    UseFacts,
    receptacles_of,
    tell_use,
    use_findings,
)
from inspections.checker.graph.supply import SuppliedDevice

from ..finding import Finding, Rule, Scope, rule
from ..house.boxes import DeviceKind
from ..house.rooms import RoomKind
from ..site import HouseByCode

NAME = "laundry-circuit"


@rule(
    NAME,
    topic="circuits",
    title="Laundry circuit",
    tell=tell_use,
    scope=Scope.WIRING,
    facts=UseFacts,
)
def laundry_circuit(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """The laundry has a circuit that feeds its receptacles and nothing else.

    Laundry is a laundry room, or the room where a receptacle is there for the washer.
    """
    least = site.rulebook.get(f"{NAME}.breaker_a")
    if least is None:
        return
    washers = set()
    for box in site.house.boxes:
        for device in box.devices:
            if (device.dedicated_to or "").lower().startswith("wash"):
                washers.add(box.room)
    rooms = []
    for r in site.house.rooms:
        if r.kind is RoomKind.LAUNDRY or r.id in washers:
            rooms.append(r)
    names = set()
    for room in rooms:
        names.add(room.id)

    def belongs(outlet: SuppliedDevice, _: str) -> bool:
        return outlet.box.room in names and outlet.device.kind is DeviceKind.RECEPTACLE

    use = CircuitUse(Use.LAUNDRY, least, belongs)
    yield from use_findings(this, site, use, receptacles_of(site, rooms), (least,))
