"""What each breaker turns off, as the card in the panel's door says it."""

from collections import defaultdict

from inspections.checker.house import House
from inspections.checker.house.boxes import DeviceKind

from .facts import circuits_of_appliances

WORDS = {
    DeviceKind.RECEPTACLE: "receptacles",
    DeviceKind.LUMINAIRE: "lights",
    DeviceKind.CEILING_FAN: "ceiling fan",
    DeviceKind.EXHAUST_FAN: "exhaust fan",
    DeviceKind.SMOKE_ALARM: "smoke alarms",
    DeviceKind.CO_ALARM: "carbon monoxide alarms",
    DeviceKind.COMBINED_ALARM: "smoke and carbon monoxide alarms",
    DeviceKind.DISCONNECT: "disconnect",
    DeviceKind.CHIME: "chime",
}
"""Devices that a card names; switches and dimmers go with what they turn on."""


def directory(house: House) -> dict[str, str]:
    """By circuit, appliances by name, then devices with their rooms: plain, and no one's name."""
    rooms = {}
    for room in house.rooms:
        rooms[room.id] = room.name
    fed = circuits_of_appliances(house)
    named: defaultdict[str, list[str]] = defaultdict(list)
    told: defaultdict[str, set[str]] = defaultdict(set)
    for appliance in house.appliances:
        if circuit := fed.get(appliance.id):
            named[circuit].append(f"{appliance.name} ({rooms[appliance.room]})")
            told[circuit] |= {appliance.name.casefold(), WORDS[DeviceKind.DISCONNECT]}
    devices = _devices(house, rooms, told)
    card = {}
    for each in house.circuits:
        entries = [*named[each.id]]
        for what, where in devices[each.id].items():
            entries.append(f"{what}: {', '.join(where)}")
        text = "; ".join(entries)
        card[each.id] = each.name
        if text:
            card[each.id] = text[:1].upper() + text[1:]
    return card


def _devices(
    house: House, rooms: dict[str, str], told: defaultdict[str, set[str]]
) -> defaultdict[str, dict[str, dict[str, None]]]:
    """By circuit, what its devices are called and the rooms they are in, but for what is told."""
    single = _single_circuits(house)
    seen: defaultdict[str, dict[str, dict[str, None]]] = defaultdict(dict)
    for box in house.boxes:
        for device in box.devices:
            circuit = device.circuit or single.get(box.id)
            if not circuit or device.kind not in WORDS:
                continue
            what = device.dedicated_to or WORDS[device.kind]
            if what.casefold() not in told[circuit]:
                seen[circuit].setdefault(what, {})[rooms[box.room]] = None
    return seen


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
