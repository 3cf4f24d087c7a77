"""Bare houses from a seed, as a person would draw them: rooms, doors, windows, fixtures, a panel.

Every fact that a plan shows is there; nothing of the wiring is.
"""

from random import Random
from typing import Any

Data = dict[str, Any]
SIZES = {
    **{"living": (38, 65), "kitchen": (32, 52), "dining": (30, 45), "bedroom": (28, 45)},
    **{"bathroom": (21, 34), "hallway": (12, 60), "laundry": (20, 32), "utility": (22, 40)},
    **{"garage": (58, 75), "family": (38, 60), "entry": (18, 32), "den": (28, 40)},
    **{"basement": (40, 80), "closet": (12, 20), "recreation": (40, 60), "washroom": (15, 22)},
}
MAIN = ["kitchen", "living", "entry", "bathroom", "dining", "laundry", "family", "den", "washroom"]
UPPER = ["bedroom", "hallway", "bathroom", "bedroom", "bedroom", "closet", "bedroom", "hallway"]
LOWER = ["basement", "utility", "recreation", "laundry"]


def bare_house(seed: int) -> Data:
    """The values of a house file without any wiring."""
    rng = Random(seed)
    storeys = [{"id": "main", "name": "Main floor"}]
    rooms = [_room(rng, f"m{i}", kind, "main", i) for i, kind in enumerate(_some(rng, MAIN, 2))]
    if rng.random() < 0.3:
        rooms += [_room(rng, "g", "garage", "main", 9)]
    bedrooms = [
        _room(rng, f"u{i}", kind, "upper", i) for i, kind in enumerate(_some(rng, UPPER, 3))
    ]
    if rng.random() < 0.5:
        storeys.append({"id": "upper", "name": "Upper floor"})
    else:
        bedrooms = [room | {"storey": "main"} for room in bedrooms]
    rooms += bedrooms
    if rng.random() < 0.4:
        storeys.insert(0, {"id": "lower", "name": "Basement"})
        lower = enumerate(_some(rng, LOWER, 1))
        rooms += [_room(rng, f"b{i}", kind, "lower", i) for i, kind in lower]
    if len(storeys) > 1 and rng.random() < 0.7:
        rooms.append(_stair(rng, rooms, storeys))
    if rng.random() < 0.6:
        rooms += list(_outdoors(rng))
    rooms[2]["walls"][0] |= {"outside": True}
    signals = rng.random() < 0.4
    home = next((r["id"] for r in rooms if r["kind"] in ("utility", "basement", "garage")), "m0")
    return {
        "format": "studbay-house-1",
        "name": "Bare house",
        "storeys": storeys,
        "areas": [{"id": "all", "name": "Whole house"}],
        "rooms": rooms,
        "counters": [
            c for room in rooms if room["kind"] == "kitchen" for c in _counters(rng, room)
        ],
        "panels": [
            {"id": "P", "room": home, "rating_a": 200.0, "spaces": 60},
            *([{"id": "CP", "room": home, "kind": "communications"}] if signals else []),
        ],
        "boxes": list(_outlets(rng, rooms)) if signals else [],
        "device_depth_mm": {"receptacle": 25.0, "switch": 25.0},
        "appliances": list(_appliances(rng, home)),
    }


def _some(rng: Random, kinds: list[str], least: int) -> list[str]:
    return kinds[: rng.randint(least, len(kinds))]


def _room(rng: Random, name: str, kind: str, storey: str, index: int) -> Data:
    low, high = SIZES[kind]
    width, depth = rng.randint(low, high) * 100.0, rng.randint(low, high) * 100.0
    if kind == "hallway":
        depth = rng.randint(10, 14) * 100.0
    lengths, turns = [width, depth, width, depth], [90.0] * 4
    if kind in ("living", "family", "kitchen") and rng.random() < 0.3:
        a, b = rng.randint(8, 14) * 100.0, rng.randint(8, 14) * 100.0
        lengths, turns = (
            [width, depth - b, a, b, width - a, depth],
            [90.0, 90.0, -90.0, 90.0, 90.0, 90.0],
        )
    walls = [
        {"id": f"w{i}", "length_mm": length, "turn_deg": turn, "openings": []}
        for i, (length, turn) in enumerate(zip(lengths, turns, strict=True))
    ]
    door = {"kind": "door", "at_mm": 200.0, "width_mm": 800.0, "swing": "none", "to_grade": True}
    walls[-1]["openings"] = [door]
    if kind not in ("hallway", "closet", "bathroom", "washroom") and rng.random() < 0.8:
        at = rng.randint(3, max(3, int(lengths[0] / 100) - 15)) * 100.0
        if at + 1200 <= lengths[0]:
            walls[0]["openings"] = [
                {"kind": "window", "at_mm": at, "width_mm": 1000.0, "sill_mm": 900.0}
            ]
    room = {
        **{"id": name, "name": f"{kind.capitalize()} {name}", "kind": kind, "walls": walls},
        **{"area": "all", "storey": storey, "x_mm": index * 9000.0, "ceiling_mm": 2440.0},
        **{"y_mm": {"main": 0.0, "upper": 20000.0, "lower": -20000.0}[storey]},
    }
    room["fixtures"] = list(_fixtures(rng, kind, lengths))
    if kind == "garage":
        room |= {"vehicle_bays": rng.choice([1, 2, 2]), "fixtures": []}
    return room


