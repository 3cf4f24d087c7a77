"""What an invitation says when it is opened and no longer good."""

from config.messages.message import message

USED = message(
    "invitation.used",
    "This invitation was used. Sign in with the name and password you chose.",
)
WITHDRAWN = message(
    "invitation.withdrawn", "{shop} withdrew this invitation. Ask them for a new one."
)
EXPIRED = message(
    "invitation.expired", "This invitation expired on {day}. Ask {shop} for a new one."
)
