"""Whole houses from a seed: rooms, counters, boxes, cables, circuits, and facts of every kind.

What a part may say beside its place in the house is read from the schema of house files, so a
fact that is added to the model is drawn as well.
"""

from collections.abc import Iterator
from math import cos, radians, sin
from random import Random
from typing import Any

from inspections.checker.house import House
from inspections.checker.house.rooms import OpeningKind, RoomKind

Data = dict[str, Any]
SCHEMA = House.model_json_schema()["$defs"]
MEASURES = [0, 1, 25.4, 32, 50, 100, 150, 204, 300, 305, 450, 600, 900, 914, 1500, 1800, 2400, 6000]
POWER, SIGNAL = ["nm", "nm", "nm", "ac", "mc", "raceway"], ["data", "coax", "phone", "low_voltage"]
SIZES = ["14", "14", "12", "12", "10", "8", "6"]
DEVICES = ["receptacle"] * 5 + ["switch"] * 3 + ["luminaire"] * 3
LISTS = ("rooms", "counters", "panels", "circuits", "appliances", "boxes", "cables", "separations")
STRUCTURE = {
    *("id", "kind", "ends", "through", "walls", "openings", "closed", "turn_deg", "heading_deg"),
    *("x_mm", "y_mm", "at_mm", "width_mm", "length_mm", "slots", "half", "poles", "gangs"),
    *("wall", "surface", "current_carrying"),
    *(
        "added_volume_ml",
        "stock",
        "tandem_spaces",
        "second_circuit",
        "bay",
        "volts",
    ),
}
"""What is drawn with the shape of a house, not as a fact beside it."""


def of(name: str) -> dict[str, Data]:
    """The properties of a part of house files, by name."""
    return dict(SCHEMA[name].get("properties", {}))


def recordable(name: str) -> list[str]:
    """The facts of a part that are missing when nobody recorded them."""
    return [key for key, schema in of(name).items() if _says_missing(schema)]


def _says_missing(schema: Data) -> bool:
    text = " ".join(schema.get("description", "").split())
    return "missing when" in text and "nobody" in text


def fact(rng: Random, schema: Data) -> Any:
    """A value that the schema allows; None when it is no plain value."""
    if "anyOf" in schema:
        plain = [each for each in schema["anyOf"] if each.get("type") != "null"]
        return fact(rng, plain[0]) if len(plain) == 1 else None
    if "$ref" in schema:
        return fact(rng, SCHEMA[schema["$ref"].rsplit("/", 1)[1]])
    if "enum" in schema:
        return rng.choice(schema["enum"])
    kind = schema.get("type")
    if kind == "boolean":
        return rng.random() < 0.5
    if kind in ("number", "integer"):
        least: float = schema.get("minimum", -1e9)
        beyond: float = schema.get("exclusiveMinimum", -1e10)
        most: float = schema.get("maximum", 1e9)
        pool = MEASURES if kind == "number" else [0, 1, 2, 3, 4, 6, 15, 20, 80, 100]
        fit = [x for x in pool if least <= x <= most and x > beyond]
        return rng.choice(fit) if fit else None
    return None


def with_facts(rng: Random, name: str, part: Data, often: float) -> Data:
    """The part with facts that it may have, each as often as asked."""
    for key, schema in of(name).items():
        if key not in part and key not in STRUCTURE and rng.random() < often:
            value = fact(rng, schema)
            if value is not None:
                part[key] = value
    return part


