"""What is wrong in a house file, and what would be right.

A fault follows the place in the file that it is about, and goes on from there.
"""

from collections.abc import Mapping

from config.messages.message import Message, message

AT = message("house-file.at", "{place}: {fault}")
MORE = message("house-file.more", "and {n} more faults", one="and {n} more fault")

# The file as a whole.
TOO_LARGE = message("house-file.too-large", "the file is larger than {most} MB; send a smaller one")
NOT_UTF_8 = message("house-file.not-utf-8", "not UTF-8 at byte {byte}; save the file as UTF-8")
EMPTY = message("house-file.empty", "the file is empty; a house file is a JSON object")
TOO_MANY_VALUES = message(
    "house-file.too-many-values", "the file holds more than {most} values; send fewer"
)
TOO_DEEP = message(
    "house-file.too-deep", "nested deeper than {most} at line {line}; send it flatter"
)
NOT_JSON = message("house-file.not-json", "not JSON at line {line}, column {column}: {why}")
NOT_USABLE = message("house-file.not-usable", "not usable JSON: {why}")
KEY_TWICE = message(
    "house-file.key-twice", "the key {key} is there twice in one object; keep one of them"
)
NO_LETTER = message("house-file.no-letter", "holds {code}, which is not a letter; take it out")
NO_TEXT = message("house-file.no-text", "has a key that is not text: {key}; take it out")

# The shape of a value.
MISSING = message("house-file.missing", "is missing")
UNKNOWN_KEY = message("house-file.unknown-key", "is not a known key; take it out")
UNKNOWN_KEY_NEAR = message(
    "house-file.unknown-key-near", "is not a known key; did you mean {near}?"
)
BOUNDS: Mapping[str, Message] = {
    "greater_than": message("house-file.more-than", "must be more than {limit}"),
    "greater_than_equal": message("house-file.at-least", "must be at least {limit}"),
    "less_than": message("house-file.less-than", "must be less than {limit}"),
    "less_than_equal": message("house-file.at-most", "must be at most {limit}"),
}
FINITE = message("house-file.finite", "must be a finite number")
ONE_OF = message("house-file.one-of", "must be one of {choices}, not {given}")
_NUMBER = message("house-file.number", "must be a number, not {given}")
_WHOLE = message("house-file.whole", "must be a whole number, not {given}")
_USUAL = message("house-file.usual", "must be a whole number of usual size, not {given}")
_TEXT = message("house-file.text", "must be text, not {given}")
_TRUTH = message("house-file.truth", "must be true or false, not {given}")
_LIST = message("house-file.list", "must be a list, not {given}")
_OBJECT = message("house-file.object", "must be an object, not {given}")
KINDS: Mapping[str, Message] = {
    "float_type": _NUMBER,
    "float_parsing": _NUMBER,
    "int_type": _WHOLE,
    "int_parsing": _WHOLE,
    "int_from_float": _WHOLE,
    "int_parsing_size": _USUAL,
    "string_type": _TEXT,
    "bool_type": _TRUTH,
    "bool_parsing": _TRUTH,
    "tuple_type": _LIST,
    "list_type": _LIST,
    "model_type": _OBJECT,
    "model_attributes_type": _OBJECT,
    "dict_type": _OBJECT,
}
GIVEN_TEXT = message("house-file.given-text", "text {given}")
GIVEN_LIST = message("house-file.given-list", "a list")
GIVEN_OBJECT = message("house-file.given-object", "an object")
SHORT_NAME = message(
    "house-file.short-name",
    "must be a short name of letters, digits, . _ / or -, not {given}",
)
EMPTY_TEXT = message("house-file.empty-text", "must not be empty")
TOO_LONG = message(
    "house-file.too-long",
    "must be at most {n} characters",
    one="must be at most {n} character",
)
TOO_FEW = message(
    "house-file.too-few", "must have at least {n} entries", one="must have at least {n} entry"
)
TOO_MANY = message(
    "house-file.too-many", "must have at most {n} entries", one="must have at most {n} entry"
)
SURFACE = message("house-file.surface", "surface must be one of {surfaces}, not {given}")
NO_SURFACE = message("house-file.no-surface", "surface is missing; give one of {surfaces}")
UNFIT = message("house-file.unfit", "is not what a house file has here ({kind})")
