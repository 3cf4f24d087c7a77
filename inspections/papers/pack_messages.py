"""What the inspector's pack says on paper."""

from config.messages.message import message

SHEET = message("inspector-pack.sheet", "Inspector's pack")
PERMIT = message("inspector-pack.permit", "Permit {number}, issued {day}")
NO_PERMIT = message("inspector-pack.no-permit", "Permit not issued yet")
AREA = message("inspector-pack.area", "{area}: {what}")
RELEASED = message("inspector-pack.released", "cover release {day}, {reference}")
NOT_RELEASED = message("inspector-pack.not-released", "no cover release")
CIRCUIT_NUMBERS = message(
    "inspector-pack.circuit-numbers",
    "A number beside a box is the panel space of its circuit; the panel is on the next sheets.",
)
OPEN_POINTS = message("inspector-pack.open-points", "Open points")
NOTHING_OPEN = message("inspector-pack.nothing-open", "None.")
OPEN_LINE = message("inspector-pack.open-line", "{number}. {says}")
TO_VERIFY = message(
    "inspector-pack.to-verify",
    "{n} lines are not answered on site yet.",
    one="{n} line is not answered on site yet.",
)
DEFICIENCIES = message("inspector-pack.deficiencies", "Deficiencies and their corrections")
WRITTEN_UP = message("inspector-pack.written-up", "{what}, {where}. Written up {day}. {answer}")
CORRECTED = message("inspector-pack.corrected", "Corrected {day} by {person}.")
ACCEPTED = message("inspector-pack.accepted", "Accepted {day}.")
NOT_CORRECTED = message("inspector-pack.not-corrected", "Not corrected yet.")
APPENDIX = message("inspector-pack.appendix", "Appendix")
APPENDIX_HOLDS = message(
    "inspector-pack.appendix-holds",
    "Scan for the workings of every line, load, panel, hookup and deficiencies. No account needed.",
)
PANEL = message("inspector-pack.panel", "Panel {panel}")
CIRCUIT = message("inspector-pack.circuit", "{space}: {name}, {breaker}")
VERIFIED = message("inspector-pack.verified", "Verified on site")
ROOM = message("inspector-pack.room", "{room}: {what}")
EACH = message(
    "inspector-pack.each",
    "{n} lines one by one, {person}, {day}",
    one="{n} line by itself, {person}, {day}",
)
ROOM_CHECK = message(
    "inspector-pack.room-check",
    "room check of {n} lines as drawn, {person}, {day}",
    one="room check of {n} line as drawn, {person}, {day}",
)
MEASURED = message("inspector-pack.measured", "{what}, {n} measured")
SECTIONS = message("inspector-pack.sections", "Sections: {checks}")
CHECK_SECTION = message("inspector-pack.check-section", "{check} {section}")
