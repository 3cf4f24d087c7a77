"""Who may do a thing, and what is wrong with a password, a time zone or a calendar."""

from config.messages.message import message

ROLES_ALONE = message(
    "refused.role",
    "Only {roles} of {shop} can do this.",
    one="Only {roles} of {shop} can do this.",
)
MAY_OFFICE = message("role.may.office", "the office")
MAY_CREW_LEAD = message("role.may.crew-lead", "a crew lead")
MAY_CREW_MEMBER = message("role.may.crew-member", "a crew member")
MAY_BUILDER = message("role.may.builder", "a builder")

PASSWORD_STOLEN = message(
    "refused.password.stolen", "This password is on lists of stolen passwords. Choose another one."
)
PASSWORD_OF_PLACE = message(
    "refused.password.of-this-place",
    "This password is mostly a name or a word of the trade. Add words of your own.",
)
PASSWORD_NOT_STOLEN = message("password.not-stolen", "Not one from a list of stolen passwords.")
PASSWORD_NOT_OF_PLACE = message(
    "password.not-of-this-place",
    "Not built from your name, your shop's name or a word of the trade.",
)

TIME_ZONE_UNKNOWN = message(
    "refused.time-zone", "“{name}” is not a time zone. Use a name such as America/Edmonton."
)
WEEKDAYS_NONE = message(
    "refused.weekdays", "Choose at least one weekday, from 0 for Monday to 6 for Sunday."
)
CLOSURES_UNREAD = message("refused.closures", "Enter closures as dates, each with its reason.")
