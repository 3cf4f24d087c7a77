"""What is said of a day or a moment that cannot be, and the fields that one is given in."""

from config.messages.message import message

DAY_RANGE = message(
    "refused.day.range", "{day} is out of range. Enter a day from {first} to {last}."
)
DAY_PAST = message(
    "refused.day.past", "{day} is out of range. Enter a day from {first} to today at the house."
)
DAY_AHEAD = message(
    "refused.day.ahead", "{day} is out of range. Enter a day from {first} to {n} years from today."
)
DAY_UNREAD = message("refused.day.unread", "“{typed}” is not a date. Write it like 2026-03-16.")
SPAN_ENDS = message(
    "refused.day.span", "The last day, {last}, is before the first, {first}. Correct one of them."
)
MOMENT_RANGE = message("refused.moment.range", "{moment} is out of range. {remedy}")
MOMENT_ASKED = message("refused.moment.asked", "Enter a time from {first} to {last} ({zone}).")
WINDOW_ENDS = message(
    "refused.window.ends", "The window must end after it starts. Enter a later end."
)
WINDOW_LONG = message(
    "refused.window.long", "The window is longer than {n} days. Enter an earlier end."
)

IN_FIELD = message("refused.in-field", "{field}: {fault}")
FIELDS = {
    "applied_on": message("field.applied-on", "applied on"),
    "closed_on": message("field.closed-on", "closed on"),
    "day": message("field.day", "day"),
    "drywall_on": message("field.drywall-on", "drywall on"),
    "due_on": message("field.due-on", "due on"),
    "ends_at": message("field.ends-at", "ends at"),
    "expires_on": message("field.expires-on", "expires on"),
    "first_day": message("field.first-day", "first day"),
    "from_day": message("field.from-day", "from day"),
    "issued_on": message("field.issued-on", "issued on"),
    "known_at": message("field.known-at", "known at"),
    "made_at": message("field.made-at", "made at"),
    "not_before": message("field.not-before", "not before"),
    "on": message("field.on", "on"),
    "phone_now": message("field.phone-now", "time on the phone"),
    "reached_on": message("field.reached-on", "reached on"),
    "seen_at": message("field.seen-at", "seen at"),
    "starts_at": message("field.starts-at", "starts at"),
    "stood_down_on": message("field.stood-down-on", "stood down on"),
    "temporary_until": message("field.temporary-until", "temporary until"),
    "to_day": message("field.to-day", "to day"),
}
"""What each field of a day or a moment is called, by its name in services."""
