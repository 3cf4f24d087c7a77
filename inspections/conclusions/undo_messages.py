"""Why a fault that was recorded by mistake cannot be undone."""

from config.messages.message import message

SAID_SINCE = message(
    "undo.said-since", "A newer answer is on this item. Inspect it again and record what you see."
)
NOT_YOURS = message(
    "undo.not-yours",
    "Only the person who recorded it can undo it. Inspect it again and record what you see.",
)
NOTHING_WRONG = message("undo.nothing-wrong", "This answer is OK. There is nothing to undo.")
NA_STANDS = message(
    "undo.na", "Another answer takes the place of N/A: record OK, Fix or Can't see."
)
NA_BEFORE = message(
    "undo.na-before",
    "The item was N/A before, so it cannot go back to OK without an inspection. Inspect it again.",
)
CHANGED = message(
    "undo.changed", "The house has changed since this was recorded. Inspect the item again."
)
NOT_OK_BEFORE = message(
    "undo.not-ok-before",
    "The item was not OK before, so it cannot go back to OK without an inspection. Inspect it "
    "again.",
)
