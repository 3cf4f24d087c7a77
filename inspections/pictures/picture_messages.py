"""Why a photo cannot be taken, and what to send."""

from config.messages.message import message

UNREADABLE = message(
    "refused.photo.unreadable", "This photo cannot be read. Send a JPEG, PNG or WebP file."
)
TOO_MANY_PIXELS = message(
    "refused.photo.pixels", "The photo has over {most} million pixels. Send a smaller one."
)