def _fixtures(rng: Random, kind: str, lengths: list[float]) -> Any:
    basin = {"id": "basin", "kind": "basin", "wall": "w1", "at_mm": 300.0, "width_mm": 500.0}
    if kind in ("bathroom", "washroom"):
        yield basin | {"depth_mm": 450.0, "top_mm": 820.0}
    if kind == "bathroom" and lengths[2] >= 1600:
        tub = {"id": "tub", "kind": "tub", "wall": "w2", "at_mm": lengths[2] - 1500.0}
        yield tub | {"width_mm": 1500.0, "depth_mm": 750.0, "top_mm": 450.0}
    if kind == "laundry":
        for n, machine in enumerate(("washer", "dryer")):
            place = {"id": machine, "kind": machine, "wall": "w0", "at_mm": 100.0 + 700 * n}
            yield place | {"width_mm": 680.0, "depth_mm": 700.0}


def _counters(rng: Random, room: Data) -> Any:
    first = room["walls"][0] | {"openings": []}
    room["walls"][0] = first
    length = first["length_mm"]
    items = [{"kind": "range", "at_mm": 900.0, "width_mm": 760.0, "behind_mm": 0.0}]
    if length > 3000:
        sink = {"kind": "sink", "at_mm": length - 1100.0, "width_mm": 800.0, "behind_mm": 80.0}
        items.append(sink)
    along = [{"wall": first["id"], "at_mm": 0.0, "width_mm": length}]
    wall = {"id": "K1", "room": room["id"], "kind": "wall", "along": along, "depth_mm": 640.0}
    yield wall | {"top_mm": 910.0, "interruptions": items}
    if rng.random() < 0.4:
        kind = rng.choice(["island", "peninsula"])
        sides = {"length_mm": rng.choice([900.0, 1800.0, 2600.0]), "depth_mm": 900.0}
        yield {"id": "K2", "room": room["id"], "kind": kind, "top_mm": 910.0} | sides


def _stair(rng: Random, rooms: list[Data], storeys: list[Data]) -> Data:
    stair = _room(rng, "st", "hallway", storeys[0]["id"], 20) | {"kind": "stair", "risers": 14}
    ends = [next(r["id"] for r in rooms if r["storey"] == s["id"]) for s in storeys[:2]]
    return stair | {"joins": ends}


def _outdoors(rng: Random) -> Any:
    for side in ("front", "back"):
        walls = [{"id": "w0", "length_mm": 4000.0, "openings": []}]
        yield {
            **{"id": f"o-{side}", "name": f"Yard, {side}", "kind": "outdoors", "walls": walls},
            **{"area": "all", "storey": "main", "closed": False, "y_mm": 9000.0, "side": side},
            "from_grade": True,
        }


def _outlets(rng: Random, rooms: list[Data]) -> Any:
    """Outlets for data and coax, on walls of rooms that people live in."""
    lived_in = [room for room in rooms if room["kind"] in ("living", "bedroom", "family", "den")]
    for number, room in enumerate(lived_in):
        place = {"surface": "wall", "wall": "w2", "at_mm": 700.0, "height_mm": 300.0}
        kind = rng.choice(["data", "coax", "phone"])
        yield {
            **{"id": f"d{number}", "room": room["id"], "place": place},
            "devices": [{"kind": kind}],
        }


def _appliances(rng: Random, room: str) -> Any:
    if rng.random() < 0.7:
        furnace = {"id": "furnace", "room": room, "name": "Furnace", "kind": "furnace_blower"}
        yield furnace | {"volt_amperes": 900.0, "volts": 120.0, "burns_fuel": rng.random() < 0.6}
    if rng.random() < 0.4:
        heater = {"id": "wh", "room": room, "name": "Water heater", "kind": "water_heater"}
        yield heater | {"volt_amperes": 4500.0, "volts": 240.0, "burns_fuel": False}
