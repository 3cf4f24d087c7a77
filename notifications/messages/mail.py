"""What stands around the notices of a message, and what calendars say."""

from config.messages.message import message

URGENT = message("mail.urgent", "URGENT.")
SUBJECT_URGENT = message("mail.subject-urgent", "Urgent: {notice}")
SUBJECT_MANY = message("mail.subject-many", "{shop}: {n} notices", one="{shop}: {n} notice")
SINCE = message("mail.since", "since {moment}")
SEEN = message("mail.seen", "I have seen it")
SHORT_SEEN = message("mail.short-seen", "Seen it: {link}")
STOP = message("mail.stop", "Stop messages of this kind ({kind})")
ON_SITE = message("mail.on-site", "on the site")
BY = message("mail.by", "{channel}: {state}")
DELIVERY = message("mail.delivery", "{channel} to {address}")
AND_MORE = message("mail.and-more", "{notice} and {n} more")

ENTRY = message("calendar.entry", "{inspection}: {job}")
ENTRY_TEXT = message("calendar.entry-text", "{where}. Give access, and leave the panel open.")
WHOLE_JOB = message("calendar.whole-job", "Whole job")

LINK_BROKEN = message("link.broken", "This link is not complete. Open it again from the message.")
LINK_OLD = message("link.old", "This link is more than a month old. Sign in to see the latest.")
LINK_KIND_GONE = message(
    "link.kind-gone",
    "These messages are no longer sent. Choose your notifications on the site.",
)
