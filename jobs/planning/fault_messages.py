"""What is said of a problem that cannot be planned."""

from config.messages.message import message

NO_PARTS = message(
    "plan-fault.parts", "A working day must have at least one part of at least one minute."
)
TWICE = message("plan-fault.twice", "Two tasks have the id {id}. Give each its own.")
NOT_EVERY_SLOT = message(
    "plan-fault.every-slot",
    "{crew}: say for each of {n} parts of days how many people work.",
)
OVERUSED = message("plan-fault.overused", "{task} needs {much} of {thing}; there are {there}.")
WAITS_FOR_NONE = message(
    "plan-fault.waits-for-none", "{task} waits for {id}, which is not in the plan."
)
PROMISES_NONE = message(
    "plan-fault.promises-none", "{promise} needs {id}, which is not in the plan."
)
NEGATIVE = message("plan-fault.negative", "{promise} has a weight below 0. Set it to 0 or more.")
NO_WORKING_DAY = message(
    "plan-fault.no-working-day", "There is no working day. Choose at least one weekday."
)
NO_CREW = message("plan-fault.no-crew", "There is no crew. Add one, with its people.")
NOBODY_WORKS = message(
    "plan-fault.nobody-works",
    "No crew works in these weeks ({crews}). Check its people and absences.",
)
CIRCLE = message("plan-fault.circle", "These tasks wait for each other in a circle: {tasks}.")
NO_SUCH_CREW = message(
    "plan-fault.no-such-crew", "{task}: only {crews} may do it, and there is no such crew."
)
NO_LICENSED = message(
    "plan-fault.no-licensed",
    "No crew has a licensed person in these weeks ({crews}). Required for: {tasks}.",
)
NO_APPRENTICE = message(
    "plan-fault.no-apprentice",
    "No crew has an apprentice in these weeks ({crews}). Required for: {tasks}.",
)
NOBODY_ABLE = message(
    "plan-fault.nobody-able",
    "No crew has anybody for this work in these weeks ({crews}): {tasks}.",
)
SOME_OF = message("plan-fault.some-of", "{tasks} and {n} more")
ALL_DRIVING = message(
    "plan-fault.all-driving", "{task}: every crew would spend the whole day driving there."
)
TOO_LONG = message(
    "plan-fault.too-long",
    "{task} takes {hours} person-hours. The most a crew does in a week is {most} ({crew}). "
    "Split it into smaller tasks.",
)
