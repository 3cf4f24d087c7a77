"""Why a rulebook, or a change that somebody made to one, cannot be used.

A fault follows the place in the rulebook or the amendment that it is about.
"""

from config.messages.message import message

AT = message("rulebook-fault.at", "{place}: {fault}")
NOT_CHOSEN = message("rulebook-fault.not-chosen", "is missing; name the one the house is built to")
UNKNOWN = message("rulebook-fault.unknown", "no rulebook {rulebook}; there are {known}")
KNOWN_AND_LOOSER = message(
    "rulebook-fault.known-and-looser", "known is one of {known}, looser one of {looser}"
)
NO_SOURCE = message(
    "rulebook-fault.no-source", "a limit that was read names one of the file's sources"
)

# Amendments.
NOT_TOML = message("rulebook-fault.not-toml", "not TOML: {why}")
NAME_TEXT = message("rulebook-fault.name-text", "must be text")
NO_AMEND = message("rulebook-fault.no-amend", "is missing; give at least one [[amend]] table")
NO_TABLE = message("rulebook-fault.no-table", "must be a table with {keys}")
TWICE = message("rulebook-fault.twice", "{limit} is amended twice; keep one")
UNKNOWN_KEY = message("rulebook-fault.unknown-key", "is not a known key; take it out")
MISSING = message("rulebook-fault.missing", "is missing")
NO_REASON = message("rulebook-fault.no-reason", "must say why, in a sentence")
NO_LIMIT = message("rulebook-fault.no-limit", "{rulebook} has no limit {limit}")
UNIT = message("rulebook-fault.unit", "must be {unit} or a unit that converts to it, not {given}")
TRUTH = message("rulebook-fault.truth", "must be true or false, not {given}")
NUMBERS = message("rulebook-fault.numbers", "must be a table with a number for each of {names}")
NUMBER = message("rulebook-fault.number", "must be a number from 0 up, not {given}")
NOT_ZERO = message("rulebook-fault.not-zero", "must be more than 0")
WORDS = message("rulebook-fault.words", "must be a list of words")
WORDS_OF = message("rulebook-fault.words-of", "must be a list of {words}")

# How a limit is known.
KNOWN_BY_MEMORY = message("manual.memory", "from memory, not read in a source")
KNOWN_BY_PRACTICE = message("manual.practice", "common practice, no source")
READ_IN = message("manual.read", "read in: {source}")
AMENDED_FROM = message("manual.amended", "amended from {before}: {reason}")
