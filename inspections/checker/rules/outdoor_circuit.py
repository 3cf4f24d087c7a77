"""A circuit for the receptacles outdoors."""

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

NAME = "outdoor-circuit"
OUTSIDE = frozenset({RoomKind.OUTDOORS, RoomKind.PORCH})


@rule(
    NAME,
    topic="circuits",
    title="Outdoor receptacle circuit",
    tell=tell_use,
    scope=Scope.WIRING,
    facts=UseFacts,
)
def outdoor_circuit(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """Receptacles outdoors have a circuit that feeds nothing but them."""
    least = site.rulebook.get(f"{NAME}.breaker_a")
    if least is None:
        return
    rooms = []
    for room in site.house.rooms:
        if room.kind in OUTSIDE:
            rooms.append(room)
    names = set()
    for room in rooms:
        names.add(room.id)

    def belongs(outlet: SuppliedDevice, _: str) -> bool:
        return outlet.box.room in names and outlet.device.kind is DeviceKind.RECEPTACLE

    use = CircuitUse(Use.OUTDOORS, least, belongs)
    yield from use_findings(this, site, use, receptacles_of(site, rooms), (least,))
