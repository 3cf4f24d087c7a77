"""What every sheet says on paper: its title block, its foot, its headings and strips."""

from config.messages.message import Message, message
from inspections.standing.stages import Stage

# The title block and the foot.
JOB = message("sheet.job", "job")
ADDRESS = message("sheet.address", "address")
AREA = message("sheet.area", "area")
ALL_AREAS = message("sheet.all-areas", "all areas")
DATE = message("sheet.date", "date")
SHEET = message("sheet.sheet", "sheet")
RULEBOOK = message("sheet.rulebook", "rulebook")
STAGE = message("sheet.stage", "stage")
REVISION = message("sheet.revision", "rev")
CREW = message("sheet.crew", "crew")
PEOPLE = message("sheet.people", "people")
LEAD = message("sheet.lead", "crew lead")
DAY = message("sheet.day", "day")
AS_SENT = message("sheet.as-sent", "as sent")
PAGE = message("sheet.page", "{number} of {n}")
TITLE = message("sheet.title", "{sheet}: {job}")
MADE = message("sheet.made", "made {moment}")
CURRENT = message("sheet.current", "still current? {address}")
SCAN = message("sheet.scan", "scan the code")
AMENDMENTS = message("sheet.amendments", "{n} local amendments", one="{n} local amendment")
NO_AMENDMENTS = message("sheet.no-amendments", "no local amendments")
STAGES: dict[str, Message] = {
    Stage.PERMIT: message("sheet.stage.permit", "permit"),
    Stage.ROUGH_IN: message("sheet.stage.rough-in", "rough-in"),
    Stage.COVER_UP: message("sheet.stage.cover-up", "cover release"),
    Stage.HOOKUP: message("sheet.stage.hookup", "construction hookup"),
    Stage.FINISH: message("sheet.stage.finish", "finish"),
    Stage.FINAL: message("sheet.stage.final", "final"),
}

# What ends a sheet.
CAUTIONS = message("sheet.cautions", "Cautions")
WALKED_BY = message("sheet.walked-by", "walked by")
SIGNATURE = message("sheet.signature", "signature")
DATE_AND_TIME = message("sheet.date-and-time", "date and time")
COUNT = message("sheet.count", "{n} {verdict}")

# The checklist.
CHECKLIST = message("checklist.sheet", "Checklist")
ROUGH_IN_CHECKLIST = message("checklist.rough-in", "Rough-in checklist")
MEANS_OK = message("checklist.means-ok", "by the figures")
MEANS_WRONG = message("checklist.means-wrong", "to be corrected")
MEANS_VERIFY = message("checklist.means-verify", "by eye or tape on site")
MEANS_MISSING = message("checklist.means-missing", "a measurement is missing")
MEANS_SITE = message("checklist.means-site", "confirmed on site")
MEANS_NA = message("checklist.means-na", "does not apply here")
AREA_OK = message("checklist.area-ok", "OK on site: {site}. OK on plan only: {plan}.")
AREA_OK_NA = message(
    "checklist.area-ok-na", "OK on site: {site}. N/A: {na}. OK on plan only: {plan}."
)
AS_DRAWN = message(
    "checklist.as-drawn",
    "As drawn on site: {n} checks: {checks}",
    one="As drawn on site: {n} check: {checks}",
)
CHECK_TIMES = message("checklist.check-times", "{check} ({n})")
SEEN = message("checklist.seen", "Seen: {word}, {person}, {day}")
SEEN_NOTE = message("checklist.seen-note", "Seen: {word}, {person}, {day}: {note}")
MEASURED = message("checklist.measured", "Measured: {length}, {person}, {day}")
MEASURED_NOTE = message("checklist.measured-note", "Measured: {length}, {person}, {day}: {note}")
NOT_APPLICABLE = message("checklist.not-applicable", "N/A: {reason}, {person}, {day}")
CONTESTED = message("checklist.contested", "seen both OK and not OK")
CHANGED = message("checklist.changed", "changed since it was seen")

# A crew's day.
DAY_LIST = message("day-sheet.list", "The day's list")
NOBODY = message("day-sheet.nobody", "nobody")
NO_LEAD = message("day-sheet.no-lead", "none named")
CHANGED_SINCE = message("day-sheet.changed", "Changed since the last list")
NO_WORK = message("day-sheet.no-work", "No work is planned for this crew on this day.")
ARRIVE = message("day-sheet.arrive", "{number}. {job}: arrive {time}")
ARRIVE_DRIVE = message(
    "day-sheet.arrive-drive", "{number}. {job}: arrive {time}, {minutes} min drive"
)
ATTEND = message("day-sheet.attend", "Attend: {inspection}")
BRING = message("day-sheet.bring", "Bring")
WORK = message("day-sheet.work", "Work")
WORK_TIME = message("day-sheet.work-time", "{from} to {to}: {work}")
ROOMS = message("day-sheet.rooms", "Rooms: {rooms}")
TO_CORRECT = message("day-sheet.to-correct", "To correct")

# Placards.
PLACARD = message("placard.sheet", "Placard")
SCAN_FIRST = message("placard.scan-first", "Scan before you cover")
NO_ANSWER = message(
    "placard.no-answer",
    "This paper does not say whether you may cover this area. The code opens a page that does, as "
    "of the moment you scan it. If it does not open, DO NOT COVER: ask the electrician.",
)
NUMBER = message(
    "placard.number",
    "Placard {number}. The inspector's decision and the adopted code rule.",
)
