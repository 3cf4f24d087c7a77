"""What the office's figures are called, how they are counted, and their heads."""

from config.messages.message import message

NO_LEAD = message("figures.no-lead", "no crew lead")
FIRST = {
    "month": message("figures.first-month", "Accepted at the first inspection, by month"),
    "lead": message("figures.first-lead", "Accepted at the first inspection, by crew lead"),
    "authority": message(
        "figures.first-authority", "Accepted at the first inspection, by authority"
    ),
}
FIRST_HOW = message(
    "figures.first.how",
    "Areas that the inspector accepted at their first inspection, with or without deficiencies.",
)
HEADS = {
    "month": message("figures.head.month", "month"),
    "lead": message("figures.head.lead", "crew lead"),
    "authority": message("figures.head.authority", "authority"),
    "builder": message("figures.head.builder", "builder"),
    "areas": message("figures.head.areas", "areas"),
    "share": message("figures.head.share", "share"),
    "days": message("figures.head.days", "days"),
    "kept": message("figures.head.kept", "kept"),
    "days-late": message("figures.head.days-late", "average days late"),
    "reinspections": message("figures.head.reinspections", "reinspections"),
    "fee": message("figures.head.fee", "fee for each"),
    "inspection": message("figures.head.inspection", "inspection"),
    "held": message("figures.head.held", "held"),
    "accepted": message("figures.head.accepted", "accepted"),
    "no-access": message("figures.head.no-access", "no access"),
    "nobody-came": message("figures.head.nobody-came", "nobody came"),
    "reason": message("figures.head.reason", "reason"),
    "written-up": message("figures.head.written-up", "written up"),
    "open": message("figures.head.open", "open"),
    "days-to-correct": message("figures.head.days-to-correct", "average days to correct"),
}
WAITED = message("figures.waited", "From ready to accepted")
WAITED_HOW = message(
    "figures.waited.how",
    "Average days from the last answer on site or house revision to the first acceptance of an "
    "area.",
)
PROMISES = message("figures.promises", "Drywall dates kept")
PROMISES_HOW = message(
    "figures.promises.how",
    "Houses with every area released by the drywall date. Dates ahead do not count yet.",
)
AGAIN = message("figures.again", "Reinspections and their fees")
AGAIN_HOW = message(
    "figures.again.how",
    "Inspections at which an area was not accepted, and the fee of the authority for the next one.",
)
INSPECTIONS = message("figures.inspections", "Inspections")
INSPECTIONS_HOW = message(
    "figures.inspections.how",
    "Inspections by how they ended. Accepted is with or without deficiencies.",
)
WRITTEN_UP = message("figures.written-up", "What inspectors write up")
WRITTEN_UP_HOW = message(
    "figures.written-up.how", "Deficiencies by rule where one was named, otherwise by section."
)
PART_OF = message("figures.part-of", "{part} of {whole}")
NONE_LATE = message("figures.none-late", "none late")
NO_FEE = message("figures.no-fee", "no fee on record")
NONE_CORRECTED = message("figures.none-corrected", "none corrected")
OTHER = message("figures.other", "no rule or section named")
