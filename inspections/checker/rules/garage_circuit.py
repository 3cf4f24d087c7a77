"""A circuit for the receptacles of the garage."""

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

NAME = "garage-circuit"
OUTSIDE = frozenset({RoomKind.OUTDOORS, RoomKind.PORCH})


@rule(
    NAME,
    topic="circuits",
    title="Garage circuit",
    tell=tell_use,
    scope=Scope.WIRING,
    facts=UseFacts,
)
def garage_circuit(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """The garage has a circuit for its receptacles.

    One code lets outdoor receptacles share it, another the garage's own lights.
    """
    book = site.rulebook
    least = book.get(f"{NAME}.breaker_a")
    if least is None:
        return
    outdoors, lights = (book.get(f"{NAME}.{name}") for name in ("outdoors", "lights"))
    rooms = []
    for room in site.house.rooms:
        if room.kind is RoomKind.GARAGE:
            rooms.append(room)
    names = set()
    for room in rooms:
        names.add(room.id)

    def belongs(outlet: SuppliedDevice, _: str) -> bool:
        receptacle = outlet.device.kind is DeviceKind.RECEPTACLE
        if outlet.box.room in names:
            return receptacle or bool(lights and lights.value)
        outside = site.rooms[outlet.box.room].kind in OUTSIDE
        return receptacle and outside and bool(outdoors and outdoors.value)

    use = CircuitUse(Use.GARAGE, least, belongs)
    limits = []
    for limit in (least, outdoors, lights):
        if limit:
            limits.append(limit)
    yield from use_findings(this, site, use, receptacles_of(site, rooms), tuple(limits))
