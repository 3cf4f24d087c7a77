"""What the checks of a service, its circuits and its panels are called, and what they say."""

from config.messages.message import Amperes, message

NOT_RECORDED = message("loads.not-recorded", "Not recorded yet.")
AS_REQUIRED = message("loads.as-required", "As required.")
MATERIALS = {
    "copper": message("loads.copper", "copper"),
    "aluminum": message("loads.aluminum", "aluminum"),
}

# What a load calculation has to know.
FACTS = message("loads.facts", "Facts")
FLOOR_AREA = message("loads.floor-area", "Floor area")
BASEMENT = message("loads.basement", "Basement area")
NO_FLOOR_AREA = message("loads.no-floor-area", "Floor area not recorded yet.")
NO_VOLT_AMPERES = message("loads.no-volt-amperes", "Volt-amperes of {appliance} not recorded yet.")
NO_KIND = message("loads.no-kind", "Kind of appliance not recorded yet: {appliance}.")
DRAWN_OTHERWISE = message(
    "loads.drawn-otherwise",
    "The floor area with the basement is {entered}; the rooms as drawn have {drawn}. Check the "
    "figure and its unit.",
)
LARGE_AREA = message(
    "loads.large-area",
    "{what} of {entered} m²; dwellings seldom have more than {most} m². If it was measured in "
    "square feet, set the unit to ft2.",
)
SMALL_AREA = message(
    "loads.small-area",
    "{what} of {entered} sq ft; dwellings seldom have less than {least} sq ft. If it was measured "
    "in square metres, set the unit to m2.",
)

# The service.
BY_WAY = message("loads.by-way", "{way}")
BY_SMALLER_WAY = message("loads.by-smaller-way", "{way}, the smaller of those the code offers")
BY_MINIMUM = message("loads.by-minimum", "the minimum for a one-family dwelling")
SERVICE_RATING = message("loads.service-rating", "Service rating")
NO_SERVICE_RATING = message(
    "loads.no-service-rating", "Rating of the service or its panel not recorded yet."
)
MINIMUM_SERVICE = message("loads.minimum-service", "Minimum service")
MINIMUM_SAYS = message(
    "loads.minimum-service-says",
    "The service is {rating}; {least} minimum for a one-family dwelling.",
)
OFFERED = message("loads.offered", "Load by either calculation")
OFFERED_SAYS = message(
    "loads.offered-says",
    "The service is {rating}. {ways}; the code lets you use either.",
)
WAY_AMPS = message("loads.way-amps", "{way} {amps}")
WAY = message("loads.way", "{way} ({section})")
WAY_SAYS = message("loads.way-says", "The load is {amps}; the service is {rating}.")
SERVICE_CONDUCTORS = message("loads.service-conductors", "Service conductors")
NO_MATERIAL = message(
    "loads.no-material", "{size} is recorded; copper or aluminum is not recorded yet."
)
NO_SIZE = message("loads.no-size", "The tables have no conductor for {rating}.")
CONDUCTOR_SAYS = message("loads.conductor-says", "{size} {material} installed; {wanted} minimum.")

# Conductors by table.
SERVICE_CONDUCTORS_OF = message("loads.service-conductors-of", "Service conductors, {material}")
FEEDER = message("loads.feeder", "Feeder, {material}")
ELECTRODE_CONDUCTOR = message("loads.electrode-conductor", "Grounding electrode conductor, copper")
BONDING_CONDUCTOR = message("loads.bonding-conductor", "Bonding conductor, copper")
EQUIPMENT_CONDUCTOR = message("loads.equipment-conductor", "Equipment grounding conductor, copper")
NOT_IN_TABLES = message("loads.not-in-tables", "none in the tables")
BY_SERVICE_TABLE = message("loads.by-service-table", "{rating}: {size} {material}")
BY_COLUMN = message("loads.by-column", "{rating}, 75 °C column")
BY_COLUMN_SHARE = message("loads.by-column-share", "{rating} × {share} = {least}, 75 °C column")
OR_THICKER = message("loads.or-thicker", "{size} or larger")
BY_SERVICE = message("loads.by-service", "for service conductors of {size} {material}")
BY_ELECTRODE = message(
    "loads.by-electrode",
    "for service conductors of {size} {material}; no larger is required to a {electrode}",
)
BEHIND = message("loads.behind", "behind a {rating} breaker")

