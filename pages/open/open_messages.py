"""What opens without an account says of itself."""

from config.messages.message import message

LINK_MADE = message("open.link-made", "Link for {person}, shown only once: {address}")
LINK_INVALID = message("open.link-invalid", "Link not valid")
STOP_ASK = message("open.stop-ask", "Stop these messages?")
STOP_KIND = message("open.stop-kind", "Messages about: {kind}.")
STOP_BUTTON = message("open.stop-button", "Stop these messages")
STOPPED = message("open.stopped", "Messages stopped")
STOPPED_KIND = message(
    "open.stopped-kind",
    "You get no more messages about: {kind}. The notices still show on the site.",
)
