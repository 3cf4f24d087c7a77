"""Where an inspection can stand, and what can happen to it from there. Pure.

One table, for the service that records, the pages that offer and the API that tells.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum


class InspectionState(StrEnum):
    """What last happened to an inspection; `ASKED` before anything did."""

    ASKED = "asked"
    BOOKED = "booked"
    MOVED = "moved"
    CANCELLED = "cancelled"
    NO_ACCESS = "no_access"
    NOBODY_CAME = "nobody_came"
    HELD = "held"


_BOOKED_NOW = (
    InspectionState.MOVED,
    InspectionState.CANCELLED,
    InspectionState.NO_ACCESS,
    InspectionState.NOBODY_CAME,
    InspectionState.HELD,
)
FOLLOWS: Mapping[InspectionState, tuple[InspectionState, ...]] = {
    InspectionState.ASKED: (InspectionState.BOOKED, InspectionState.CANCELLED),
    InspectionState.BOOKED: _BOOKED_NOW,
    InspectionState.MOVED: _BOOKED_NOW,
    InspectionState.NO_ACCESS: (InspectionState.MOVED, InspectionState.CANCELLED),
    InspectionState.NOBODY_CAME: (),
    InspectionState.CANCELLED: (),
    InspectionState.HELD: (),
}
"""What can happen next. Where nothing can, the inspection is over and a new one is asked for."""
ENDED = frozenset(state for state, following in FOLLOWS.items() if not following)
"""An inspection is no longer on its way after one of these."""

WINDOWED = (InspectionState.BOOKED, InspectionState.MOVED)
"""What carries a window; nothing else does."""
ONCE_BEGUN = (InspectionState.HELD, InspectionState.NO_ACCESS)
"""What cannot be known before the window opens."""
ONCE_OVER = (InspectionState.NOBODY_CAME,)
"""What cannot be known before the window ends."""

_WORDS = {
    InspectionState.ASKED: "asked for, not booked",
    InspectionState.NO_ACCESS: "no access",
    InspectionState.NOBODY_CAME: "nobody came",
}
_TOO_EARLY = {
    InspectionState.HELD: "This visit has not begun: its window opens on {}. "
    "Its answer is recorded from then on.",
    InspectionState.NO_ACCESS: "This visit has not begun: its window opens on {}. "
    "That nobody could let the inspector in is recorded from then on.",
    InspectionState.NOBODY_CAME: "This visit is not over: its window ends on {}. "
    "That nobody came is recorded from then on.",
}


@dataclass(frozen=True, slots=True)
class InspectionNow:
    """Where an inspection stands, with the window that it was given last, in the house's time."""

    state: InspectionState
    starts: datetime | None = None
    ends: datetime | None = None

    def known_from(self, happening: InspectionState) -> datetime | None:
        """The moment before which that cannot be known of it; None when it can at any time."""
        if happening in ONCE_BEGUN:
            return self.starts
        if happening in ONCE_OVER:
            return self.ends
        return None

    def why_not(self, happening: InspectionState, now: datetime) -> str:
        """Why that cannot be recorded of the inspection now, in words; empty when it can."""
        if happening not in FOLLOWS[self.state]:
            if (self.state, happening) == (InspectionState.ASKED, InspectionState.HELD):
                return "This visit was never booked, so it cannot have been held."
            return f"The visit is {_word(self.state)}; it cannot be {_word(happening)} now."
        known = self.known_from(happening)
        if known is not None and now < known:
            return _TOO_EARLY[happening].format(f"{known:%Y-%m-%d %H:%M}")
        return ""

    def may_be(self, now: datetime) -> tuple[InspectionState, ...]:
        """What can be recorded of it now."""
        open_to = []
        for each in FOLLOWS[self.state]:
            if not self.why_not(each, now):
                open_to.append(each)
        return tuple(open_to)

    @property
    def over(self) -> bool:
        """Whether nothing can happen to it any more."""
        return self.state in ENDED


def _word(state: InspectionState) -> str:
    return _WORDS.get(state, state.value)
