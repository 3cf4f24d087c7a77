"""What settles a light that no wall switch turns on: which switch does, where one is there."""

from collections.abc import Iterator

from inspections.checker.asking.fixing import done
from inspections.checker.graph.lights import Lights, switches_of
from inspections.checker.graph.wiring import Wiring
from inspections.checker.house import House
from inspections.checker.house.fixes import Fix


def switched_from(house: House, room: str, light: str) -> Iterator[Fix]:
    """The switches of a room, then those beside it on its storey, that could turn on a light."""
    lights = Lights(house, Wiring(house))
    storeys = {each.id: each.storey for each in house.rooms}
    near = []
    for box in house.boxes:
        if switches_of(box) and storeys[box.room] == storeys[room]:
            near.append((box.room != room, box))
    if any(not elsewhere for elsewhere, _ in near):
        near = [each for each in near if not each[0]]
    for _, box in near:
        turns_on = sorted({*lights.switched_by(box.id), light})
        for place, device in enumerate(box.devices):
            if device in switches_of(box):
                yield done(("boxes", box.id, "devices", place, "controls"), turns_on)
                break
