"""Why the office's writes are refused, and what to do: inspections, releases, permits, papers."""

from config.messages.message import Message, message
from inspections.standing.stages import Milestone

# Acceptances without an inspection.
NO_LAPSE = message(
    "refused.acceptance.no-lapse",
    "{authority} does not allow covering when no inspector came. Reschedule the inspection.",
)
NOT_FOR_AREA = message(
    "refused.acceptance.not-for-area",
    "That inspection was not for {area}. Choose one that was.",
)
NO_DECLARANT = message(
    "refused.acceptance.no-declarant", "Enter the licence holder who signed the declaration."
)
SOMEBODY_CAME = message(
    "refused.acceptance.somebody-came",
    "First record that no inspector came to the booked inspection.",
)
ANSWERED_SINCE = message(
    "refused.acceptance.answered-since",
    "{area} has a newer result, reference {reference}. The time that passed no longer counts.",
)
NOT_ELAPSED = message(
    "refused.acceptance.not-elapsed",
    "The waiting time ends {moment} ({zone}). Record this after that.",
)

# Cover releases.
WITHDRAW_WHY = message("refused.release.withdraw-why", "Enter why the cover release is withdrawn.")
NOT_RELEASED = message(
    "refused.release.not-released", "{area} has no live cover release. There is none to withdraw."
)
WHAT_WAS_DONE = message(
    "refused.release.what-was-done", "Enter what was done about the reason for the withdrawal."
)
INSPECT_AGAIN = message(
    "refused.release.inspect-again",
    "Choose whether anything in the wall was changed, so that it needs to be inspected again.",
)
NOT_BY_HAND = message(
    "refused.release.not-by-hand",
    "Nobody withdrew this cover release by hand. There is no reason to answer.",
)
WITHDRAWAL_ANSWERED = message(
    "refused.release.withdrawal-answered", "This withdrawal is already answered: “{answer}”."
)

# Inspections.
OTHER_JOBS_AREA = message(
    "refused.inspection.other-jobs-area",
    "An inspection is for areas of its own job. Choose areas of this job.",
)
NO_AREAS = message("refused.inspection.no-areas", "Choose the areas that this inspection is for.")
NOT_IN_PARTS = message(
    "refused.inspection.not-in-parts",
    "{authority} does not inspect a rough-in in parts. Choose every area of the job.",
)
HELD_BY_ANSWERS = message(
    "refused.inspection.held-by-answers",
    "Record the inspector's result. That records the inspection as held.",
)
WINDOW_MISSING = message(
    "refused.inspection.window-missing", "Enter the day and the hours of the inspection window."
)
WINDOW_UNFIT = message(
    "refused.inspection.window-unfit",
    "Only a booked or rescheduled inspection has a window. Leave the day and the hours empty.",
)

# What an inspector said.
NO_REFERENCE = message("refused.answer.no-reference", "Enter the authority's reference.")
REFERENCE_USED = message(
    "refused.answer.reference-used",
    "Reference {reference} is already used on {job}. Check the number.",
)
ONE_ANSWER = message("refused.answer.one-answer", "Give one result for the whole job.")
EACH_AREA = message(
    "refused.answer.each-area", "Give a result for each area that the inspection was for."
)
NOT_INSPECTED = message(
    "refused.answer.not-inspected",
    "The inspection was not for {area}. Request an inspection of it, or leave it out.",
)
WRITTEN_UP_ELSEWHERE = message(
    "refused.answer.written-up-elsewhere",
    "A deficiency is written up in an area of the inspected job. Choose an area of this job.",
)
CORRECTED_ELSEWHERE = message(
    "refused.answer.corrected-elsewhere",
    "That deficiency is on another job. Choose deficiencies of this job.",
)
CORRECTED_ALREADY = message(
    "refused.deficiency.corrected-already", "This deficiency is already recorded as corrected."
)

