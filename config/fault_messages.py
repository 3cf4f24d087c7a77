"""What is said where no view answers: nothing there, too much at once, something out of reach."""

from config.messages.message import message

UNREADABLE = message("fault.unreadable", "The request cannot be read. Check it and send it again.")
NOTHING_HERE = message("fault.nothing", "There is nothing here, or it is not yours to see.")
BROKEN = message("fault.broken", "Something broke here. What you sent may not have been recorded.")
AT_ONCE = message(
    "fault.at-once",
    "Someone else recorded this at the same moment. Read what is on record, then send yours again.",
)
"""Said where two did the same at once and the database took the first: never by its own names."""
DATABASE_AWAY = message(
    "fault.database-away",
    "The database is out of reach. Nothing was recorded. Try again in a moment.",
)
PHOTOS_AWAY = message(
    "fault.photos-away", "Photos are out of reach. Nothing was recorded. Try again in a moment."
)
DISK_FULL = message(
    "fault.disk-full",
    "The disk of this site is full. Nothing was recorded. Try again once there is room.",
)
KEY_MISSING = message(
    "fault.key-missing",
    "A key of this site is missing, so a secret cannot be opened. Nothing was recorded. "
    "Whoever runs the site finds which key in its log.",
)
ROW_REFUSED = message(
    "fault.row-refused",
    "{kind}: the database refused what was to be written; the log of the site says why",
)

TOO_MUCH = message(
    "fault.too-much",
    "This is larger than {most} MB, the maximum at once. Send less, or a smaller file.",
)
TOO_MUCH_UNKNOWN = message(
    "fault.too-much-unknown",
    "This is larger than {most} kB, the maximum without signing in. Sign in first.",
)
TOO_OFTEN = message(
    "fault.too-often",
    "Too many requests in one minute. Nothing was recorded. Wait a minute, then go on.",
)
NO_TLS = message(
    "fault.no-tls",
    "Use https. What was sent without it may have been read, so make a new token.",
)
