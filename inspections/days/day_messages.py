"""What crews' lists for a day say, and what is said of plans and of lists that changed."""

from config.messages.message import message

IN_SHORT = message("day.in-short", "{starts} {job}, {address}: {what}, until {ends}")
ATTEND_IN_SHORT = message("day.attend-in-short", "{job}, {address}: attend the {inspection}")
BOOKED = message("day.booked", "{inspection}, booked {starts} to {ends}")
PLANNED = message("day.planned", "{inspection}: planned for today, not booked")
WRITTEN_UP = message("day.written-up", "Written up by the inspector: {what}")
WRITTEN_UP_DUE = message("day.written-up-due", "Written up by the inspector, due {day}: {what}")
DO_NOT_COVER = message("day.do-not-cover", "{area}: DO NOT COVER.")
NOT_CHECKED = message("day.not-checked", "{area}: {age} Do not cover until it is checked.")
ENERGIZED = message("day.energized", "The hookup is energized. Test before you touch.")

GONE = message("day.gone", "Removed: {line}")
NEW = message("day.new", "New: {line}")
IN_CREW = message("day.in-crew", "{person} in the crew")
ARRIVE = message("day.arrive", "{job}: arrive {hour}")
WORK = message("day.work", "{job}: {what}, {starts} to {ends}")
AT_JOB = message("day.at-job", "{job}: {what}")
CORRECT = message("day.correct", "{job}: correct {where}: {says}")
BRING = message("day.bring", "{job}: bring {thing}")

AWAY = message("suppose.away", "{person} away {day}")
AWAY_SPAN = message("suppose.away-span", "{person} away from {first} to {last}")
MORE = message("suppose.more", "one more person in {crew} {day}")
MORE_SPAN = message("suppose.more-span", "one more person in {crew} from {first} to {last}")
SUPPOSE_WHAT = message(
    "suppose.what", "Choose what to try: somebody away, or one more person in a crew."
)
LAST_BEFORE_FIRST = message(
    "suppose.last-before-first", "The last day, {last}, is before the first, {first}."
)

PAST = message("plan.past", "{day} is past. A plan starts today or later.")
WHAT_IF = message(
    "plan.what-if", "This plan is a what-if and cannot be sent. Make a plan without it."
)
NOT_MADE = message("plan.not-made", "This plan is not worked out, so it cannot be sent.")
LATER_SENT = message("plan.later-sent", "A later plan was sent already. Make a new one.")
