"""A circuit for the receptacles of bathrooms."""

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
from ..site import HouseByCode

NAME = "bathroom-circuit"


@rule(
    NAME,
    topic="circuits",
    title="Bathroom circuit",
    tell=tell_use,
    scope=Scope.WIRING,
    facts=UseFacts,
)
def bathroom_circuit(this: Rule, site: HouseByCode) -> Iterator[Finding]:
    """A bathroom's receptacles have a circuit for bathroom receptacles alone.

    A circuit that stays within one bathroom may feed its lights and fan as well.
    """
    book = site.rulebook
    least, rooms = book.get(f"{NAME}.breaker_a"), book.get(f"{NAME}.rooms")
    if least is None or rooms is None:
        return
    bathrooms = []
    for room in site.house.rooms:
        if room.kind in rooms.value:
            bathrooms.append(room)
    names = set()
    for room in bathrooms:
        names.add(room.id)

    def belongs(outlet: SuppliedDevice, circuit: str) -> bool:
        receptacle = outlet.device.kind is DeviceKind.RECEPTACLE
        return (receptacle and outlet.box.room in names) or circuit in alone

    alone = {circuit.id for circuit in site.house.circuits if _within_one(site, circuit.id, names)}
    use = CircuitUse(Use.BATHROOM, least, belongs)
    wanted = receptacles_of(site, bathrooms)
    yield from use_findings(this, site, use, wanted, (least, rooms))


def _within_one(site: HouseByCode, circuit: str, bathrooms: set[str]) -> bool:
    """Whether a circuit feeds one bathroom and nothing outside it."""
    rooms = set()
    for outlet in site.supply.outlets(circuit):
        rooms.add(outlet.box.room)
    return len(rooms) == 1 and rooms <= bathrooms
