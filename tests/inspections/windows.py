"""When an inspector comes, as services take it: both ends, or nothing where nothing is booked."""

from datetime import datetime
from typing import TypedDict


class Window(TypedDict, total=False):
    """The window of an inspection."""

    starts_at: datetime
    ends_at: datetime
