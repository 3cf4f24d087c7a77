"""How old what is kept of a job is, and so what a face may say of an area. Pure.

Copies of conclusions are drawn by each change of facts and by settling. The clock alone changes a
conclusion too, at a moment that is known before: past that moment, until it is drawn again, the
copy tells what was. No face says that an area is clear by such a copy; each asks here.
"""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import Protocol
from zoneinfo import ZoneInfo

from config.messages.message import Text, message
from jobs.moments import at_place

NEVER = message("age.never", "Not checked yet.")
SINCE = message("age.since", "Not checked since {moment}.")


class Sign(StrEnum):
    """What a face says of an area."""

    CLEAR = "clear"
    HOLD = "hold"
    UNCHECKED = "unchecked"
    """It was clear when it was last drawn, and nobody knows whether it still is."""


class Kept(Protocol):
    """What is kept of a job's standing."""

    drawn_at: datetime | None
    next_at: datetime | None
    set_aside_at: datetime | None


@dataclass(frozen=True, slots=True)
class Age:
    """When a job's copies were drawn, and whether they tell what is so now."""

    drawn_at: datetime | None
    current: bool

    def words(self, zone: str) -> Text | None:
        """Since when nothing was checked, by the clock at the house; None when it is current."""
        if self.current:
            return None
        if self.drawn_at is None:
            return NEVER()
        return SINCE(moment=at_place(self.drawn_at, ZoneInfo(zone)))


def age_of(standing: Kept, now: datetime) -> Age:
    """The age of what is kept: current until its next moment, unless the job was set aside."""
    due = standing.next_at is not None and standing.next_at <= now
    return Age(standing.drawn_at, not due and standing.set_aside_at is None)


def sign_at(released: bool, age: Age) -> Sign:
    """What a face says of an area that was or was not clear when it was last drawn."""
    if not released:
        return Sign.HOLD
    if age.current:
        return Sign.CLEAR
    return Sign.UNCHECKED