def drawn_house(seed: int) -> Data:
    """The values of a house file."""
    rng = Random(seed)
    often = rng.choice([0.1, 0.5, 0.9])
    rooms = [_room(rng, f"r{i}", often) for i in range(rng.randint(1, 4))]
    data: Data = {
        "format": "studbay-house-1",
        "name": "Drawn house",
        "storeys": [{"id": "s1", "name": "Basement"}, {"id": "s2", "name": "Main floor"}],
        "areas": [{"id": "a1", "name": "East"}, {"id": "a2", "name": "West"}],
        "rooms": rooms,
        "counters": [c for room in rooms for c in _counters(rng, room, often)],
        "panels": [with_facts(rng, "Panel", {"id": "P", "room": "r0", "spaces": 30}, often)],
    }
    data["circuits"] = _circuits(rng, often)
    data["appliances"] = [
        with_facts(rng, "Appliance", _at(rng, rooms, {"id": f"A{i}", "name": "Furnace"}), often)
        for i in range(rng.randint(0, 2))
    ]
    data["boxes"] = [_box(rng, data, i, often) for i in range(rng.randint(1, 12))]
    data["cables"] = list(_cables(rng, data, often))
    _meetings(rng, data, often)
    if rng.random() < often:
        data["insulation"] = with_facts(rng, "Insulation", {"kind": "batts"}, often)
    if rng.random() < often:
        data["device_depth_mm"] = {"receptacle": 22, "switch": 20}
    for room in rooms:
        if room["kind"] == "stair" and rng.random() < often:
            room["joins"] = [rng.choice(rooms)["id"] for _ in range(2)]
    return data


def _at(rng: Random, rooms: list[Data], part: Data) -> Data:
    return part | {"room": rng.choice(rooms)["id"]}


