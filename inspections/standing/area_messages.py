"""Why something that was named cannot be found."""

from config.messages.message import message

NO_AREA = message(
    "refused.area.none",
    "This job has no area “{code}”. Use the code of one of its areas.",
)
