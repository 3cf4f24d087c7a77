"""What a link or a placard says when it is opened and no longer good."""

from config.messages.message import message

WITHDRAWN = message("link.withdrawn", "{shop} withdrew this link. Ask them for a new one.")
EXPIRED = message("link.expired", "This link expired on {day}. Ask {shop} for a new one.")
PLACARD_WITHDRAWN = message("placard.withdrawn", "The cover release on this placard was withdrawn.")
PLACARD_REPLACED = message(
    "placard.replaced",
    "The cover release on this placard was withdrawn and a new one issued. Print a new placard.",
)
