"""Boxes for the receptacle of a range or a dryer: heavy plugs that pull at the box."""

from inspections.checker.house.boxes import Box, DeviceKind

RANGE = frozenset({"range", "stove"})
DRYER = frozenset({"dryer"})


def serves(box: Box, names: frozenset[str]) -> bool:
    """Whether a receptacle in the box is there for an appliance of one of the names."""
    for device in box.devices:
        if (
            device.kind is DeviceKind.RECEPTACLE
            and device.dedicated_to is not None
            and not names.isdisjoint(device.dedicated_to.lower().split())
        ):
            return True
    return False


def is_heavy_duty(box: Box) -> bool:
    """Whether it is there for a range or a dryer."""
    return serves(box, RANGE) or serves(box, DRYER)
