"""Why a promise is late, and what would help, as messages."""

from config.messages.message import message

LATE = message(
    "why.late",
    "{promise} is {n} working days late.",
    one="{promise} is {n} working day late.",
    count="n",
)
NOTHING_HELPS = message("why.nothing-helps", "No single change would help.")
WOULD_HOLD = message("why.would-hold", "With {change}, it is on time.")
WOULD_BE_LATE = message(
    "why.would-be-late",
    "With {change}, it is {n} working days late.",
    one="With {change}, it is {n} working day late.",
)

NOT_FIT = message("why.not-fit", "{what} does not fit in these weeks.")
ENDS = message("why.ends", "{what} ends {end}.")
STARTS_AND_ENDS = message("why.starts-and-ends", "{what} starts {start} and ends {end}.")
NOT_BEFORE = message("why.not-before", "It cannot start before {earliest}.")
NOT_BEFORE_BECAUSE = message(
    "why.not-before-because", "It cannot start before {earliest}: {because}"
)
BOOKED = message("why.booked", "{what} is booked for {start}.")
EARLIEST = message("why.earliest", "{what}: the earliest is {start}.")
PLANNED = message("why.planned", "{what} is planned for {start}.")
CREW_AT_HOUSE = message("why.crew-at-house", "{crew} is at {house} until {end}.")
CREW_ON_TASK = message("why.crew-on-task", "{crew} is on another task until {end}: {task}.")
CREW_AWAY = message("why.crew-away", "{crew} is away before that.")

NO_NOTICE = message("why.no-notice", "{what} without the notice period")
MOVED_UP = message("why.moved-up", "{what} moved up from {when}")
HOUSE_LATER = message("why.house-later", "{house} left until later")
ONE_MORE_ON = message("why.one-more-on", "one more person in {crew} on {day}")
ONE_MORE_UNTIL = message("why.one-more-until", "one more person in {crew} until {day}")
STARTED_BEFORE = message("why.started-before", "{what} started before {day}")
LICENSED_EVERYWHERE = message(
    "why.licensed-everywhere", "a licensed person in every crew for {what}"
)
APPRENTICE_EVERYWHERE = message(
    "why.apprentice-everywhere", "an apprentice in every crew for {what}"
)
ABLE_EVERYWHERE = message("why.able-everywhere", "somebody in every crew who may do {what}")
HALF_THE_TIME = message(
    "why.half-the-time",
    "{what} done in half of its {n} working days",
    one="{what} done in half of its {n} working day",
)
EVERYWHERE = {"licensed": LICENSED_EVERYWHERE, "apprentice": APPRENTICE_EVERYWHERE}
"""By the skill that a task requires."""
