"""What contradicts what, and what would be right."""

from config.messages.message import message
from inspections.standing.stages import Milestone

DUE_BEFORE = message(
    "contradictions.due-before",
    "“{what}” is due by {due}, before the inspection of {day} that wrote it up. Enter a later day.",
)
NOT_ACCEPTED_ALONE = message(
    "contradictions.written-up",
    "Deficiencies are written up, so the inspector did not accept all of it. Choose "
    "another result, or remove the deficiencies.",
)
NOT_ACCEPTED_IN = message(
    "contradictions.written-up-in",
    "{area}: deficiencies are written up, so the inspector did not accept all of it. "
    "Choose another result, or remove the deficiencies.",
)
FINAL_ACCEPTED = message(
    "contradictions.final-accepted",
    "The final cannot be accepted while deficiencies are open: {deficiencies}. Mark "
    "those that the inspector accepted, or record another result.",
)
SAY_WHICH = message("contradictions.say-which", "Enter what the deficiencies are.")
SAY_WHICH_IN = message("contradictions.say-which-in", "{area}: enter what the deficiencies are.")
ACCEPTED_BEFORE = message(
    "contradictions.accepted-before",
    "“{what}” was accepted at an earlier inspection. Unmark it.",
)
NOT_CORRECTED = message(
    "contradictions.not-corrected",
    "“{what}” is not recorded as corrected on this job. Record the correction first, or unmark it.",
)
WRITTEN_UP_AGAIN = message(
    "contradictions.written-up-again",
    "“{what}” is marked as accepted and written up again at the same inspection. Remove one of "
    "the two.",
)

ON_RECORD = message("contradictions.on-record", "“{milestone}” is already recorded for {day}.")
ON_RECORD_AS = message(
    "contradictions.on-record-as",
    "“{milestone}” is already recorded for {day}, reference {reference}.",
)
TEMPORARY_BEFORE = message(
    "contradictions.temporary-before",
    "The temporary service cannot be due for removal by {until}, before the hookup on {day}. "
    "Enter a later day.",
)
REFUSED = {
    Milestone.HOOKUP: message(
        "contradictions.refused-hookup",
        "The inspector did not accept the hookup on {day}. First record the inspection that "
        "accepted it.",
    ),
    Milestone.FINAL: message(
        "contradictions.refused-final",
        "The inspector did not accept the final on {day}. First record the inspection that "
        "accepted it.",
    ),
}
TEMPORARY_STANDS = message(
    "contradictions.temporary-stands",
    "The removal of the temporary service is not recorded yet. Record it first.",
)
FINAL_RECORDED = message(
    "contradictions.final-recorded",
    "The final cannot be recorded while deficiencies are open: {deficiencies}. First record that "
    "the inspector accepted them.",
)
DEFICIENCY = message("contradictions.deficiency", "{area}, {what}")
MORE = message("contradictions.more", "{n} more")
