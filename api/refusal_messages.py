"""What a call is answered that cannot be done, and what would be right."""

from config.messages.message import message

FAULTS = message("api.faults", "The request has faults. Each is listed in errors.")
KEY_LENGTH = message("api.key-length", "An Idempotency-Key has 1 to {most} characters.")
KEY_USED = message(
    "api.key-used", "This Idempotency-Key was sent with another call before. Use a new one."
)
JOB_CHANGED = message(
    "api.job-changed", "The job has changed since. Read it again before you decide."
)
NO_SUCH_FIELD = message("api.no-such-field", "fields: there is no “{name}”. There are {names}.")
CURSOR_BAD = message("api.cursor", "cursor: send it as the answer before gave it.")
NOT_WHOLE = message("api.not-whole", "{name}: “{typed}” is not a whole number from 0 up.")

JSON_LARGE = message("api.json-large", "The JSON holds more than {most} values. Send fewer.")
JSON_DEEP = message("api.json-deep", "The JSON is nested too deeply. Send it flatter.")
JSON_HALF = message(
    "api.json-half", "A text holds half of a character, {half}. Send its other half too."
)
TICKS_TWICE = message("api.ticks-twice", "ticks: two have the same id. Give each its own.")

TOKEN_BAD = message("api.token-bad", "This token is not valid. Make a new one on the site.")
TOKEN_READS = message(
    "api.token-reads", "This token may only read. Make one that may record, on the site."
)
TOKEN_OBSERVES = message(
    "api.token-observes",
    "This token may only read and record what is seen on site. Make one for everything, "
    "on the site.",
)
TOKEN_NO_OFFICE = message(
    "api.token-no-office",
    "A token cannot let anyone into the office. Do it on the site, which asks who you are.",
)
PROOF_OLD = message(
    "api.proof-old", "Sign in again: this can only be done shortly after showing who you are."
)

NO_BUILDER = message("api.no-builder", "This shop has no builder with that id.")
NO_AUTHORITY = message("api.no-authority", "This shop has no authority with that id.")
NO_PERSON = message(
    "api.no-person", "Nobody with the sign-in name “{name}” works at {shop}. Check the name."
)

REQUIRED_WITH = message("api.required-with", "Required with “{what}”.")
NOT_WITH = message("api.not-with", "Does not go with “{what}”. Leave it out.")
EXTENDED_TO = message("api.extended-to", "Enter the day to which the permit is extended.")
