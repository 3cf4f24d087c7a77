"""Which boxes hold a receptacle for general use, and which of them count where."""

from .coverage import Reason
from .house.boxes import Box, Device, DeviceKind

Counts = tuple[bool | None, Reason | None]
"""Whether it counts, or None when a fact is missing; and the reason when it does not surely."""

YES: Counts = (True, None)


def holds_receptacle(box: Box) -> bool:
    """Whether any device in the box is a receptacle."""
    return any(device.kind is DeviceKind.RECEPTACLE for device in box.devices)


def for_general_use(box: Box) -> bool:
    """Whether somebody in the room can plug into it: not in a cabinet, not one appliance's."""
    return any(_general(device) for device in box.devices)


def _general(device: Device) -> bool:
    return (
        device.kind is DeviceKind.RECEPTACLE
        and device.poles == 1
        and not (device.in_cabinet or device.part_of_equipment or device.dedicated_to)
    )


def kept_for(box: Box, *words: str) -> bool:
    """Whether a receptacle in it is there for one appliance whose name begins so."""
    return any(
        device.kind is DeviceKind.RECEPTACLE
        and (device.dedicated_to or "").lower().startswith(words)
        for device in box.devices
    )


def at_most(measured: float | None, limit: float | None, what: str) -> Counts:
    """Counts up to a limit; without a limit it counts, without a measure nobody knows."""
    if limit is None:
        return YES
    if measured is None:
        return None, (what, None)
    return YES if measured <= limit + 0.01 else (False, (what, measured))
