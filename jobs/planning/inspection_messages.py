"""How the first inspection that can be requested was found, and why there is none."""

from config.messages.message import message

REQUESTED = message("earliest.requested", "Requested {moment}.")
CLOSED_THAT_DAY = message(
    "earliest.closed-that-day",
    "The office is closed that day ({why}), so the request counts from {day}.",
)
AFTER_CUT_OFF = message(
    "earliest.after-cut-off", "That is after the {hour} cut-off, so the request counts from {day}."
)
NOTICE_DAYS = message(
    "earliest.notice-days",
    "Notice of {n} working days: {day}.",
    one="Notice of {n} working day: {day}.",
)
NOTICE_HOURS = message(
    "earliest.notice-hours",
    "Notice of {n} hours, working days only: {moment}.",
    one="Notice of {n} hour, working days only: {moment}.",
)
NOT_COUNTED = message("earliest.not-counted", "{day} does not count ({why}).")
CLOSED = message("earliest.closed", "{day}: closed ({why}).")
NO_INSPECTIONS = message(
    "earliest.no-inspections", "{day}: no inspections in this district on that weekday."
)
WINDOW = message("earliest.window", "First window: {starts} to {ends}.")

NEVER_WORKED = message(
    "calendar.inspections-never",
    "Inspections are on {weekdays}, and the office works on none of these days. "
    "Correct the weekdays of the authority.",
)
NO_INSPECTION_DAY = message(
    "calendar.no-inspection-day",
    "The authority inspects on no weekday. Choose at least one.",
)
NO_WEEKDAY = message("calendar.no-weekday", "No weekday is a working day. Choose at least one.")
WEEKS_CLOSED = message(
    "calendar.weeks-closed",
    "The {n} weeks from {day} have no working day ({why}). Check the shop's weekdays and closures.",
    one="The week from {day} has no working day ({why}). Check the shop's weekdays and closures.",
)
CLOSED_OWN = message("calendar.closed", "closed")
