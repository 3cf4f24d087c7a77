"""What each breaker turns off, as the card in the panel's door says it."""

from collections import defaultdict

from config.messages.message import Joined, Text, Value
from inspections.checker.house import House
from inspections.checker.house.boxes import DeviceKind

from .card_messages import APPLIANCE_IN, DEVICES_IN, WORDS
from .facts import circuits_of_appliances


def directory(house: House) -> dict[str, Value]:
    """By circuit, appliances by name, then devices with their rooms: plain, and no one's name."""
    rooms = {}
    for room in house.rooms:
        rooms[room.id] = room.name
    fed = circuits_of_appliances(house)
    named: defaultdict[str, list[Text]] = defaultdict(list)
    told: defaultdict[str, set[Value]] = defaultdict(set)
    for appliance in house.appliances:
        if circuit := fed.get(appliance.id):
            room = rooms[appliance.room]
            named[circuit].append(APPLIANCE_IN(appliance=appliance.name, room=room))
            told[circuit] |= {appliance.name.casefold(), WORDS[DeviceKind.DISCONNECT]()}
    devices = _devices(house, rooms, told)
    card: dict[str, Value] = {}
    for each in house.circuits:
        entries = [*named[each.id]]
        for what, where in devices[each.id].items():
            entries.append(DEVICES_IN(what=what, rooms=Joined(tuple(where), ", ")))
        card[each.id] = Joined((each.name,))
        if entries:
            card[each.id] = Joined(tuple(entries), "; ")
    return card


def _devices(
    house: House, rooms: dict[str, str], told: defaultdict[str, set[Value]]
) -> defaultdict[str, dict[Value, dict[str, None]]]:
    """By circuit, what its devices are called and the rooms they are in, but for what is told."""
    single = _single_circuits(house)
    seen: defaultdict[str, dict[Value, dict[str, None]]] = defaultdict(dict)
    for box in house.boxes:
        for device in box.devices:
            circuit = device.circuit or single.get(box.id)
            if not circuit or device.kind not in WORDS:
                continue
            what: Value = WORDS[device.kind]()
            if device.dedicated_to:
                what = device.dedicated_to[:1].upper() + device.dedicated_to[1:]
            if _compared(what) not in told[circuit]:
                seen[circuit].setdefault(what, {})[rooms[box.room]] = None
    return seen


def _compared(what: Value) -> Value:
    """A name as it is compared: letters large or small are one."""
    if isinstance(what, str):
        return what.casefold()
    return what


def _single_circuits(house: House) -> dict[str, str]:
    """The circuit of each box whose power cables are all of one."""
    found: defaultdict[str, set[str]] = defaultdict(set)
    for cable in house.cables:
        if cable.circuit and cable.kind.carries_power:
            for node in cable.nodes:
                found[node].add(cable.circuit)
    by_box: dict[str, str] = {}
    for box, circuits in found.items():
        if len(circuits) == 1:
            by_box[box] = next(iter(circuits))
    return by_box
