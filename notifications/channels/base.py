"""What every channel does: send one delivery, or say how it failed."""

from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager
from typing import Protocol

from notifications.models import Delivery, Notice


class DeliveryRefused(Exception):
    """It will not go, however often it is tried. `pause`: nothing else will to that address."""

    def __init__(self, fault: str, *, pause: bool = False) -> None:
        super().__init__(fault)
        self.pause = pause


class Later(Exception):
    """It did not go this time."""


class ChannelDown(Exception):
    """The channel itself is down: what else was taken is given back untried."""


class Sender(AbstractContextManager["Sender"], Protocol):
    """An open channel. Leaving the block closes it."""

    def write(self, delivery: Delivery, notices: Sequence[Notice]) -> None:
        """Write one that is to be sent next, where that can be done ahead."""

    def send(
        self, delivery: Delivery, notices: Sequence[Notice], meanwhile: Callable[[], None]
    ) -> None:
        """Send one; while it is on its way, call `meanwhile`. Raises Refused, Later or Line."""
