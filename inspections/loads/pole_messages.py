"""What the checks of a temporary service on its pole are called, and what they say."""

from config.messages.message import message

RATING = message("pole.rating", "Rating")
NO_RATING = message("pole.no-rating", "Rating not recorded yet. Such poles are usually {ratings}.")
LOAD_ON_IT = message("pole.load", "Load on it")
NO_LOAD = message("pole.no-load", "Load of {names} not recorded yet.")
LOAD_SAYS = message("pole.load-says", "{parts}: {a} and {b} of {rating}.")
NOTHING_ON_IT = message("pole.nothing-on-it", "nothing recorded on it")
PART = message("pole.part", "{what} {amps}")
GROUND_FAULT = message("pole.ground-fault", "Ground fault, {receptacle}")
AT = message("pole.receptacle", "{volts} V, {amps}")
GFCI = message("pole.gfci", "{receptacle}, GFCI.")
PROGRAM = message("pole.program", "{receptacle}, under an assured grounding program.")
PROGRAM_UNTESTED = message(
    "pole.program-untested",
    "{receptacle}, under an assured grounding program; its last test is not recorded yet.",
)
PROGRAM_TESTED = message(
    "pole.program-tested",
    "{receptacle}, under an assured grounding program, tested {n} months ago.",
    one="{receptacle}, under an assured grounding program, tested {n} month ago.",
)
PROGRAM_LATE = message(
    "pole.program-late",
    "{receptacle}, under an assured grounding program, tested {n} months ago; {most} maximum. "
    "Test it.",
    one="{receptacle}, under an assured grounding program, tested {n} month ago; {most} maximum. "
    "Test it.",
)
NO_PROTECTION = message("pole.no-protection", "{receptacle}; its protection is not recorded yet.")
UNPROTECTED = message(
    "pole.unprotected", "{receptacle} without ground-fault protection. Put a GFCI ahead of it."
)
OFF_FLOOR = message("pole.off-floor", "Conductors off the floor")
LAMPS_GUARDED = message("pole.lamps-guarded", "Lamps guarded")
DISCONNECTS = message("pole.disconnects", "Circuits can be disconnected")
SUPPORT = message("pole.support", "Support")
NOT_MEASURED = message("pole.not-measured", "Not measured yet.")
SUPPORT_SAYS = message("pole.support-says", "{found} between supports; {most} maximum.")
APART = message("pole.apart", "Apart from the house's panel")
JOINED = message("pole.joined", "It is connected to the house's own wiring. Separate them.")
NOT_CHECKED = message("pole.not-checked", "Not checked yet.")
AS_REQUIRED = message("pole.as-required", "As required.")
NOT_SO = message("pole.not-so", "Not so. Correct it.")
REMOVAL = message("pole.removal", "Removal")
GONE = message("pole.gone", "Removed on {day}.")
GONE_BY = message("pole.gone-by", "Remove it by {day}. Until then it holds the final.")
NO_END = message(
    "pole.no-end", "No day of removal recorded yet. It holds the final until it is removed."
)
