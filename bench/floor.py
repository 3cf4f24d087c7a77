"""The floor: bare loops over the same boxes and cables with the same sums, nothing explained."""

from inspections.checker import House

ML = {"14": 24.6, "12": 28.7, "10": 36.9, "8": 45.1, "6": 73.7}
ON_STRAP = ("receptacle", "switch", "dimmer", "fan_control", "thermostat", "disconnect")
DEEP_MM, DEEP_ML, REACH_MM = 25.4, 3.2, 1800.0


def bare(house: House) -> tuple[int, int, int]:
    """Boxes too full, stretches of wall out of reach, circuits with too many outlets."""
    fill: dict[str, float] = {}
    for cable in house.cables:
        if cable.kind.carries_power and cable.awg is not None:
            taken = cable.insulated * ML[cable.awg]
            for end in cable.ends:
                fill[end] = fill.get(end, 0.0) + taken
            for through in cable.through:
                fill[through.box] = fill.get(through.box, 0.0) + taken
    outlets: dict[str, int] = {}
    along: dict[tuple[str, str], list[float]] = {}
    full = 0
    for box in house.boxes:
        taken = fill.get(box.id, 0.0) + (box.connectors or 0) // 2 * ML["14"]
        for device in box.devices:
            if device.kind in ON_STRAP:
                depth = device.depth_mm or house.device_depth_mm.get(device.kind) or 0.0
                taken += DEEP_ML * depth if depth > DEEP_MM else 2 * ML[device.awg or "14"]
            if device.kind == "receptacle" and box.place.surface == "wall":
                along.setdefault((box.room, box.place.wall), []).append(box.place.at_mm)
            if device.circuit:
                outlets[device.circuit] = outlets.get(device.circuit, 0) + 1
        full += taken > (box.volume_ml or 0.0) + box.added_volume_ml
    return full, _gaps(house, along), sum(count > 12 for count in outlets.values())


def _gaps(house: House, along: dict[tuple[str, str], list[float]]) -> int:
    """Stretches of wall out of reach, wall by wall."""
    gaps = 0
    for room in house.rooms:
        for wall in room.walls:
            last = 0.0
            for at in sorted(along.get((room.id, wall.id), ())):
                gaps += at - last > 2 * REACH_MM
                last = at
            gaps += wall.length_mm - last > REACH_MM
    return gaps