# Milestones.
OF_THE_HOOKUP = message(
    "refused.milestone.of-the-hookup",
    "Only the hookup has circuits and a temporary service. Leave them out.",
)
MILESTONE_REFERENCE: dict[Milestone, Message] = {
    Milestone.HOOKUP: message(
        "refused.milestone.hookup-reference", "Enter the authority's reference for the hookup."
    ),
    Milestone.FINAL: message(
        "refused.milestone.final-reference",
        "Enter the authority's reference for the final inspection.",
    ),
}
NO_CIRCUITS = message(
    "refused.milestone.no-circuits",
    "The house has no circuits recorded, so none can be live. Record its panel and circuits first.",
)
UNKNOWN_CIRCUITS = message(
    "refused.milestone.unknown-circuits",
    "The latest house has no circuits {unknown}. Its circuits are: {known}.",
    one="The latest house has no circuit {unknown}. Its circuits are: {known}.",
)
CIRCUIT = message("refused.milestone.circuit", "{circuit} ({label})")
CHOOSE_CIRCUITS = message(
    "refused.milestone.choose-circuits", "Choose the circuits that may be live, and only those."
)

# Permits.
APPLIED_ALREADY = message(
    "refused.permit.applied-already", "The permit is already applied for, on {day}."
)
ISSUED_TOO_EARLY = message(
    "refused.permit.issued-too-early",
    "The permit was applied for on {day}. Enter an issue date on or after it.",
)
ENDS_TOO_EARLY = message(
    "refused.permit.ends-too-early",
    "The permit was issued on {day}. Enter an expiry date on or after it.",
)
NOT_ISSUED_TO_EXTEND = message(
    "refused.permit.not-issued-to-extend",
    "The permit is not issued yet, so it cannot be extended. Record its issue first.",
)
GOOD_ALREADY = message(
    "refused.permit.good-already", "The permit is already valid until {day}. Enter a later day."
)
CORRECTED_WHY = message("refused.permit.corrected-why", "Enter why the date is corrected.")
NOT_ISSUED_TO_CORRECT = message(
    "refused.permit.not-issued-to-correct",
    "The permit is not issued yet, so it has no date to correct. Record its issue first.",
)
SAME_EXPIRY = message(
    "refused.permit.same-expiry",
    "The permit is already recorded as valid until {day}. Enter another day.",
)
SAME_NO_EXPIRY = message(
    "refused.permit.same-no-expiry",
    "The permit is already recorded without an expiry date. Enter a day.",
)
NOT_ISSUED_TO_CLOSE = message(
    "refused.permit.not-issued-to-close",
    "The permit is not issued yet, so it cannot be closed. Record its issue first.",
)
CLOSED_TOO_EARLY = message(
    "refused.permit.closed-too-early",
    "The permit was issued on {day}. Enter a closing date on or after it.",
)
CLOSED = message(
    "refused.permit.closed", "The permit was closed on {day}. It can no longer be changed."
)

# Houses and what they are checked by.
ANOTHER_REVISION = message(
    "refused.house.another-revision",
    "Revision {number} was recorded meanwhile. Compare your changes with it, then record again.",
)
NO_HOUSE = message("refused.house.none", "No house is recorded for this job. Record one first.")
AS_THE_CODE = message("refused.amendment.as-the-code", "{limit} is already as the code has it.")
AMENDED_WHY = message("refused.amendment.why", "Enter why, in a sentence.")
NO_VALUE = message(
    "refused.amendment.no-value",
    "Enter a number, yes or no, a list of words, or a table of numbers.",
)
AMENDED_ALREADY = message(
    "refused.amendment.already", "This house is already checked by the current amendments."
)

# What is handed out.
PAPER = message("refused.pack.paper", "Choose a paper size: {sizes}.")
LINK_FOR_WHOM = message("refused.link.for-whom", "Enter who the link is for.")
LINK_DAYS = message("refused.link.days", "Enter how many days the link is valid: 1 to {most}.")

# Other trades.
LAYER_AREA = message(
    "refused.trade.layer-area", "Choose the area of this job where this is done: {layer}."
)
TRADE_UNKNOWN = message(
    "refused.trade.unknown", "“{trade}” is not on this shop's list of trades. Choose from: {known}."
)
NO_TRADES = message(
    "refused.trade.none",
    "“{trade}” is not on this shop's list of trades, which is empty. Add it to the list first.",
)
TRADE_WHOLE_JOB = message(
    "refused.trade.whole-job",
    "The rough-in of a trade ({trade}) is reported for the whole job. Leave the area out.",
)
