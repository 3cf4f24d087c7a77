"""What the load calculation, the panel schedule and the hookup sheet say as documents."""

from config.messages.message import message

# Columns and headings that several of them have.
LINE = message("load-sheet.line", "line")
FIGURE = message("load-sheet.figure", "figure")
WORKING = message("load-sheet.working", "working")
CONDUCTOR = message("load-sheet.conductor", "conductor")
SIZE = message("load-sheet.size", "size")
FOUND_BY = message("load-sheet.found-by", "found by")
CIRCUIT = message("load-sheet.circuit", "circuit")
BREAKER = message("load-sheet.breaker", "breaker")
SPACE = message("load-sheet.space", "space")
FEEDS = message("load-sheet.feeds", "feeds")
CHECK_SAYS = message("load-sheet.check-says", "{what}: {says}")

# The load calculation.
LOAD_SHEET = message("load-sheet.load", "Load calculation")
LOAD_SAYS = message("load-sheet.load-says", "{need} minimum: {why}. Next standard rating: {size}.")
LOAD_SAYS_PAST = message(
    "load-sheet.load-says-past",
    "{need} minimum: {why}. It is past the largest rating in the table.",
)
NO_LOAD = message("load-sheet.no-load", "No load recorded yet.")
AGAINST_SERVICE = message("load-sheet.against-service", "Checked against the service")
SUM = message("load-sheet.sum", "Sum")
LEGS = message("load-sheet.legs", "Legs")
LEGS_AMPS = message("load-sheet.legs-amps", "A {a}, B {b}")
CURRENT = message("load-sheet.current", "Current")
OVER_VOLTS = message("load-sheet.over-volts", "{figure} / {volts} V")
OFFERED = message("load-sheet.offered", "{way}, {section}: one of those the code offers")
REQUIRED = message("load-sheet.required", "{way}, {section}: required")
LEFT_OUT = message("load-sheet.left-out", "({figure})")
NOT_COUNTED = message("load-sheet.not-counted", "· {figure}")
STEP = message(
    "load-sheet.step",
    "The share falls as their number rises: one appliance more can lower this line.",
)
CONDUCTORS = message("load-sheet.conductors", "Conductors")
BOTH_METALS = message(
    "load-sheet.both-metals",
    "Both copper and aluminum are listed: which it is has not been recorded yet.",
)

# The panel schedule.
PANEL_SHEET = message("load-sheet.panel-schedule", "Panel schedule")
NO_PANEL = message("load-sheet.no-panel", "No panel recorded yet.")
PANEL_SAYS = message(
    "load-sheet.panel-says",
    "{panel}: {n} circuits, leg A {a}, leg B {b}, {free}.",
    one="{panel}: {n} circuit, leg A {a}, leg B {b}, {free}.",
)
FREE = message("load-sheet.free", "{n} free spaces", one="{n} free space")
FREE_UNKNOWN = message("load-sheet.free-unknown", "free spaces not recorded yet")
PANEL = message("load-sheet.panel", "Panel {panel}")
FEEDER = message("load-sheet.feeder", "Feeder")
CIRCUITS = message("load-sheet.circuits", "Circuits")
LOAD = message("load-sheet.load-column", "load")
CONDUCTOR_AND_DROP = message("load-sheet.conductor-and-drop", "conductor and drop")
PROTECTED = message("load-sheet.protected", "{breaker} {protection}")
PROTECTION = {
    "gfci": message("load-sheet.gfci", "GFCI"),
    "afci": message("load-sheet.afci", "AFCI"),
    "dual": message("load-sheet.dual", "AFCI/GFCI"),
}
NO_CABLE = message("load-sheet.no-cable", "no cable recorded yet")
DROP = message("load-sheet.drop", "drop {percent}%")
BALANCE = message("load-sheet.balance", "Balance over the legs")
NO_BALANCE = message(
    "load-sheet.no-balance", "No arrangement can be worked out. See what is missing above."
)
NOW = message("load-sheet.now", "Now leg A {a} and leg B {b}: {apart} apart.")
TO_SPACE = message("load-sheet.to-space", "to space")
MOVES = message("load-sheet.moves", "moves")
PLACED = message("load-sheet.placed", "placed")
SPARE = message("load-sheet.spare", "spare")
CARD = message("load-sheet.card", "Card for the door of panel {panel}")
TURNS_OFF = message("load-sheet.turns-off", "turns off")

# The hookup sheet.
HOOKUP_SHEET = message("load-sheet.hookup", "Construction hookup")
READY = message("load-sheet.ready", "Ready: every item is OK.")
NOT_READY = message(
    "load-sheet.not-ready",
    "Not ready: {n} of {items} items open.",
    one="Not ready: {n} of {items} items open.",
)
REFERENCE = message("load-sheet.reference", "Authority's reference {reference}.")
READINESS = message("load-sheet.readiness", "Readiness")
VERIFY_FIRST = message("load-sheet.verify-first", "VERIFY before you energize anything")
LOCKED_OFF = message("load-sheet.locked-off", "LOCKED OUT and labelled")
LOCKED = message("load-sheet.locked", "locked")
MOST = message(
    "load-sheet.most-circuits",
    "{n} circuits maximum, on {rating}.",
    one="{n} circuit maximum, on {rating}.",
)
OUT = message("load-sheet.left-out-and-why", "Left out, and why")
WANT = message("load-sheet.want", "wanted")
RANK = message("load-sheet.rank", "rank")
WHY = message("load-sheet.why", "why")
HEAT = message("load-sheet.heat", "Temporary heat")
POLE = message("load-sheet.pole", "Temporary service")
NOT_COVERED = message("load-sheet.not-covered", "What this sheet does not cover")
LEG = message("load-sheet.leg", "leg")
AMPERES = message("load-sheet.amperes", "amperes")
PROPOSED = message("load-sheet.proposed", "PROPOSED to be live, not authorized")
NOTHING_LIVE = message(
    "load-sheet.nothing-live", "Energize nothing before the authority has authorized it."
)
NONE_CHOSEN = message("load-sheet.none-chosen", "No circuit is chosen to be live.")
LIVE = message("load-sheet.live", "LIVE during construction")
NONE_AUTHORIZED = message("load-sheet.none-authorized", "No circuit is authorized to be live.")
AUTHORIZED = message(
    "load-sheet.authorized", "Authorized by the authority: these circuits and no others."
)
AUTHORIZED_ON = message(
    "load-sheet.authorized-on",
    "Authorized by the authority on {day}: these circuits and no others.",
)
AUTHORIZED_REFERENCE = message(
    "load-sheet.authorized-reference",
    "Authorized by the authority, reference {reference}: these circuits and no others.",
)
AUTHORIZED_ON_REFERENCE = message(
    "load-sheet.authorized-on-reference",
    "Authorized by the authority on {day}, reference {reference}: these circuits and no others.",
)
