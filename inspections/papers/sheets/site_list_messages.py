"""What the site list says on paper."""

from config.messages.message import message

SITE_LIST = message("site-list.sheet", "Site list")
SHEET_OF = message("site-list.sheet-of", "{sheet}: {job}")
REVISION = message("site-list.revision", "revision {number}")
WALKED_BY = message("site-list.walked-by", "Walked by, date:")
SHEET_STAGE = message("site-list.sheet-stage", "{sheet}, {stage}")
ONE_NUMBER = message(
    "site-list.one-number", "A number is the same on the plan, in the list and on the phone."
)
AT_PLACE = message("site-list.at-place", "at this place")
ALONG = message("site-list.along", "along this wall or counter")
IN_ROOM = message("site-list.in-room", "in this room")
TICKED = message("site-list.ticked", "OK on site")
CROSSED = message("site-list.crossed", "fix, seen on site")
VERIFY_IN_ROOMS = message("site-list.verify-in-rooms", "Verify in each room")
BOXES = message("site-list.boxes", "Boxes: {checks}")
CABLES = message("site-list.cables", "Cables: {checks}")
AS_DRAWN = message(
    "site-list.as-drawn", "As drawn: what is OK on plan was built where and how the plan has it."
)
COUNT_AS_DRAWN = message("site-list.count-as-drawn", "{n} as drawn")
NAMED_CHECKS = message("site-list.named-checks", "{parts}: {checks}")
DONE = message("site-list.done", "{what}: {person}, {day}")
OK_ON_SITE = message("site-list.ok-on-site", "{n} OK on site")
OK_ON_PLAN = message("site-list.ok-on-plan", "{n} OK on plan")
STILL_CURRENT = message("site-list.still-current", "Still current? Scan the code, or open")
CONTINUED = message("site-list.continued", "{room}, continued")
