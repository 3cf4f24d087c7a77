"""What the sheets of the work say: corrections, deficiencies, take-off, owner's sheet, packs."""

from datetime import date

from config.messages.message import Joined, message
from inspections.checker.house.power import Protection

NOTHING = message("site-sheet.none", "none")
NOT_YET = message("site-sheet.not-yet", "not yet")
NO_DATE = message("site-sheet.no-date", "no date")
WHAT = message("site-sheet.what", "what")
WHERE = message("site-sheet.where", "where")
DUE = message("site-sheet.due", "due")
CIRCUIT = message("site-sheet.circuit", "circuit")

# Corrections.
CORRECTIONS = message("site-sheet.corrections", "Correction list")
NOTHING_OPEN = message("site-sheet.nothing-open", "Nothing to correct.")
OPEN = message(
    "site-sheet.open",
    "{n} items to correct or to record.",
    one="{n} item to correct or to record.",
)
WRITTEN_UP = message("site-sheet.written-up", "Written up by the inspector")
WRITTEN_UP_WHAT = message("site-sheet.written-up-what", "written up")
FIGURE = message("site-sheet.figure", "figure")
LIMIT = message("site-sheet.limit", "limit")
REMEDY = message("site-sheet.remedy", "to do")
AREA_ROOM = message("site-sheet.area-room", "{area}: {room}")
WHOLE_JOB = message("site-sheet.whole-job", "the whole job")
AREA_WHERE = message("site-sheet.area-where", "{area}, {where}")

# Deficiencies.
DEFICIENCIES = message("site-sheet.deficiencies", "Deficiency list")
NONE_WRITTEN_UP = message("site-sheet.none-written-up", "Nothing was written up.")
COUNT = message(
    "site-sheet.count",
    "{n} deficiencies written up, {open} not accepted yet.",
    one="{n} deficiency written up, {open} not accepted yet.",
)
WRITTEN_UP_ON = message("site-sheet.written-up-on", "written up")
CORRECTED = message("site-sheet.corrected", "corrected")
ACCEPTED = message("site-sheet.accepted", "accepted")
PICTURE = message("site-sheet.picture", "{moment}, {day}")
MOMENTS = {
    "before": message("site-sheet.before", "before correction"),
    "after": message("site-sheet.after", "after correction"),
}

# The take-off.
TAKE_OFF = message("site-sheet.take-off", "Take-off")
COUNTED = message("site-sheet.counted", "Counted from the recorded house.")
NO_LENGTHS = message(
    "site-sheet.no-lengths",
    "{n} cable runs have no length recorded yet and are not in the lengths.",
    one="{n} cable run has no length recorded yet and is not in the lengths.",
)
KIND = message("site-sheet.kind", "kind")
HOW_MUCH = message("site-sheet.how-much", "how much")
PANEL = message("site-sheet.panel", "Panel")
BOX = message("site-sheet.box", "box")
CABLE = message("site-sheet.cable", "cable")
CABLE_NO_LENGTH = message("site-sheet.cable-no-length", "{cable}, length not recorded yet")
RUNS = message("site-sheet.runs", "{n} runs", one="{n} run")
BRACE = message("site-sheet.brace", "brace")
BEYOND_FIRST = message("site-sheet.beyond-first", "fastened to a second framing member")
DEVICE = message("site-sheet.device", "device")
FIXTURE = message("site-sheet.fixture", "fixture")
PLATE = message("site-sheet.plate", "plate")
CONNECTION = message("site-sheet.connection", "connection")
BREAKER = message("site-sheet.breaker", "breaker")

# The owner's sheet.
OWNER = message("owner.sheet", "Owner's sheet")
CLOSED = message("owner.closed", "The permit is closed.")
NOT_CLOSED = message("owner.not-closed", "The permit is not closed yet.")
ACCEPTANCE = message("owner.acceptance", "Permit and acceptance")
WHEN = message("owner.when", "when")
REFERENCE = message("owner.reference", "reference")
PERMIT = message("owner.permit", "Electrical permit")
NOT_ISSUED = message("owner.not-issued", "not issued")
PERMIT_CLOSED = message("owner.permit-closed", "Permit closed")
AREA_ACCEPTED = message("owner.area-accepted", "Area accepted: {area}")
INSPECTION_ACCEPTED = message("owner.inspection-accepted", "Accepted: {inspection}")
ALARMS = message("owner.alarms", "Alarms")
ALARM = message("owner.alarm", "alarm")
ROOM = message("owner.room", "room")
ON_CIRCUIT = message("owner.on-circuit", "on circuit")
BY_CABLE = message("owner.by-cable", "by its cable")
BOX_ALARM = message("owner.box-alarm", "{box}: {alarm}")
TO_TEST = message("owner.to-test", "To test")
PROTECTS = message("owner.protects", "protects")
IN_PANEL = message("owner.in-panel", "panel {panel}, circuit {circuit}")
AGAINST = {
    Protection.GFCI: message("owner.against-ground-faults", "against ground faults"),
    Protection.AFCI: message("owner.against-arcs", "against arcs"),
    Protection.DUAL: message("owner.against-both", "against ground faults and arcs"),
}
CIRCUITS = message("owner.circuits", "Circuits")
BREAKER_COLUMN = message("owner.breaker", "breaker")
SPACES = message("owner.spaces", "spaces")
NO_SPACE = message("owner.no-space", "not recorded yet")
CARE_HEADING = message("owner.care", "Care")
CARE = (
    message(
        "owner.care-alarms",
        "Press the test button of every alarm each month. Replace an alarm by the date printed on "
        "it.",
    ),
    message(
        "owner.care-protection",
        "Press the test button of every ground-fault and arc-fault breaker and receptacle each "
        "month.",
    ),
    message(
        "owner.care-licensed",
        "Work on this wiring is for licensed people. Switch off, lock out and test first.",
    ),
)
"""Common practice, no source; what makers print on their products goes before it."""

# Packs.
LOAD = message("pack.load", "Load calculation")
PANEL_AND_CARD = message("pack.panel", "Panel schedule and card")
HOOKUP = message("pack.hookup", "Construction hookup")
PACK_DEFICIENCIES = message("pack.deficiencies", "Deficiencies")


def on(day: date) -> Joined:
    """A day by itself, as the reader's language writes days."""
    return Joined((day,))
