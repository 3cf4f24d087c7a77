"""Faults of reference: what points to nothing, stands twice, or does not fit.

The checks read plain JSON and step over whatever has the wrong shape, which is said
elsewhere; so both kinds of fault are found in one reading.
"""

from collections.abc import Iterator
from typing import Any

from . import reference_messages as words
from .faults import HouseFault
from .fittings import fitting_faults
from .geometry import counter_faults, place_faults, room_faults
from .power import power_faults

Data = dict[str, Any]
KINDS = (
    "storeys",
    "areas",
    "rooms",
    "counters",
    "panels",
    "circuits",
    "appliances",
    "boxes",
    "cables",
    "holes",
    "notches",
    "fastenings",
    "bundles",
)
RUNS = ("holes", "notches", "fastenings", "bundles", "separations")
"""Lists of what was seen of cables together, each with its room."""
SINGLE_RUNS = ("heat_gaps", "crossings")
"""The same of one cable."""
NODES = ("boxes", "panels", "appliances")


def reference_faults(data: Data) -> Iterator[HouseFault]:
    """Every fault of reference in a house file's values."""
    names = {}
    for kind in KINDS:
        names[kind] = _names(data, kind)
    names["nodes"] = set().union(*(names[kind] for kind in NODES))
    yield from _duplicates(data)
    yield from _pointers(data, names)
    rooms = {}
    for room in parts(data, "rooms"):
        if isinstance(room.get("id"), str):
            rooms[room["id"]] = room
    for index, room in enumerated(data, "rooms"):
        yield from room_faults(f"rooms[{index}]", room)
    for index, counter in enumerated(data, "counters"):
        yield from counter_faults(f"counters[{index}]", counter, rooms)
    counters = {}
    for c in parts(data, "counters"):
        if isinstance(c.get("id"), str):
            counters[c["id"]] = c
    for index, box in enumerated(data, "boxes"):
        yield from place_faults(f"boxes[{index}].place", box, rooms, counters)
    yield from fitting_faults(data, names)
    yield from _cables(data)
    yield from power_faults(data)


def enumerated(data: Any, kind: str) -> Iterator[tuple[int, Data]]:
    """The objects of a list in the data with their places in it."""
    found = None
    if isinstance(data, dict):
        found = data.get(kind)
    for index, part in enumerate(found if isinstance(found, list) else ()):
        if isinstance(part, dict):
            yield index, part


def parts(data: Any, kind: str) -> Iterator[Data]:
    """The objects of a list in the data."""
    for _, part in enumerated(data, kind):
        yield part


def _names(data: Data, kind: str) -> set[str]:
    names: set[str] = set()
    for part in parts(data, kind):
        if isinstance(part.get("id"), str):
            names.add(part["id"])
    return names


def _duplicates(data: Data) -> Iterator[HouseFault]:
    for kind in KINDS:
        if kind not in NODES:
            yield from _twice(data, (kind,))
    yield from _twice(data, NODES)


def _twice(data: Data, kinds: tuple[str, ...]) -> Iterator[HouseFault]:
    first: dict[str, str] = {}
    for kind in kinds:
        for index, part in enumerated(data, kind):
            name, path = part.get("id"), f"{kind}[{index}]"
            if isinstance(name, str):
                if name in first:
                    taken = words.TAKEN(name=repr(name), by=first[name])
                    yield HouseFault(f"{path}.id", taken)
                first.setdefault(name, path)


def _pointers(data: Data, names: dict[str, set[str]]) -> Iterator[HouseFault]:
    def points(kind: str, key: str, to: str, noun: str) -> Iterator[HouseFault]:
        for index, part in enumerated(data, kind):
            yield from _missing(f"{kind}[{index}].{key}", part.get(key), names[to], noun)

    yield from points("rooms", "area", "areas", "area")
    yield from points("rooms", "storey", "storeys", "storey")
    for kind in ("boxes", "counters", "panels", "appliances", *RUNS, *SINGLE_RUNS):
        yield from points(kind, "room", "rooms", "room")
    yield from points("boxes", "area", "areas", "area")
    yield from points("circuits", "panel", "panels", "panel")
    yield from points("circuits", "shares_neutral_with", "circuits", "circuit")
    yield from points("cables", "circuit", "circuits", "circuit")
    yield from points("appliances", "circuit", "circuits", "circuit")
    for kind in RUNS:
        yield from _each(data, kind, "cables", names["cables"], "cable")
    for kind in SINGLE_RUNS:
        yield from points(kind, "cable", "cables", "cable")
    yield from _each(data, "cables", "ends", names["nodes"], "box, panel or appliance")
    yield from _nested(data, names)


def _nested(data: Data, names: dict[str, set[str]]) -> Iterator[HouseFault]:
    for index, cable in enumerated(data, "cables"):
        for inner, through in enumerated(cable, "through"):
            path = f"cables[{index}].through[{inner}].box"
            yield from _missing(path, through.get("box"), names["boxes"], "box")
    for index, box in enumerated(data, "boxes"):
        for inner, device in enumerated(box, "devices"):
            for key in ("circuit", "second_circuit"):
                path = f"boxes[{index}].devices[{inner}].{key}"
                yield from _missing(path, device.get(key), names["circuits"], "circuit")


def _each(data: Data, kind: str, key: str, names: set[str], noun: str) -> Iterator[HouseFault]:
    for index, part in enumerated(data, kind):
        values = part.get(key)
        for inner, value in enumerate(values if isinstance(values, list) else ()):
            yield from _missing(f"{kind}[{index}].{key}[{inner}]", value, names, noun)


def _missing(path: str, value: Any, names: set[str], noun: str) -> Iterator[HouseFault]:
    if isinstance(value, str) and value not in names:
        yield HouseFault(path, words.NO_SUCH[noun](name=repr(value)))


POWER = frozenset({"nm", "ac", "mc", "uf", "se", "raceway", "open"})


def _cables(data: Data) -> Iterator[HouseFault]:
    for index, cable in enumerated(data, "cables"):
        path = f"cables[{index}]"
        if _joins_itself(cable.get("ends")):
            yield HouseFault(f"{path}.ends", words.SAME_ENDS())
        kind = cable.get("kind")
        if isinstance(kind, str) and kind in POWER and cable.get("awg") is None:
            yield HouseFault(f"{path}.awg", words.NO_SIZE())
    for index, separation in enumerated(data, "separations"):
        if _joins_itself(separation.get("cables")):
            yield HouseFault(f"separations[{index}].cables", words.SAME_CABLE())


def _joins_itself(pair: Any) -> bool:
    return isinstance(pair, list) and len(pair) == 2 and pair[0] == pair[1]
