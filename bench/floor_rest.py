"""The rest of the floor: what the rules ask of every box, cable, circuit, room and alarm.

As in `floor.py`: counts only, no findings, no words, and what nobody recorded is only listed by
room, as somebody would note it who means to look there later.
"""

from collections import Counter, defaultdict
from math import cos, hypot, radians, sin

from inspections.checker.house import House
from inspections.checker.house.boxes import Box
from inspections.checker.house.cables import Bundle, Hole
from inspections.checker.house.rooms import Room

FREE_MM, SHEATH_MM, SETBACK_MM, FIRST_MM, EVERY_MM, EDGE_MM = 150.0, 6.0, 6.0, 300.0, 1500.0, 32.0
NEAR_MM, TUB_MM, BEND_TIMES, HOLE_SHARE, STAND_OFFS = 1500.0, 1000.0, 5.0, 1 / 3, 2
AT_90 = {"14": 25.0, "12": 30.0, "10": 40.0, "8": 55.0, "6": 75.0}
LEFT = ((3, 1.0), (6, 0.8), (9, 0.7), (24, 0.7), (42, 0.6))
ALARMS = ("smoke_alarm", "combined_alarm")
Point = tuple[float, float]


def rest(house: House) -> int:
    """How many things are wrong, or have to be looked at."""
    return (
        boxes_by_fact(house)
        + cables_by_fact(house)
        + framing(house)
        + derated(house)
        + near_water(house)
        + switched(house)
        + fed(house)
        + kept_to_itself(house)
        + alarmed(house)
        + brought_in(house)
    )


def _over(found: float | None, most: float, name: str, later: list[str]) -> bool:
    if found is None:
        later.append(name)
        return False
    return found > most


def boxes_by_fact(house: House) -> int:
    """Fixed, flush, closed, with conductor and sheath enough, wide enough for what hangs there."""
    later: defaultdict[tuple[str, int], list[str]] = defaultdict(list)
    wrong = 0
    for box in house.boxes:
        for number, found in enumerate((box.fixed, box.fan_marked, box.spare_switched)):
            if found is None:
                later[box.room, number].append(box.id)
            wrong += found is False
        for number, (short, least) in enumerate(
            ((box.free_mm, FREE_MM), (box.outside_mm, FREE_MM / 2), (box.sheath_mm, SHEATH_MM)), 3
        ):
            wrong += _over(
                None if short is None else -short, -least, box.id, later[box.room, number]
            )
        wrong += _over(box.setback_mm, SETBACK_MM, box.id, later[box.room, 6])
        wrong += _over(box.open_holes, 0, box.id, later[box.room, 7])
        for device in box.devices:
            if device.kind == "receptacle" and device.tamper_resistant is None:
                later[box.room, 8].append(box.id)
            if device.kind in ("luminaire", "ceiling_fan"):
                wrong += _over(device.weight_kg, box.holds_kg or 23.0, box.id, later[box.room, 9])
    return wrong + len(later)


def cables_by_fact(house: House) -> int:
    """Held near each box and along the run, clear of edges, bent wide, whole."""
    rooms = {box.id: box.room for box in house.boxes} | {p.id: p.room for p in house.panels}
    rooms |= {appliance.id: appliance.room for appliance in house.appliances}
    later: defaultdict[tuple[str, int], list[str]] = defaultdict(list)
    wrong = 0
    for cable in house.cables:
        ends = dict.fromkeys((rooms[cable.ends[0]], rooms[cable.ends[1]]))
        edge = None if cable.edge_mm is None else -cable.edge_mm
        bend = None if cable.bend_mm is None or cable.width_mm is None else -cable.bend_mm
        for room in ends:
            for near in cable.first_supports_mm or (None, None):
                wrong += _over(near, FIRST_MM, cable.id, later[room, 0])
            wrong += _over(cable.interval_mm, EVERY_MM, cable.id, later[room, 1])
            wrong += _over(edge, -EDGE_MM, cable.id, later[room, 2])
            width = cable.width_mm or 0.0
            wrong += _over(bend, -BEND_TIMES * width, cable.id, later[room, 3])
            if cable.undamaged is None:
                later[room, 4].append(cable.id)
            wrong += cable.undamaged is False
    return wrong + len(later)


