"""The floor: bare loops over the same boxes and cables with the same sums, nothing explained.

One loop for each thing that the rules compute, as one would write it who wants only the count of
what is wrong: no findings, no places, no words. Here the larger sums; in `floor_rest.py` the rest.
"""

from collections import Counter, defaultdict

from bench.floor_rest import rest
from inspections.checker.house import House
from inspections.checker.house.boxes import Box

ML = {"14": 24.6, "12": 28.7, "10": 36.9, "8": 45.1, "6": 73.7}
MOST_A = {"14": 15, "12": 20, "10": 30, "8": 40, "6": 55}
ON_STRAP = ("receptacle", "switch", "dimmer", "fan_control", "thermostat", "disconnect")
DEEP_MM, DEEP_ML, REACH_MM, COUNTER_MM = 25.4, 3.2, 1800.0, 900.0
Nodes = dict[str, set[str]]


def bare(house: House) -> int:
    """How many things are wrong."""
    return (
        full(house)
        + out_of_reach(house)
        + off_height(house)
        + unlike_the_rest(house)
        + overloaded(house)
        + cut_off(house)
        + unprotected(house)
        + dark(house)
        + rest(house)
    )


def full(house: House) -> int:
    """Boxes with more in them than they hold."""
    fill: dict[str, float] = {}
    for cable in house.cables:
        if cable.kind.carries_power and cable.awg is not None:
            taken = cable.insulated * ML[cable.awg]
            for end in cable.ends:
                fill[end] = fill.get(end, 0.0) + taken
            for through in cable.through:
                fill[through.box] = fill.get(through.box, 0.0) + taken
    wrong = 0
    for box in house.boxes:
        taken = fill.get(box.id, 0.0) + (box.connectors or 0) // 2 * ML["14"]
        for device in box.devices:
            if device.kind in ON_STRAP:
                depth = device.depth_mm or house.device_depth_mm.get(device.kind) or 0.0
                taken += DEEP_ML * depth if depth > DEEP_MM else 2 * ML[device.awg or "14"]
        wrong += taken > (box.volume_ml or 0.0) + box.added_volume_ml
    return wrong


def out_of_reach(house: House) -> int:
    """Stretches of wall and counter too far from a receptacle."""
    along: dict[tuple[str, str], list[float]] = {}
    for box in house.boxes:
        if box.place.surface == "wall" and _holds(box, "receptacle"):
            along.setdefault((box.room, box.place.wall), []).append(box.place.at_mm)
    wrong = 0
    for room in house.rooms:
        for wall in room.walls:
            last = 0.0
            for at in sorted(along.get((room.id, wall.id), ())):
                wrong += at - last > 2 * REACH_MM
                last = at
            wrong += wall.length_mm - last > REACH_MM
    for counter in house.counters:
        for stretch in counter.along:
            here = along.get((counter.room, stretch.wall), ())
            wrong += all(abs(at - stretch.at_mm) > COUNTER_MM for at in here)
    return wrong


def _holds(box: Box, kind: str) -> bool:
    return any(device.kind == kind for device in box.devices)


def off_height(house: House) -> int:
    """Boxes that do not stand as high as others of their kind in the room."""
    heights: defaultdict[tuple[str, str], list[float]] = defaultdict(list)
    for box in house.boxes:
        if box.place.surface == "wall" and box.devices and box.place.height_mm is not None:
            heights[box.room, box.devices[0].kind].append(box.place.height_mm)
    usual = {key: Counter(found).most_common(1)[0][0] for key, found in heights.items()}
    return sum(abs(at - usual[key]) > 25 for key, found in heights.items() for at in found)


def unlike_the_rest(house: House) -> int:
    """Boxes without what each has to have, one fact after another."""
    outside = {(r.id, wall.id) for r in house.rooms for wall in r.walls if wall.outside}
    wrong = 0
    for box in house.boxes:
        wrong += box.gangs > 2 and not box.braces
        wrong += box.clamps is None
        if box.place.surface == "wall" and (box.room, box.place.wall) in outside:
            wrong += box.boot is False
        for device in box.devices:
            wrong += device.kind == "receptacle" and device.tamper_resistant is False
            wrong += device.kind == "ceiling_fan" and not box.braces
    return wrong


def overloaded(house: House) -> int:
    """Circuits with too small a conductor, too many outlets, or poles on one leg."""
    outlets = Counter(d.circuit for box in house.boxes for d in box.devices if d.circuit)
    smallest: dict[str, int] = {}
    for cable in house.cables:
        if cable.circuit and cable.awg in MOST_A:
            least = smallest.get(cable.circuit, 1000)
            smallest[cable.circuit] = min(least, MOST_A[cable.awg])
    wrong = 0
    for circuit in house.circuits:
        wrong += circuit.breaker_a > smallest.get(circuit.id, 1000)
        wrong += outlets[circuit.id] > 12
        wrong += len({(slot - 1) // 2 % 2 for slot in circuit.slots}) < circuit.poles
    return wrong


def cut_off(house: House) -> int:
    """Boxes that no cable of their circuit leads to from the panel, and lost travellers."""
    joined: dict[str, Nodes] = {}
    for cable in house.cables:
        if cable.circuit:
            nodes = joined.setdefault(cable.circuit, {})
            for one, other in (cable.ends, cable.ends[::-1]):
                nodes.setdefault(one, set()).add(other)
    reached = {c.id: _walked(joined.get(c.id, {}), c.panel) for c in house.circuits}
    return sum(
        device.circuit is not None and box.id not in reached[device.circuit]
        for box in house.boxes
        for device in box.devices
    )


def _walked(nodes: Nodes, start: str) -> set[str]:
    seen, ahead = {start}, [start]
    while ahead:
        for node in nodes.get(ahead.pop(), ()):
            if node not in seen:
                seen.add(node)
                ahead.append(node)
    return seen


def unprotected(house: House) -> int:
    """Receptacles in damp rooms without ground-fault protection, bedrooms without arc-fault."""
    kinds = {room.id: room.kind for room in house.rooms}
    protection = {circuit.id: circuit.protection for circuit in house.circuits}
    wrong = 0
    for box in house.boxes:
        for device in box.devices:
            if device.kind == "receptacle" and device.circuit:
                has = protection[device.circuit]
                wrong += kinds[box.room] in ("bathroom", "garage", "outdoors") and has is None
                wrong += kinds[box.room] in ("bedroom", "living", "family") and has is None
    return wrong


def dark(house: House) -> int:
    """Rooms without a light, a switch or, where people sleep, an alarm."""
    holds: defaultdict[str, set[str]] = defaultdict(set)
    for box in house.boxes:
        holds[box.room] |= {device.kind for device in box.devices}
    wrong = 0
    for room in house.rooms:
        wrong += "luminaire" not in holds[room.id]
        wrong += "switch" not in holds[room.id]
        wrong += room.kind == "bedroom" and "smoke_alarm" not in holds[room.id]
    return wrong
