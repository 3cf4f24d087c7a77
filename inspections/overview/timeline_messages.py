"""What the timeline of an area says."""

from config.messages.message import message

HOUSE = message("timeline.house", "House recorded, revision {number}.")
HOUSE_WHY = message("timeline.house-why", "House recorded, revision {number}: {why}")
SEEN = {
    "ok": message(
        "timeline.seen-ok", "{n} items OK on site: {titles}.", one="{n} item OK on site: {titles}."
    ),
    "fix": message(
        "timeline.seen-fix", "{n} items to fix: {titles}.", one="{n} item to fix: {titles}."
    ),
    "cant_see": message(
        "timeline.unseen",
        "{n} items could not be seen: {titles}.",
        one="{n} item could not be seen: {titles}.",
    ),
    "na": message(
        "timeline.seen-na",
        "{n} items do not apply here: {titles}.",
        one="{n} item does not apply here: {titles}.",
    ),
}
ROOM_CHECK = message(
    "timeline.room-check",
    "Room check: {n} items OK: {titles}.",
    one="Room check: {n} item OK: {titles}.",
)
NOTE = message("timeline.note", "“{note}”")
PHOTO = message("timeline.photo", "Photo taken: {title}, {place}.")
PHOTO_MOMENTS = {
    "before": message("timeline.photo-written-up", "Photo taken of the deficiency: {what}."),
    "after": message("timeline.photo-corrected", "Photo taken of the correction: {what}."),
}
REQUESTED = message("timeline.requested", "Requested: {inspection}.")
REQUESTED_OPEN = message(
    "timeline.requested-open", "Requested while items were open: {inspection}."
)
EVENT = message("timeline.event", "{inspection}: {what}.")
ANSWERED = message("timeline.answered", "{answer}: {basis}, reference {reference}.")
ANSWERED_SIGNED = message(
    "timeline.answered-signed",
    "{answer}: {basis}, reference {reference}, signed by {person}.",
)
WRITTEN_UP = message("timeline.written-up", "Deficiency written up: {what}.")
SECTION = message("timeline.section", "{what} ({section})")
DUE = message("timeline.due", "Due {day}.")
CORRECTED = message("timeline.corrected", "Deficiency corrected: {what}.")
CORRECTION_ACCEPTED = message("timeline.correction-accepted", "Correction accepted: {what}.")
TRADE_DONE = message("timeline.trade-done", "Reported done: {trade}.")
TRADE_UNDONE = message("timeline.trade-undone", "Reported not done: {trade}.")
RELEASED = message("timeline.released", "Released for cover, reference {reference}.")
WITHDRAWN = message("timeline.withdrawn", "Cover release withdrawn: {because}")
WITHDRAWAL_ANSWERED = message("timeline.withdrawal-answered", "What was done about it: “{says}”.")
INSPECT_AGAIN = message("timeline.inspect-again", "It must be inspected again.")
INSPECTOR = message("timeline.inspector", "inspector")
