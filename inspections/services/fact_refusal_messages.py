"""Why a correction of a fact is refused, and the reason of the revision that it makes."""

from config.messages.message import message

MOVED = message(
    "refused.fact.moved",
    "{what}: {now} has been recorded since; you were shown {was}. Nothing was changed; read both"
    " and correct it again.",
)
NO_PART = message(
    "refused.fact.no-part", "{part} is no longer part of the house. Open the plan again."
)
NOT_HERE = message(
    "refused.fact.not-here", "This cannot be corrected here. Change it on the drawing board."
)
NO_HOUSE = message("refused.fact.no-house", "No house is recorded for this job. Record it first.")
ID_TAKEN = message(
    "refused.fact.id-taken", "Another correction has this one's id. Send yours once more."
)
NOTHING = message(
    "refused.fact.nothing", "{what}: {now} is recorded already. There is nothing to correct."
)
OFFICE_FIRST = message(
    "refused.fact.office-first",
    "In this shop the office looks first. Record it as Fix with a note, and tell the office.",
)
EMPTY = message("refused.fact.empty", "Enter what is there now.")
UNDONE = message("refused.fact.undone", "This correction is already undone.")
UNDO_TWICE = message(
    "refused.fact.undo-twice", "An undo cannot be undone. Correct the figure again."
)
RELEASED = message(
    "refused.fact.released",
    "The area has been released since, so this cannot be undone. Correct the figure again.",
)
WHY = message("fact.why", "{what}: {was} to {now}")
FIXED_BY = message("fact.fixed-by", "{changes}, fixed on site by {person}")
UNDONE_BY = message("fact.undone-by", "{changes}, undone by {person}")
RUNS_OF = message("fact.runs-of", "Circuit {circuit}")
PULLED_BY = message("fact.pulled-by", "circuit {circuit} as pulled: {runs}, by {person}")
AS_BEFORE = message("fact.as-before", "change of revision {revision} undone by {person}")
NOT_FED_FROM = message(
    "refused.fact.not-fed-from",
    "No circuit is recorded at {node}. Feed the box from another one, or add it without a feed.",
)
BOX_MOVED_BY = message("fact.box-moved-by", "box {box} moved: {was} to {now}, by {person}")
BOX_ADDED_BY = message("fact.box-added-by", "box {box} added: {device}, {place}, by {person}")
BOX_REMOVED_BY = message("fact.box-removed-by", "box {box} removed: {place}, by {person}")
CIRCUIT_NAMED_BY = message(
    "fact.circuit-named-by", "circuit {circuit} named {now}, before {was}, by {person}"
)
