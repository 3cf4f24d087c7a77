"""Notices about permits."""

from config.messages.message import message

NOT_ISSUED = message(
    "notice.permit-not-issued",
    "{job}: the permit is not issued {n} days after the application of {day}. Call {authority}.",
    one="{job}: the permit is not issued {n} day after the application of {day}. Call {authority}.",
)
EXPIRING = message(
    "notice.permit-expiring",
    "{job}: the permit expires {day}, in {n} days or less. "
    "Request an extension or an inspection from {authority}.",
    one="{job}: the permit expires {day}, in {n} day or less. "
    "Request an extension or an inspection from {authority}.",
)
WORK_WITHOUT = message(
    "notice.work-without-permit",
    "{job}: work is recorded, and no permit is issued. Stop work. Call the authority "
    "before you go on.",
)
