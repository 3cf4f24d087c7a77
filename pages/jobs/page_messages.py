"""What the pages of a job say of themselves: of what was sent, and of what came of it."""

from config.messages.message import Message, message
from inspections.standing.walk_cards import PlaceKind

NO_FILE = message("page.file-missing", "No file was sent. Choose a file first.")
LISTED = message("page.house-faults", "Nothing was recorded. Correct the points listed above.")
RECORDED = message("page.revision-recorded", "Recorded as revision {number}.")
JOB_OPEN = message("page.job-open", "The job is open. Upload its house to get its checklist.")
CHOOSE_RESULT = message("page.result-missing", "Choose a result.")
CHOOSE_SEEN = message("page.look-missing", "Choose OK or Fix.")
TICK_A_LINE = message("page.as-drawn-none", "Tick at least one line that is on the checklist.")
CONFIRM_AND_WITHDRAW = message(
    "page.as-drawn-withdraws", "Confirm the ticked as drawn and withdraw the release"
)

RECORD_ANYWAY = message("page.record-anyway", "Record this milestone anyway")
MILESTONE_TELLS = message(
    "page.milestone-tells",
    "Recording it sends messages to the builder, the office and the crew lead.",
)
CORRECT_AND_WITHDRAW = message(
    "page.permit-day-withdraws", "Correct expiry day and withdraw the release"
)

JOB_FIELDS = {
    "name": message("label.job.name", "name"),
    "address": message("label.job.address", "address"),
    "builder": message("label.job.builder", "builder"),
    "authority": message("label.job.authority", "authority"),
    "crew_lead": message("label.job.crew-lead", "crew lead"),
    "drywall_on": message("label.job.drywall-on", "drywall date"),
}

NO_TEXT_AT_ALL = message(
    "walk.no-text", "The text holds a character that cannot be kept. Type it again."
)
PLACE_RANGE = message("walk.place-range", "Enter a distance from 0 to {most}.")
OFFICE_DECIDES = message("walk.place-sent", "Sent. The office decides on it.")
BAD_IDS = message("walk.photo-ids", "The photo names no item that can be read.")
OTHER_ITEM = message("walk.photo-item", "Send a photo of an item of this job.")
SIGNED_OUT = message("walk.signed-out", "You are signed out.")

NOT_READ = message(
    "board.request-unread", "The drawing could not be read. Reload the page, then try again."
)
STUDS_MISSING = message("board.studs-missing", "Enter the stud spacing, such as 16 in. or 400 mm.")
STUDS_RANGE = message("board.studs-range", "Stud spacing must be {least} to {most}.")
LEFT_OUT = message("board.left-out-unread", "What is left out must be a list.")
FIRST_STOREY = message("board.first-storey", "Main floor")

FIX_IT = message("job.next-fix", "Fix what is not to code")
ENTER_IT = message("job.next-info", "Enter what is missing")
WALK_IT = message("job.next-walk", "Walk the house")
PLACES_NEXT = message("job.places-next", "{n} places, next in {room}", one="{n} place, in {room}")
TO_VERIFY = message("job.to-verify", "{n} checks to verify", one="{n} check to verify")

TOPICS = {
    "receptacles": message("topic.receptacles", "Receptacles"),
    "circuits": message("topic.circuits", "Circuits"),
    "cables": message("topic.cables", "Cables"),
    "boxes": message("topic.boxes", "Boxes"),
    "panel": message("topic.panel", "Panel"),
    "grounding": message("topic.grounding", "Grounding"),
    "alarms": message("topic.alarms", "Alarms"),
    "finish": message("topic.finish", "Finish"),
    "lighting": message("topic.lighting", "Lights"),
    "communications": message("topic.communications", "Data"),
    "recessed luminaires": message("topic.recessed-luminaires", "Recessed luminaires"),
    "switching": message("topic.switching", "Switches"),
}
"""What the rules of the checker are about, as chips that filter their lines."""
PLACES: dict[PlaceKind, Message] = {
    PlaceKind.OUTSIDE: message("walk.place.outside", "Outside"),
    PlaceKind.PANEL: message("walk.place.panel", "Panel"),
    PlaceKind.BREAKERS: message("walk.place.breakers", "Breakers"),
}
AT_FINISH = message("walk.place.at-finish", "{place}: finish")
