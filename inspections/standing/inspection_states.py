"""Where an inspection can stand, and what can happen to it from there. Pure.

One table, for the service that records, the pages that offer and the API that tells.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from config.messages.message import Listed, Message, Text, message


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

STATES: Mapping[InspectionState, Message] = {
    InspectionState.ASKED: message("inspection.state.asked", "requested, not booked"),
    InspectionState.BOOKED: message("inspection.state.booked", "booked"),
    InspectionState.MOVED: message("inspection.state.moved", "rescheduled"),
    InspectionState.CANCELLED: message("inspection.state.cancelled", "cancelled"),
    InspectionState.NO_ACCESS: message("inspection.state.no-access", "no access"),
    InspectionState.NOBODY_CAME: message("inspection.state.nobody-came", "nobody came"),
    InspectionState.HELD: message("inspection.state.held", "held"),
}
"""Each as a word beside an inspection."""
NEVER_BOOKED = message(
    "inspection.never-booked",
    "This inspection is not booked yet. Record the booking first, then the result.",
)
IS_OVER = message(
    "inspection.is-over", "This inspection is over: {state}. Request a new inspection."
)
CANNOT_FOLLOW = message(
    "inspection.cannot-follow",
    "Inspection status: {state}. It can become {possible}, not {happening}.",
)
_TOO_EARLY: Mapping[InspectionState, Message] = {
    InspectionState.HELD: message(
        "inspection.early-answer", "The inspection window opens {moment}. Record the result then."
    ),
    InspectionState.NO_ACCESS: message(
        "inspection.early-no-access",
        "The inspection window opens {moment}. Record “no access” after that.",
    ),
    InspectionState.NOBODY_CAME: message(
        "inspection.early-nobody",
        "The inspection window ends {moment}. Record “nobody came” after that.",
    ),
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

    def why_not(self, happening: InspectionState, now: datetime) -> Text | None:
        """Why that cannot be recorded of the inspection now; None when it can."""
        if happening not in FOLLOWS[self.state]:
            return self._cannot_follow(happening)
        known = self.known_from(happening)
        if known is not None and now < known:
            return _TOO_EARLY[happening](moment=known)
        return None

    def _cannot_follow(self, happening: InspectionState) -> Text:
        if (self.state, happening) == (InspectionState.ASKED, InspectionState.HELD):
            return NEVER_BOOKED()
        state = STATES[self.state]()
        if self.over:
            return IS_OVER(state=state)
        possible = Listed(tuple(STATES[each]() for each in FOLLOWS[self.state]), "or")
        return CANNOT_FOLLOW(state=state, happening=STATES[happening](), possible=possible)

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
