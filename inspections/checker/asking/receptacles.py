"""Which boxes hold a receptacle for general use, and which of them count where."""

from inspections.checker.asking.coverage import Reason
from inspections.checker.house.boxes import Box, Device, DeviceKind, OnCounter, OnWall
from inspections.checker.house.fixtures import FixtureKind
from inspections.checker.site import HouseByCode

USUAL_TOP_MM = 850.0
"""Lower than any kitchen counter, higher than any receptacle for the room."""

CALLED = {
    FixtureKind.WASHER: ("wash",),
    FixtureKind.DRYER: ("dry", "clothes dry"),
    FixtureKind.REFRIGERATOR: ("refrig", "fridge"),
    FixtureKind.RANGE: ("range", "stove", "oven"),
    FixtureKind.DISHWASHER: ("dish",),
    FixtureKind.MICROWAVE: ("micro",),
    FixtureKind.DOOR_OPENER: ("door open", "opener", "garage door"),
}
"""How the names begin by which a receptacle or appliance is known to belong to it."""

Counts = tuple[bool | None, Reason | None]
"""Whether it counts, or None when a fact is missing; and the reason when it does not surely."""

YES: Counts = (True, None)


def for_general_use(box: Box) -> bool:
    """Whether somebody in the room can plug into it: not in a cabinet, not one appliance's."""
    for device in box.devices:
        if is_general(device):
            return True
    return False


def is_general(device: Device) -> bool:
    """Whether a device is a receptacle for anybody's use."""
    return (
        device.kind is DeviceKind.RECEPTACLE
        and device.poles == 1
        and not (device.in_cabinet or device.part_of_equipment or device.dedicated_to)
    )


def appliance_called(name: str) -> FixtureKind | None:
    """The appliance that a name begins like; None when it is another."""
    for kind, words in CALLED.items():
        if name.lower().startswith(words):
            return kind
    return None


def kept_for(box: Box, *words: str) -> bool:
    """Whether a receptacle in it is there for one appliance whose name begins so."""
    for device in box.devices:
        if device.kind is DeviceKind.RECEPTACLE and (device.dedicated_to or "").lower().startswith(
            words
        ):
            return True
    return False


def serves_counter(site: HouseByCode, box: Box) -> bool:
    """Whether a receptacle stands over a counter, in it or at its side.

    On a wall it does so within the counter's stretch and above its top, or above a usual
    one where it is not measured yet; a height that is not measured yet is taken to be.
    """
    place = box.place
    if isinstance(place, OnCounter):
        return True
    if not isinstance(place, OnWall):
        return False
    for counter in site.counters_in[box.room]:
        for stretch in counter.along:
            if (
                stretch.wall == place.wall
                and stretch.at_mm <= place.at_mm <= stretch.at_mm + stretch.width_mm
                and (place.height_mm is None or place.height_mm >= (counter.top_mm or USUAL_TOP_MM))
            ):
                return True
    return False


def count_at_most(measured: float | None, limit: float | None, what: str) -> Counts:
    """Counts up to a limit; without a limit it counts, without a measure nobody knows."""
    if limit is None:
        return YES
    if measured is None:
        return None, (what, None)
    if measured <= limit + 0.01:
        return YES
    return False, (what, measured)