# Branch circuits.
LOAD = message("loads.load", "Load")
CONDUCTOR = message("loads.conductor", "Conductor")
VOLTAGE_DROP = message("loads.voltage-drop", "Voltage drop")
NO_CABLE = message("loads.no-cable", "No cable recorded yet")
OUTLETS_AT = message("loads.outlets-at", "{n} outlets at {each} each")
NOTHING_ON_IT = message(
    "loads.nothing-on-it", "Nothing recorded on it: {share} of the breaker, {amps}"
)
OUTLETS_SHARE = message(
    "loads.outlets-share",
    "{n} outlets: {share} of the breaker, {amps}",
    one="{n} outlet: {share} of the breaker, {amps}",
)
CONTINUOUS = message(
    "loads.continuous", "({rest} + {share} of {figure} continuous) / {volts} V = {amps}"
)
NOT_IN_TABLE = message("loads.not-in-table", "{size} is not in the tables")
TOO_HOT = message("loads.too-hot", "{celsius} °C is past the table")
AT_90 = message("loads.at-90", "{amps} at 90 °C")
TOGETHER_SHARE = message("loads.together-share", "× {share} for {n} conductors together")
HEAT_SHARE = message("loads.heat-share", "× {share} at {celsius} °C")
CAPPED = message("loads.capped", "= {amps}; {most} maximum at 60 °C")
IN_HOLE = message("loads.in-hole", "(hole {hole})")
MISSING_LOADS = message("loads.missing-loads", "Volt-amperes of {appliances} not recorded yet.")
ON_BREAKER = message("loads.on-breaker", "{load}, on a {breaker} breaker")
SMALL_CONDUCTOR = message(
    "loads.small-conductor",
    "A {breaker} breaker on {size} copper; {most} maximum. Install larger conductors or a {most} "
    "breaker.",
)
CONDUCTOR_WORKING = message(
    "loads.conductor-working", "{size} copper: {working}; {breaker} breaker"
)
NO_LENGTHS = message("loads.no-lengths", "Cable lengths not recorded yet.")
NO_CABLE_SIZE = message("loads.no-cable-size", "Cable size not recorded yet.")
NO_RESISTANCE = message("loads.no-resistance", "The tables have no resistance for {size}.")
DROP_OVER = message("loads.drop-over", "{working}; {most}% maximum")
DROP_ASSUMED = message(
    "loads.drop-assumed", "{working}; {most}% maximum. The load is assumed: verify it."
)
DROP_ADVICE = message("loads.drop-advice", "{working}; {most}% is advised, not required")
DROP_WORKING = message(
    "loads.drop-working",
    "{factor} × {length} m × {ohms} Ω/km × {amps} = {drop} V, {percent}% of {volts} V",
)
ROUTE_WORKING = message(
    "loads.route-working",
    "home run {first} m at {amps}, {far} m to the farthest box, {n} outlets: {drop} V, {percent}% "
    "of {volts} V",
    one="home run {first} m at {amps}, {far} m to the farthest box, {n} outlet: {drop} V, "
    "{percent}% of {volts} V",
)

# Panels.
BALANCE = message("loads.balance", "Balance")
NO_SPACES = message("loads.no-spaces", "Number of spaces in the panel not recorded yet.")
NO_PAIR = message("loads.no-pair", "A two-pole breaker has no two free spaces one above the other.")
NO_ROOM = message(
    "loads.no-room",
    "{n} single-pole circuits do not fit {places} spaces.",
    one="{n} single-pole circuit does not fit {places} spaces.",
)
NEUTRALS_NO_ROOM = message(
    "loads.neutrals-no-room",
    "With {n} shared neutrals the circuits do not fit {a} spaces on leg A and {b} on leg B.",
    one="With {n} shared neutral the circuits do not fit {a} spaces on leg A and {b} on leg B.",
)
PROOF = message(
    "loads.balance-proof",
    "{ways} arrangements compared: none brings the legs nearer than {least} of {total}.",
)
MOVES_FEWEST = message(
    "loads.balance-moves",
    "{n} circuits change legs, the fewest that do it.",
    one="{n} circuit changes legs, the fewest that do it.",
)
MOVES = message(
    "loads.balance-moves-unproven",
    "{n} circuits change legs; fewer may do.",
    one="{n} circuit changes legs; fewer may do.",
)
NO_MOVES = message("loads.balance-no-moves", "No circuit changes legs.")
SPACES = message("loads.spaces", "Spaces")
NO_SPACE = message("loads.no-space", "No space recorded yet for {circuits}.")
TWO_POLE = message("loads.two-pole", "Two-pole breakers")
TWO_POLE_SAYS = message(
    "loads.two-pole-says",
    "{circuit} is in spaces {first} and {second}, not one above the other. Move it.",
)
TANDEM = message("loads.tandem", "Tandem breakers")
TANDEM_OK = message("loads.tandem-ok", "In spaces {spaces}, as the label allows.")
TANDEM_WRONG = message(
    "loads.tandem-wrong",
    "Tandem breakers in spaces {spaces}; the label allows them in {allowed} only.",
)
TANDEM_NONE = message(
    "loads.tandem-none", "Tandem breakers in spaces {spaces}; the label allows none."
)
BUS = message("loads.bus", "Bus rating")
NO_BUS = message("loads.no-bus", "Rating of the panel not recorded yet.")
MAIN_ON_BUS = message("loads.main-on-bus", "Main breaker {amps} on a {rating} bus.")
LARGEST_ON_BUS = message("loads.largest-on-bus", "Largest breaker {amps} on a {rating} bus.")
SHARED_NEUTRAL = message("loads.shared-neutral", "Shared neutral")
OPPOSITE_LEGS = message(
    "loads.opposite-legs", "{circuit} on leg {leg}, {other} on leg {other_leg}."
)
SAME_LEG = message(
    "loads.same-leg",
    "{circuit} and {other} are both on leg {leg}: their neutral would carry the sum. Put them on "
    "opposite legs.",
)
POSITIONS = message("loads.positions", "Positions")
NO_POSITIONS = message("loads.no-positions", "Spaces or rating of the panel not recorded yet.")
POSITIONS_SAYS = message(
    "loads.positions-says",
    "{n} spaces for {rating}; {least} minimum.",
    one="{n} space for {rating}; {least} minimum.",
)
SPARE = message("loads.spare", "Spare positions")
SPARE_SAYS = message("loads.spare-says", "{n} free; {least} minimum.")
BREAKER = message(
    "loads.breaker", "{amps}, {poles}-pole", one="{amps}, {poles}-pole", count="poles"
)


def amps(figure: float) -> Amperes:
    """A current to the tenth."""
    return Amperes(round(figure, 1))