def _room(rng: Random, name: str, often: float) -> Data:
    kinds = [kind.value for kind in RoomKind] + ["kitchen", "living", "bedroom", "bathroom"] * 3
    w, d = rng.randint(9, 60) * 100, rng.randint(9, 60) * 100
    lengths, turns = [w, d, w, d], [90, 90, 90, 90]
    if rng.random() < 0.3:
        a, b = rng.randint(3, w // 100 - 3) * 100, rng.randint(3, d // 100 - 3) * 100
        lengths, turns = [w, d - b, a, b, w - a, d], [90, 90, -90, 90, 90, 90]
    walls = [
        {"id": f"w{i}", "length_mm": length, "turn_deg": turn, "outside": rng.random() < 0.4}
        | {"kind": rng.choice(["wall"] * 8 + ["railing", "open"])}
        | {"openings": _openings(rng, length, often)}
        for i, (length, turn) in enumerate(zip(lengths, turns, strict=True))
    ]
    room = {
        **{"id": name, "name": f"Room {name}", "kind": rng.choice(kinds), "walls": walls},
        **{"area": rng.choice(["a1", "a2"]), "storey": rng.choice(["s1", "s2"])},
        **{"closed": rng.random() < 0.8, "x_mm": rng.randint(0, 90) * 100, "heading_deg": 90},
    }
    if rng.random() < 0.1:
        room["walls"] = []
    if room["walls"] and rng.random() < often:
        room["fixtures"] = [_fixture(rng, room, i, often) for i in range(rng.randint(0, 3))]
    return with_facts(rng, "Room", room, often)


def _openings(rng: Random, length: int, often: float) -> list[Data]:
    found, at = [], 0
    while rng.random() < 0.45:
        at += rng.randint(0, 12) * 100
        width = rng.randint(4, 18) * 100
        if at + width > length:
            break
        kind = rng.choice(list(OpeningKind)).value
        opening = {"kind": kind, "at_mm": at, "width_mm": width}
        if kind == "window" and rng.random() < often:
            opening["sill_mm"] = rng.choice([0, 900])
        if kind == "door" and rng.random() < often:
            opening["swing"] = rng.choice(["none", "left", "right"])
        if kind == "door" and rng.random() < often:
            opening["to_grade"] = rng.random() < 0.5
        found.append(opening)
        at += width
    return found


def _fixture(rng: Random, room: Data, index: int, often: float) -> Data:
    wall = rng.choice(room["walls"])
    width = rng.randint(2, max(2, wall["length_mm"] // 150)) * 100
    width = min(width, wall["length_mm"])
    at = rng.randint(0, (wall["length_mm"] - width) // 100) * 100
    kind = rng.choice(SCHEMA["FixtureKind"]["enum"])
    part = {"id": f"F{index}", "kind": kind, "wall": wall["id"], "at_mm": at, "width_mm": width}
    return with_facts(rng, "Fixture", part, often)


def _counters(rng: Random, room: Data, often: float) -> Iterator[Data]:
    if room["kind"] not in ("kitchen", "pantry", "dining", "bathroom") or not room["walls"]:
        return
    for index in range(rng.randint(0, 2)):
        counter = {"id": f"K{room['id']}{index}", "room": room["id"]}
        kind = rng.choice(["wall", "wall", "island", "peninsula"])
        if kind == "wall":
            wall = room["walls"][index % len(room["walls"])]
            counter["along"] = [{"wall": wall["id"], "at_mm": 0, "width_mm": wall["length_mm"]}]
            counter["interruptions"] = _interruptions(rng, wall["length_mm"], often)
        elif rng.random() < often:
            counter["length_mm"] = rng.randint(3, 30) * 100
        yield with_facts(rng, "Counter", counter | {"kind": kind}, often)


def _interruptions(rng: Random, length: int, often: float) -> list[Data]:
    if length < 1500 or rng.random() < 0.4:
        return []
    at = rng.randint(0, (length - 600) // 100) * 100
    kind = rng.choice(SCHEMA["InterruptionKind"]["enum"])
    part = {"kind": kind, "at_mm": at, "width_mm": 600}
    return [with_facts(rng, "Interruption", part, often)]


def _circuits(rng: Random, often: float) -> list[Data]:
    found, slot = [], 1
    for index in range(rng.randint(1, 5)):
        poles = rng.choice([1, 1, 1, 2])
        circuit: Data = {"id": f"c{index}", "panel": "P", "name": f"Circuit {index}"}
        circuit |= {"breaker_a": rng.choice([15, 20, 30, 40]), "poles": poles}
        if rng.random() < often:
            circuit["slots"] = [slot + 2 * pole for pole in range(poles)]
            slot += 1 if slot % 2 else 2 * poles - 1
        found.append(with_facts(rng, "Circuit", circuit, often))
    taken: set[int] = set()
    for circuit in found:
        if taken & set(circuit.get("slots", [])):
            del circuit["slots"]
        taken |= set(circuit.get("slots", []))
    return found


def _box(rng: Random, data: Data, index: int, often: float) -> Data:
    box = _at(rng, data["rooms"], {"id": f"b{index}"})
    room = next(room for room in data["rooms"] if room["id"] == box["room"])
    counters = [c for c in data["counters"] if c["room"] == room["id"]]
    surfaces = ["ceiling", "space"] + (["wall"] * 8 + ["floor"] if room["walls"] else [])
    surface = rng.choice(surfaces + ["counter"] * (3 if counters else 0))
    place: Data = {"surface": surface}
    if surface in ("wall", "floor"):
        wall = rng.choice(room["walls"])
        place |= {"wall": wall["id"], "at_mm": rng.randint(0, wall["length_mm"] // 10) * 10}
    if surface == "wall" and rng.random() < 0.3 + often / 2:
        place["height_mm"] = rng.choice([300, 450, 1100, 1200, 1500, 2000])
    if surface == "floor" and rng.random() < often:
        place["from_wall_mm"] = rng.choice([100, 450, 500])
    if surface == "ceiling" and rng.random() < often:
        place |= {"x_mm": room["x_mm"] + 500, "y_mm": -500}
    if surface == "counter":
        place["counter"] = rng.choice(counters)["id"]
        facts = {"at_mm": 300, "above_top_mm": rng.choice([-200, 0, 100]), "overhang_mm": 100}
        place |= {key: value for key, value in facts.items() if rng.random() < often}
    circuits = [circuit["id"] for circuit in data["circuits"]]
    box["devices"] = [_device(rng, circuits, often) for _ in range(rng.choice([0, 1, 1, 1, 2, 3]))]
    box |= {"place": place, "gangs": max(1, len(box["devices"]) + rng.choice([0, 0, 0, 1]))}
    if rng.random() < often:
        box["volume_ml"] = rng.choice([147, 204, 229, 295, 400, 900])
    if rng.random() < often:
        box["connectors"] = rng.randint(0, 2)
    return with_facts(rng, "Box", box, often)


def _device(rng: Random, circuits: list[str], often: float) -> Data:
    kind = rng.choice([*DEVICES, rng.choice(SCHEMA["DeviceKind"]["enum"])])
    device = {"kind": kind}
    if rng.random() < 0.7:
        device["circuit"] = rng.choice(circuits)
    if rng.random() < often:
        device["depth_mm"] = rng.choice([20, 25.4, 40])
    for key in ("in_cabinet", "part_of_equipment"):
        device[key] = rng.random() < 0.05
    if kind == "receptacle" and rng.random() < 0.1:
        device["dedicated_to"] = rng.choice(["range", "dryer", "freezer"])
    if kind == "luminaire" and rng.random() < 0.2:
        device["recessed"] = with_facts(rng, "Recessed", {}, often)
    return with_facts(rng, "Device", device, often)


def _cables(rng: Random, data: Data, often: float) -> Iterator[Data]:
    nodes = ["P"]
    circuits = [circuit["id"] for circuit in data["circuits"]]
    for index, part in enumerate([*data["boxes"], *data["appliances"]]):
        for copy in range(rng.choice([1, 1, 1, 2, 0])):
            power = rng.random() < 0.85
            cable: Data = {"id": f"C{index}.{copy}", "ends": [rng.choice(nodes), part["id"]]}
            cable["kind"] = rng.choice(POWER if power else SIGNAL)
            if power:
                cable |= {"awg": rng.choice(SIZES), "insulated": rng.choice([2, 2, 2, 3])}
                cable["circuit"] = rng.choice(circuits)
            other = rng.choice(data["boxes"])["id"]
            if rng.random() < 0.1 and other not in cable["ends"]:
                cable["through"] = [{"box": other, "loop_mm": rng.choice([0, 200, 400])}]
            if rng.random() < often / 3:
                cable["first_supports_mm"] = [rng.choice([100, 250, 400, None]) for _ in "ab"]
            if power and rng.random() < often / 3:
                cable["current_carrying"] = rng.randint(0, 2)
            yield with_facts(rng, "Cable", cable, often / 3)
        if part in data["boxes"]:
            nodes.append(part["id"])


def _meetings(rng: Random, data: Data, often: float) -> None:
    """Holes that cables share, and what was measured between them."""
    names = [cable["id"] for cable in data["cables"]]
    if len(names) < 2:
        return
    for kind, part in (
        *(("holes", "Hole"), ("notches", "Notch"), ("fastenings", "Fastening")),
        ("bundles", "Bundle"),
    ):
        data[kind] = [_meeting(rng, data, part, i, names, often) for i in range(rng.randint(0, 2))]
    for kind, part, key in (("heat_gaps", "HeatGap", "source"), ("crossings", "Crossing", "face")):
        choices = fact_choices(part, key)
        data[kind] = [
            with_facts(rng, part, _at(rng, data["rooms"], {"cable": rng.choice(names)}), often)
            | {key: rng.choice(choices)}
            for _ in range(rng.randint(0, 2))
        ]
    data["separations"] = [
        with_facts(rng, "Separation", _at(rng, data["rooms"], {"cables": pair}), often)
        for pair in (rng.sample(names, 2) for _ in range(rng.randint(0, 3)))
    ]


def fact_choices(part: str, key: str) -> list[str]:
    """The words that a fact of a part may be."""
    return list(SCHEMA[of(part)[key]["$ref"].rsplit("/", 1)[1]]["enum"])


def _meeting(
    rng: Random, data: Data, kind: str, index: int, names: list[str], often: float
) -> Data:
    """A hole, notch, staple or bundle of several cables."""
    count = min(len(names), rng.choice([2, 2, 3, 6]))
    made = _at(rng, data["rooms"], {"id": f"M{index}", "cables": rng.sample(names, count)})
    if "member" in of(kind):
        made["member"] = rng.choice(["stud", "stud", "joist", "plate"])
    if kind == "Bundle" and rng.random() < often:
        made["length_mm"] = rng.choice([100, 600, 609.6, 2400])
    return with_facts(rng, kind, made, often)


def turned(data: Data, degrees: float) -> None:
    """The whole plan turned clockwise about its origin, in place."""
    for room in data["rooms"]:
        room["heading_deg"] = (room.get("heading_deg", 90) + degrees) % 360
        _turn(room, degrees)
    for box in data["boxes"]:
        if "x_mm" in box["place"]:
            _turn(box["place"], degrees)


def _turn(part: Data, degrees: float) -> None:
    x, y, by = part.get("x_mm", 0), part.get("y_mm", 0), radians(degrees)
    part["x_mm"] = round(x * cos(by) + y * sin(by), 6)
    part["y_mm"] = round(y * cos(by) - x * sin(by), 6)


def mirrored(data: Data) -> None:
    """The whole plan as a mirror shows it, east for west, in place."""
    for room in data["rooms"]:
        _mirror_room(room)
    whole = {}
    for counter in data["counters"]:
        lengths = {w["id"]: w["length_mm"] for w in _room_of(data, counter)["walls"]}
        stretches = counter.get("along", [])
        whole[counter["id"]] = total = sum(stretch["width_mm"] for stretch in stretches)
        for stretch in stretches:
            stretch["at_mm"] = lengths[stretch["wall"]] - stretch["at_mm"] - stretch["width_mm"]
        counter["along"] = stretches[::-1]
        for item in counter.get("interruptions", []):
            item["at_mm"] = total - item["at_mm"] - item["width_mm"]
    for box in data["boxes"]:
        place = box["place"]
        if "wall" in place:
            walls = {w["id"]: w["length_mm"] for w in _room_of(data, box)["walls"]}
            place["at_mm"] = walls[place["wall"]] - place["at_mm"]
        if "x_mm" in place:
            place["x_mm"] = -place["x_mm"]
        if place["surface"] == "counter" and whole[place["counter"]] and "at_mm" in place:
            place["at_mm"] = whole[place["counter"]] - place["at_mm"]


def _room_of(data: Data, part: Data) -> Data:
    return next(room for room in data["rooms"] if room["id"] == part["room"])


def _mirror_room(room: Data) -> None:
    walls = room["walls"]
    room["x_mm"] = -room.get("x_mm", 0)
    if not walls:
        return
    x, y, heading = -room["x_mm"], room.get("y_mm", 0), room.get("heading_deg", 90)
    last = heading
    for wall in walls:
        x += wall["length_mm"] * sin(radians(heading))
        y += wall["length_mm"] * cos(radians(heading))
        last, heading = heading, heading + wall["turn_deg"]
    room |= {"x_mm": round(-x, 6), "y_mm": round(y, 6), "heading_deg": -(last + 180) % 360}
    turns = [wall["turn_deg"] for wall in walls]
    sides = {"left": "right", "right": "left", "none": "none"}
    lengths = {wall["id"]: wall["length_mm"] for wall in walls}
    for fixture in room.get("fixtures", ()):
        along = lengths[fixture["wall"]]
        fixture["at_mm"] = along - fixture["at_mm"] - fixture["width_mm"]
    for wall in walls:
        for opening in wall["openings"]:
            opening["at_mm"] = wall["length_mm"] - opening["at_mm"] - opening["width_mm"]
            if "swing" in opening:
                opening["swing"] = sides[opening["swing"]]
        wall["openings"].reverse()
    room["walls"] = walls[::-1]
    for wall, turn in zip(room["walls"], [*turns[:-1][::-1], turns[-1]], strict=True):
        wall["turn_deg"] = turn
