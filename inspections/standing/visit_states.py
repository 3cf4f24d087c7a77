"""Where a visit can stand, and what can happen to it from there. Pure.

One table, for the service that records, the pages that offer and the API that tells.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum


class VisitState(StrEnum):
    """What last happened to a visit; `ASKED` before anything did."""

    ASKED = "asked"
    BOOKED = "booked"
    MOVED = "moved"
    CANCELLED = "cancelled"
    NO_ACCESS = "no_access"
    NOBODY_CAME = "nobody_came"
    HELD = "held"


_BOOKED_NOW = (
    VisitState.MOVED,
    VisitState.CANCELLED,
    VisitState.NO_ACCESS,
    VisitState.NOBODY_CAME,
    VisitState.HELD,
)
FOLLOWS: Mapping[VisitState, tuple[VisitState, ...]] = {
    VisitState.ASKED: (VisitState.BOOKED, VisitState.CANCELLED),
    VisitState.BOOKED: _BOOKED_NOW,
    VisitState.MOVED: _BOOKED_NOW,
    VisitState.NO_ACCESS: (VisitState.MOVED, VisitState.CANCELLED),
    VisitState.NOBODY_CAME: (),
    VisitState.CANCELLED: (),
    VisitState.HELD: (),
}
"""What can happen next. Where nothing can, the visit is over and a new one is asked for."""
ENDED = frozenset(state for state, following in FOLLOWS.items() if not following)
"""A visit is no longer on its way after one of these."""

WINDOWED = (VisitState.BOOKED, VisitState.MOVED)
"""What carries a window; nothing else does."""
ONCE_BEGUN = (VisitState.HELD, VisitState.NO_ACCESS)
"""What cannot be known before the window opens."""
ONCE_OVER = (VisitState.NOBODY_CAME,)
"""What cannot be known before the window ends."""

_WORDS = {
    VisitState.ASKED: "asked for, not booked",
    VisitState.NO_ACCESS: "no access",
    VisitState.NOBODY_CAME: "nobody came",
}
_TOO_EARLY = {
    VisitState.HELD: "This visit has not begun: its window opens on {}. "
    "Its answer is recorded from then on.",
    VisitState.NO_ACCESS: "This visit has not begun: its window opens on {}. "
    "That nobody could let the inspector in is recorded from then on.",
    VisitState.NOBODY_CAME: "This visit is not over: its window ends on {}. "
    "That nobody came is recorded from then on.",
}


@dataclass(frozen=True, slots=True)
class VisitNow:
    """Where a visit stands, with the window that it was last given, in the time of the house."""

    state: VisitState
    starts: datetime | None = None
    ends: datetime | None = None

    def known_from(self, happening: VisitState) -> datetime | None:
        """The moment before which that cannot be known of it; None when it can at any time."""
        if happening in ONCE_BEGUN:
            return self.starts
        if happening in ONCE_OVER:
            return self.ends
        return None

    def why_not(self, happening: VisitState, now: datetime) -> str:
        """Why that cannot be recorded of the visit now, in words; empty when it can."""
        if happening not in FOLLOWS[self.state]:
            if (self.state, happening) == (VisitState.ASKED, VisitState.HELD):
                return "This visit was never booked, so it cannot have been held."
            return f"The visit is {_word(self.state)}; it cannot be {_word(happening)} now."
        known = self.known_from(happening)
        if known is not None and now < known:
            return _TOO_EARLY[happening].format(f"{known:%Y-%m-%d %H:%M}")
        return ""

    def may_be(self, now: datetime) -> tuple[VisitState, ...]:
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


def _word(state: VisitState) -> str:
    return _WORDS.get(state, state.value)
