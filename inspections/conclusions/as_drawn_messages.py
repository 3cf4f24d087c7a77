"""Why an item cannot be confirmed together with its room."""

from config.messages.message import message

GONE = message(
    "as-drawn.gone",
    "An item is not on this job's checklist. Nothing was recorded; open the checklist again.",
)
NOT_ON_PLAN = message(
    "as-drawn.not-on-plan",
    "{title}: not OK on plan, so it is no part of a room check. Answer it by itself.",
)
BY_ITSELF = message(
    "as-drawn.by-itself",
    "{title}: no room check answers this. Check it by itself.",
)
DESIGN = message("as-drawn.design", "{title}: OK by its figures. There is nothing to confirm here.")
ANSWERED = message(
    "as-drawn.answered",
    "{title}: it is answered already. Nothing was recorded; confirm what is left.",
)
PHOTO = message(
    "as-drawn.photo", "{title}: take its photo first. Nothing was recorded; leave it out."
)
"""`title` is the rule's."""
