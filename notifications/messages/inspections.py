"""Notices about inspections, their answers and deficiencies."""

from collections.abc import Mapping

from config.messages.message import Message, message

NOTE = message("notice.note", "Note: {note}")
WINDOW = message("notice.window", "{day}, {begins} to {ends}")
NO_WINDOW = message("notice.no-window", "time not set")

READY = message(
    "notice.rough-in-ready",
    "{job}, {area}: ready for rough-in inspection. Request it from {authority}.",
)
LAST_DAY = message(
    "notice.last-day",
    "{job}: drywall starts {day}. Today is the last day to request an inspection from {authority} "
    "before that. Not released: {areas}.",
)
LAST_HOUR = message("notice.last-day.hour", "Request it before {hour}.")
WHOLE_ROUGH_IN = message("notice.last-day.whole", "the whole rough-in")
BOOKED = message("notice.inspection-booked", "{job}: {inspection} booked for {window}.")
RESCHEDULED = message(
    "notice.inspection-rescheduled", "{job}: {inspection} rescheduled to {window}."
)
CANCELLED = message("notice.inspection-cancelled", "{job}: {inspection} of {window} is cancelled.")
TOMORROW = message(
    "notice.inspection-tomorrow",
    "{job}: {inspection}, {window}, {address}. On site: {who}. "
    "Give access, leave the panel open, and keep all the work in view.",
)
SOMEBODY = message("notice.inspection-tomorrow.crew", "one of the crew")
NO_ACCESS = message(
    "notice.no-access", "{job}: {inspection}: the inspector could not get in. Reschedule it."
)
FEE = message("notice.fee", "Reinspection fee: {fee}.")
NOBODY_CAME = message(
    "notice.nobody-came", "{job}: {inspection}: the inspector did not come. Do not cover."
)
RESULT = message("notice.result", "{job}: {inspection}, reference {reference}. {answers}.")
OF_AREA = message("notice.result.area", "{area}: {answer}")
ACCEPTED = message("notice.accepted", "{job}: {inspection}: {answer}. Reference {reference}.")

ANSWERS: Mapping[str, Message] = {
    "accepted": message("notice.answer.accepted", "accepted"),
    "with_deficiencies": message("notice.answer.deficiencies", "accepted with deficiencies"),
    "not_accepted": message("notice.answer.not-accepted", "defect notice"),
}
ANSWERS_US: Mapping[str, Message] = {
    "accepted": message("notice.answer-us.accepted", "approved"),
    "with_deficiencies": message("notice.answer-us.deficiencies", "partial approval"),
    "not_accepted": message("notice.answer-us.not-accepted", "correction notice"),
}
"""What the authority said, as its own notices call it."""

WRITTEN_UP = message("notice.written-up", "{job}, {area}: the inspector wrote up: {what}.")
WRITTEN_UP_AT = message(
    "notice.written-up-at", "{job}, {area}: the inspector wrote up: {what} ({where})."
)
CORRECT_BY = message("notice.written-up.due", "Correct it by {day}.")
DUE = message("notice.deficiency-due", "{job}, {area}: not corrected yet, due {day}: {what}")
OVERDUE = message("notice.deficiency-overdue", "{job}, {area}: overdue since {day}: {what}")
ALL_CORRECTED = message(
    "notice.all-corrected",
    "{job}, {area}: {n} deficiencies are corrected. Request the reinspection.",
    one="{job}, {area}: {n} deficiency is corrected. Request the reinspection.",
)
