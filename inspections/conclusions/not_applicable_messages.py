"""Why a check cannot be answered N/A."""

from config.messages.message import message

FIGURES = message(
    "na.figures", "N/A does not change what the figures say. Record what was changed or measured."
)
DESIGN = message("na.design", "This is OK by its figures. N/A is for what is verified on site.")
MEASURED = message("na.measured", "This check requires a measurement. N/A cannot replace it.")
PHOTOGRAPHED = message("na.photographed", "This check requires a photo. N/A cannot replace it.")
ROOM = message("na.room", "A room check never gives N/A. Answer each check by itself.")
REASON = message(
    "na.reason", "Write why this check does not apply here, such as “no dishwasher in this house”."
)
AFTER_FIX = message(
    "na.after-fix", "{person} recorded Fix here. Only OK answers it: have it fixed, then record OK."
)