def framing(house: House) -> int:
    """Holes and notches small enough, staples that hold no more than they may."""
    wrong, counts = 0, Counter(cable for hole in house.holes for cable in hole.cables)
    for hole in house.holes:
        if hole.diameter_mm is not None and hole.member_mm is not None:
            wrong += hole.diameter_mm > HOLE_SHARE * hole.member_mm
        if hole.edge_mm is not None:
            wrong += hole.edge_mm < EDGE_MM and not hole.plate_mm
    for notch in house.notches:
        if notch.depth_mm is not None and notch.member_mm is not None:
            wrong += notch.depth_mm > HOLE_SHARE * notch.member_mm
    for fastening in house.fastenings:
        wrong += len(set(fastening.cables)) > (fastening.listed_for or 1)
    for apart in house.separations:
        wrong += apart.distance_mm is not None and apart.distance_mm < 50
    return wrong + sum(cable.id not in counts for cable in house.cables)


def derated(house: House) -> int:
    """Breakers larger than a bundle lets the conductors be."""
    cables = {cable.id: cable for cable in house.cables}
    breakers = {circuit.id: circuit.breaker_a for circuit in house.circuits}
    wrong = 0
    gathered: list[Bundle | Hole] = [*house.bundles, *house.holes]
    for seen in gathered:
        here = [cables[name] for name in seen.cables if cables[name].kind.carries_power]
        count = sum(cable.current_carrying or cable.insulated for cable in here)
        share = next((left for most, left in LEFT if count <= most), 0.5)
        for cable in here:
            ampacity = AT_90.get(cable.awg or "", 0.0) * share
            wrong += breakers.get(cable.circuit or "", 0) > ampacity
    return wrong


def _corners(room: Room) -> dict[str, tuple[float, float, float]]:
    """Where each wall begins and which way it runs."""
    x, y, heading = 0.0, 0.0, room.heading_deg
    found = {}
    for wall in room.walls:
        found[wall.id] = (x, y, radians(heading))
        x += wall.length_mm * sin(radians(heading))
        y += wall.length_mm * cos(radians(heading))
        heading += wall.turn_deg
    return found


def _points(house: House) -> dict[str, tuple[Box, Point]]:
    """Where the boxes on walls and ceilings are, on the plan of their room."""
    corners = {room.id: _corners(room) for room in house.rooms}
    found = {}
    for box in house.boxes:
        place = box.place
        if place.surface == "wall" and place.wall in corners[box.room]:
            x, y, heading = corners[box.room][place.wall]
            at = place.at_mm
            found[box.id] = (box, (x + at * sin(heading), y + at * cos(heading)))
        elif place.surface == "ceiling" and place.x_mm is not None and place.y_mm is not None:
            found[box.id] = (box, (place.x_mm, place.y_mm))
    return found


def near_water(house: House) -> int:
    """Receptacles, switches and lights nearer to a basin, tub or shower than they may be."""
    water: defaultdict[str, list[tuple[Point, float]]] = defaultdict(list)
    for room in house.rooms:
        corners = _corners(room)
        for fixture in room.fixtures or ():
            if fixture.wall in corners and fixture.at_mm is not None and fixture.width_mm:
                x, y, heading = corners[fixture.wall]
                at = fixture.at_mm + fixture.width_mm / 2
                middle = (x + at * sin(heading), y + at * cos(heading))
                water[room.id].append((middle, fixture.width_mm / 2))
    protection = {circuit.id: circuit.protection for circuit in house.circuits}
    wrong = 0
    for box, (x, y) in _points(house).values():
        for (east, north), half in water[box.room]:
            apart = hypot(x - east, y - north) - half
            for device in box.devices:
                if device.kind == "receptacle" and apart < NEAR_MM:
                    wrong += protection.get(device.circuit or "") is None
                wrong += apart < TUB_MM and device.kind in ("switch", "luminaire")
    return wrong


