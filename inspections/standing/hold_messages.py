"""What holds say, and how each is lifted."""

from config.messages.message import message

PERMIT_NONE = message("holds.permit-none", "No permit has been applied for.")
PERMIT_APPLY = message("holds.permit-none.lift", "apply for the permit")
PERMIT_PENDING = message("holds.permit-pending", "The permit is not issued yet.")
PERMIT_RECORD = message(
    "holds.permit-pending.lift", "record the permit number and the day of issue"
)
PERMIT_AHEAD = message("holds.permit-ahead", "The permit is not valid before {day}.")
PERMIT_DAY = message("holds.permit-ahead.lift", "check the day of issue on the permit")
PERMIT_EXPIRED = message("holds.permit-expired", "The permit expired on {day}.")
PERMIT_EXTEND = message("holds.permit-expired.lift", "request an extension of the permit")

PERMIT_NOT_YET = message("permit.not-yet", "valid from {day}")
PERMIT_WAS = message("permit.expired", "expired on {day}")

HOUSE_NONE = message("holds.house-none", "The rough-in is not recorded yet.")
HOUSE_RECORD = message("holds.house-none.lift", "record the house")
HOUSE_EMPTY = message("holds.house-empty", "No rough-in is recorded in this area yet.")
HOUSE_AREA = message("holds.house-empty.lift", "record the rough-in of this area")

FAILING = message("holds.failing", "{n} rough-in items to fix.", one="{n} rough-in item to fix.")
FAILING_LIFT = message(
    "holds.failing.lift", "fix the rough-in, then record the change or inspect it again"
)
UNKNOWN = message("holds.unknown", "{n} measurements missing.", one="{n} measurement missing.")
UNKNOWN_LIFT = message("holds.unknown.lift", "measure on site and enter it")
OPEN = message(
    "holds.open",
    "{n} rough-in items to verify on site.",
    one="{n} rough-in item to verify on site.",
)
OPEN_LIFT = message("holds.open.lift", "verify on site and mark each item OK or Fix")
CONFIRM = message(
    "holds.confirm",
    "{n} items OK on plan, to confirm on site.",
    one="{n} item OK on plan, to confirm on site.",
)
CONFIRM_LIFT = message("holds.confirm.lift", "confirm what is as drawn, room by room")

BOOTS = message(
    "holds.boots",
    "{n} boxes in outside walls have no vapour boot. "
    "The insulation chosen is not a vapour barrier.",
    one="{n} box in an outside wall has no vapour boot. "
    "The insulation chosen is not a vapour barrier.",
)
BOOTS_CREW = message("holds.boots.lift-crew", "install vapour boots")
BOOTS_BUILDER = message(
    "holds.boots.lift-builder", "choose insulation that is a vapour barrier itself"
)

PHOTOGRAPH = message(
    "holds.photograph",
    "{n} items that will be covered have no photo.",
    one="{n} item that will be covered has no photo.",
)
PHOTOGRAPH_LIFT = message("holds.photograph.lift", "take the photos")

DEFICIENCY = message(
    "holds.deficiency", "{n} deficiencies to correct.", one="{n} deficiency to correct."
)
DEFICIENCY_LIFT = message("holds.deficiency.lift", "correct and record")
CORRECTED = message(
    "holds.corrected",
    "{n} corrected deficiencies wait for the inspector.",
    one="{n} corrected deficiency waits for the inspector.",
)
CORRECTED_LIFT = message(
    "holds.corrected.lift", "request the inspection and record the inspector's result"
)

TRADE = message("holds.trade", "Rough-in by {trade} is not reported done.")
TRADE_LIFT = message("holds.trade.lift", "report it done")

WITHDRAWN = message(
    "holds.withdrawn",
    "The cover release was withdrawn on {day}: “{because}”. What was done about it is not "
    "recorded yet.",
)
WITHDRAWN_LIFT = message("holds.withdrawn.lift", "record what was done about it")

ACCEPTANCE = message("holds.acceptance", "The inspector has not accepted this area yet.")
ACCEPTANCE_LIFT = message(
    "holds.acceptance.lift", "request the inspection and record the inspector's result"
)
REFUSED = message("holds.refused", "The inspector did not accept this area on {day}.")
REFUSED_LIFT = message("holds.refused.lift", "request another inspection once it is corrected")
CHANGED = message(
    "holds.changed",
    "This area changed after it was accepted. Leave the change open for the inspector.",
)
CHANGED_LIFT = message("holds.changed.lift", "request an inspection of this area alone")
AGAIN = message(
    "holds.again",
    "The cover release was withdrawn on {day}. The change must be inspected again.",
)
