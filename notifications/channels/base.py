"""What every channel does: send one delivery, or say how it failed."""

from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager
from typing import Protocol

from config.messages.message import Value
from config.messages.saying import said
from notifications.models import Delivery, Notice

LONGEST_ANSWER = 400
"""So many letters of what another server says are kept."""


class NotSent(Exception):
    """A message did not go; the text says why."""

    def __init__(self, text: Value) -> None:
        super().__init__(said(text))
        self.text = text


class DeliveryRefused(NotSent):
    """It will not go, however often it is tried. `pause`: nothing else will to that address."""

    def __init__(self, text: Value, *, pause: bool = False) -> None:
        super().__init__(text)
        self.pause = pause


class Later(NotSent):
    """It did not go this time."""


class ChannelDown(NotSent):
    """The channel itself is down: what else was taken is given back untried."""


class Sender(AbstractContextManager["Sender"], Protocol):
    """An open channel. Leaving the block closes it."""

    def write(self, delivery: Delivery, notices: Sequence[Notice]) -> None:
        """Write one that is to be sent next, where that can be done ahead."""

    def send(
        self, delivery: Delivery, notices: Sequence[Notice], meanwhile: Callable[[], None]
    ) -> None:
        """Send one; while it is on its way, call `meanwhile`. Raises Refused, Later or Line."""
