"""What cannot be done with people, crews, tokens and second factors, and what would be right."""

from config.messages.message import message

NOT_OF_SHOP = message(
    "refused.person.not-of-shop", "{person} does not work at {shop}. Choose someone who does."
)
ALREADY_OF_SHOP = message(
    "refused.person.already-of-shop",
    "{person} is already in {shop}. The office can change the role.",
)
PERSON_LEFT = message(
    "refused.person.left", "This person has already left the shop. Reload the page."
)
NAME_MISSING = message("refused.person.name", "Enter the name that others know you by.")
FIRM_MISSING = message("refused.person.firm", "Choose the builder that this person works for.")
OFFICE_EMPTY = message(
    "refused.person.last-of-office",
    "A shop needs at least one person in its office. Give someone else that role first.",
)

BUILDER_OF_OTHER = message(
    "refused.job.builder", "That builder is another shop's. Choose a builder of {shop}."
)
AUTHORITY_OF_OTHER = message(
    "refused.job.authority", "That authority is another shop's. Choose an authority of {shop}."
)

DRIVES_LONG = message(
    "refused.drives.long", "The table has more than {most} characters. Load it in parts."
)
DRIVES_LINE = message("refused.drives.line", "Line {n}: {fault}")
DRIVES_CELLS = message("refused.drives.cells", "enter from, to and minutes.")
DRIVES_UNREAD = message(
    "refused.drives.unread", "this cannot be read. Check its commas and quotation marks."
)
DRIVES_JOB = message("refused.drives.job", "there is no job named “{name}”.")
DRIVES_MINUTES = message("refused.drives.minutes", "“{typed}” is not minutes from 0 to {most}.")
DRIVES_NOWHERE = message(
    "refused.drives.nowhere", "this drives from the yard to the yard. Remove the line."
)

TASK_AREA = message(
    "refused.task.area", "That area belongs to another job. Choose an area of this job."
)
TASK_DUE = message(
    "refused.task.due",
    "The task is due {due}, before it can start on {start}. Correct one of the days.",
)

TOKEN_DAYS = message("refused.token.days", "Enter a number of days from 1 to {most}.")
TOKENS_MANY = message(
    "refused.token.many", "You have {most} tokens, the maximum for one person. Revoke one first."
)
TOKEN_OVER = message(
    "refused.token.over", "This token was valid until {day}. Make a new one on the site."
)

FACTOR_ON = message("refused.factor.on", "Phone codes are already on. Turn them off first.")
FACTOR_NOT_BEGUN = message(
    "refused.factor.not-begun", "Phone codes are not being set up. Start again."
)
FACTOR_CODE = message(
    "refused.factor.code",
    "That is not the code of this moment. Let the phone set its own clock, then type a new code.",
)
FACTOR_CODE_USED = message(
    "refused.factor.code-used", "That code is wrong or was already used. Type another one."
)
FACTOR_TRIES = message(
    "refused.factor.tries", "Too many wrong codes. Wait 15 minutes, then try again."
)
FACTOR_OWN = message(
    "refused.factor.own",
    "Turn off your own second factor with a code, or ask someone else in the office.",
)
FACTOR_OFF = message("refused.factor.off", "{person} has no second factor to turn off.")
SIGN_IN_SHARED = message(
    "refused.sign-in.shared",
    "{person} also works with other shops, which rely on the same sign-in. Ask "
    "whoever runs the site.",
)

LINK_OWN = message(
    "refused.link.own", "Change your own password instead, or ask someone else in the office."
)
LINK_USED = message(
    "refused.link.used", "This link was already used. Sign in with the password you chose."
)
LINK_OVER = message(
    "refused.link.over", "This link is no longer valid. Ask the office of {shop} for a new one."
)