def switched(house: House) -> int:
    """Lights that no switch is joined to, and switches of stairs and halls without a partner."""
    kinds = {box.id: {device.kind for device in box.devices} for box in house.boxes}
    joined: defaultdict[str, set[str]] = defaultdict(set)
    wide: defaultdict[str, int] = defaultdict(int)
    for cable in house.cables:
        first, second = cable.ends
        if cable.kind.carries_power and first in kinds and second in kinds:
            joined[first].add(second)
            joined[second].add(first)
            if cable.insulated >= 3:
                wide[first] += 1
                wide[second] += 1
    wrong = 0
    for box in house.boxes:
        if "luminaire" in kinds[box.id]:
            seen, ahead, found = {box.id}, [box.id], False
            while ahead and not found:
                for node in joined[ahead.pop()] - seen:
                    seen.add(node)
                    found = found or "switch" in kinds[node] or "dimmer" in kinds[node]
                    if "luminaire" in kinds[node] or not kinds[node]:
                        ahead.append(node)
            wrong += not found
        for device in box.devices:
            wrong += device.kind == "switch" and device.ways > 2 and not wide[box.id]
    return wrong


def fed(house: House) -> int:
    """Circuits whose receptacles are rated too little, that lack a bond or share a leg."""
    ratings: defaultdict[str, list[int]] = defaultdict(list)
    for box in house.boxes:
        for device in box.devices:
            if device.kind == "receptacle" and device.circuit and device.amperes:
                ratings[device.circuit].append(int(device.amperes))
    bonded: defaultdict[str, list[int]] = defaultdict(list)
    for cable in house.cables:
        if cable.circuit and cable.kind.carries_power:
            bonded[cable.circuit].append(cable.bonding)
    slots = {circuit.id: circuit.slots for circuit in house.circuits}
    wrong = 0
    for circuit in house.circuits:
        wrong += any(rating > circuit.breaker_a for rating in ratings[circuit.id])
        wrong += not all(bonded[circuit.id])
        other = slots.get(circuit.shares_neutral_with or "", ())
        if other and circuit.slots:
            wrong += (other[0] - 1) // 2 % 2 == (circuit.slots[0] - 1) // 2 % 2
            wrong += not circuit.common_trip
    return wrong


def kept_to_itself(house: House) -> int:
    """Circuits of kitchens, laundries, baths, garages and appliances that feed something else."""
    rooms: defaultdict[str, set[str]] = defaultdict(set)
    kinds = {room.id: str(room.kind) for room in house.rooms}
    counters: defaultdict[str, int] = defaultdict(int)
    for box in house.boxes:
        for device in box.devices:
            if device.circuit and device.kind == "receptacle":
                rooms[device.circuit].add(kinds[box.room])
                if kinds[box.room] == "kitchen" and box.place.surface != "wall":
                    counters[device.circuit] += 1
    appliances = Counter(each.circuit for each in house.appliances if each.circuit)
    own = ("kitchen", "laundry", "bathroom", "garage")
    wrong = sum(count > 1 for count in appliances.values()) + (len(counters) < 2)
    for name, found in rooms.items():
        wrong += len(found) > 1 and any(kind in found for kind in own)
        wrong += name in appliances
    return wrong


def alarmed(house: House) -> int:
    """Storeys without an alarm, and alarms near where people cook or bathe."""
    rooms = {room.id: room for room in house.rooms}
    points = _points(house)
    holding: defaultdict[str, list[Point]] = defaultdict(list)
    for box, point in points.values():
        if any(device.kind in ALARMS for device in box.devices):
            holding[rooms[box.room].storey].append(point)
    wrong = sum(not holding[storey.id] for storey in house.storeys)
    for counter in house.counters:
        room = rooms[counter.room]
        for x, y in holding[room.storey]:
            wrong += hypot(x - room.x_mm, y - room.y_mm) < NEAR_MM
    lights = {d.circuit for b in house.boxes for d in b.devices if d.kind == "luminaire"}
    for box in house.boxes:
        for device in box.devices:
            if device.kind in ALARMS:
                wrong += device.circuit not in lights
                wrong += not any(box.id in cable.ends for cable in house.cables)
    return wrong


def brought_in(house: House) -> int:
    """Panels with too few spaces, too little room, or a circuit that nothing is brought in for."""
    used: Counter[str] = Counter()
    brought = {cable.circuit for cable in house.cables for end in cable.ends if end}
    wrong = 0
    for circuit in house.circuits:
        used[circuit.panel] += circuit.poles
        wrong += circuit.id not in brought
    for panel in house.panels:
        wrong += panel.spaces is not None and used[panel.id] > panel.spaces
        wrong += (panel.clear_width_mm or 0) < 750 or (panel.clear_depth_mm or 0) < 1000
        wrong += (panel.highest_handle_mm or 0) > 1700
    wrong += house.grounding is None or not house.grounding.electrodes
    return wrong
