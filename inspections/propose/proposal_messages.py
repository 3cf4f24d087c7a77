"""What proposals say: what each adds, why nothing smaller does, and why there is none."""

from collections.abc import Sequence

from config.messages.message import Joined, Length, Text, Value, message

# Places.
ON_WALL = message("propose.on-wall", "on wall {wall}, {at} from its left end")
IN_CEILING = message("propose.in-ceiling", "in the ceiling")
NO_WALLS = message("propose.no-walls", "where it has no walls yet")
WALL_AT = message("propose.wall-at", "wall {wall}, {at} from its left end")
MORE = message(
    "propose.more", "{n} more receptacles: {places}", one="{n} more receptacle: {places}"
)
MORE_BLOCKING = message(
    "propose.more-blocking",
    "{n} more receptacles: {places} (between studs: add blocking)",
    one="{n} more receptacle: {places} (between studs: add blocking)",
)
FOR_ALONE = message("propose.for-alone", "{what}, for the {appliance} only")
IN_ROOM = message("propose.in-room", "{what}, {room}")

# Why nothing smaller does.
ONE_RECEPTACLE = message(
    "propose.one-receptacle", "The code requires one here, and nothing here counts."
)
ONE_LIGHT = message(
    "propose.one-light",
    "One light and one switch are the minimum, and nothing here counts.",
)
EVERY_CHOICE = message(
    "propose.every-choice",
    "Every choice among {places} places was checked, with the {there} receptacles there: no choice "
    "of {n} more reaches everywhere.",
)
BY_LENGTH = message(
    "propose.by-length",
    "{length}, at {reach} for each receptacle, needs {n} receptacles.",
    one="{length}, at {reach} for each receptacle, needs {n} receptacle.",
)
EVERY_FEWER = message(
    "propose.every-fewer", "Every choice of {n} along its walls was checked: none reaches it all."
)
EACH_SMALLER = message(
    "propose.each-smaller", "Each smaller number was tried, from 1 to {n}: none is enough."
)

# Why there is no proposal.
NOT_RECORDED = message("propose.not-recorded", "Not recorded yet: {what}. Record it first.")
NO_PLACE_ALONG = message(
    "propose.no-place-along", "Place of a receptacle along it not recorded yet. Record it first."
)
NO_TOP = message(
    "propose.no-counter-height",
    "Height of the counter's top not recorded yet. Record it first.",
)
NO_REACH = message("propose.no-reach", "No free wall within reach. A receptacle elsewhere may do.")
NONE_SERVES = message("propose.none-serves", "No receptacle along its walls reaches all of it.")
NOT_BY = message("propose.not-by", "{n} receptacles along its walls do not reach all of it.")
NO_PLACE = message(
    "propose.no-place",
    "No free place is within reach. Move a wall or a fixture.",
)
NO_SIDE = message("propose.no-side", "No place outdoors is recorded on that side.")
ISLAND_NO = message(
    "propose.island-no", "Receptacles in its side or on its top cannot meet the code."
)

# Islands.
IN_SIDE = message(
    "propose.in-side",
    "{n} more receptacles in its side, {below} below the top",
    one="{n} more receptacle in its side, {below} below the top",
)
ON_TOP = message(
    "propose.on-top",
    "{n} more receptacles in a post on its top",
    one="{n} more receptacle in a post on its top",
)

# Outdoors.
OUTDOORS = message("propose.outdoors", "a place for what is outdoors: {name}")
NOTHING_OUTDOORS = message(
    "propose.nothing-outdoors",
    "Nothing outdoors is recorded yet, and the code requires receptacles and lights there.",
)

# Lights.
LIGHT = message("propose.light", "a light {where}")
SWITCH = message("propose.switch", "a switch {where}")
SWITCH_IN = message("propose.switch-in", "a switch {where} in {room}")
LIGHT_OVER = message("propose.light-over", "a light over it")
LIGHT_OUTSIDE = message("propose.light-outside", "a light outside it")
LIGHTS_MORE = message(
    "propose.lights-more",
    "{n} more lights in the ceiling",
    one="{n} more light in the ceiling",
)
TURNS_ON = message("propose.turns-on", "switch {switch} turns on {lights}")
WIRING_ONLY = message("propose.wiring-only", "Nothing is added but the wiring.")
EACH_LEVEL = message("propose.each-level", "One switch at each level is the minimum.")
LIGHTS_REQUIRED = message("propose.lights-required", "{required} required, {there} there.")
NO_SWITCH_WALL = message("propose.no-switch-wall", "No free wall for a switch.")
NO_SWITCH_WALL_IN = message("propose.no-switch-wall-in", "No free wall for a switch in {room}.")
THREE_WAY = message(
    "propose.three-way", "It has a light already. Change its switches to three-way switches."
)
NO_OUTDOORS = message(
    "propose.no-outdoors", "No place outdoors is recorded yet that the light could be in."
)

# Alarms.
ALARM = message("propose.alarm", "{alarm} in {rooms}")
ALARM_IN = message("propose.alarm-in", "1 required in {room}; none there.")
ALARM_OUTSIDE = message(
    "propose.alarm-outside", "1 required outside the bedrooms of {storey}; none there."
)
ALARM_ON = message("propose.alarm-on", "1 required on {storey}; none there.")
ALARM_EACH = message(
    "propose.alarm-each",
    "Bedrooms open onto several hallways: one in each leaves no bedroom out.",
)
NO_ALARM = message(
    "propose.no-alarm",
    "No place on its ceiling is far enough from cooking and bathroom doors.",
)

# Circuits.
NO_PANEL = message("propose.no-panel", "Panel not recorded yet. Record it first.")
OWN_CIRCUIT = message("propose.own-circuit", "It requires a circuit of its own.")
QUARTER = message("propose.quarter", "{amps}, a quarter to spare included.")
NO_DRAW = message("propose.no-draw", "Load of {appliance} not recorded yet. Record it first.")
TOO_LARGE = message("propose.too-large", "{amps} is more than a branch circuit carries.")
COUNTER_CIRCUITS = message(
    "propose.counter-circuits",
    "{n} counter receptacles, {most} maximum on a circuit, {required} circuits minimum: "
    "{circuits}.",
    one="{n} counter receptacle, {most} maximum on a circuit, {required} circuits minimum: "
    "{circuits}.",
)
SMALL_CIRCUITS = message(
    "propose.small-circuits",
    "{n} receptacles, {most} maximum on a circuit, {required} circuits minimum: {circuits}.",
    one="{n} receptacle, {most} maximum on a circuit, {required} circuits minimum: {circuits}.",
)
OUTLETS = message(
    "propose.outlets",
    "{n} outlets, {most} maximum on a circuit: {bound} minimum.",
    one="{n} outlet, {most} maximum on a circuit: {bound} minimum.",
)
KEPT_TOGETHER = message(
    "propose.kept-together",
    "{n} here, since what is switched together stays together.",
)
CIRCUIT = message(
    "propose.circuit",
    "{name}: {breaker}, {size}, {n} outlets",
    one="{name}: {breaker}, {size}, {n} outlet",
)
WITH_PROTECTION = message("propose.with-protection", "{what}, {protection}")
BOTH_FAULTS = message("propose.both-faults", "arc-fault and ground-fault protection")
ARC_FAULT = message("propose.arc-fault", "arc-fault protection")
GROUND_FAULT = message("propose.ground-fault", "ground-fault protection")
IN_SPACES = message("propose.in-spaces", "{what}, spaces {spaces}")
NO_SPACES = message(
    "propose.no-spaces",
    "Number of spaces in the panel not recorded yet, so its circuits get none.",
)
TOO_FEW_SPACES = message(
    "propose.too-few-spaces",
    "{n} spaces are needed and {free} are free. Install a larger panel.",
    one="{n} space is needed and {free} are free. Install a larger panel.",
)
NO_PAIR = message(
    "propose.no-pair", "No two free spaces one above the other are left for a two-pole breaker."
)

# Cables.
RUN = message("propose.run", "a run of {length}, {below} below power cables")
RUN_REQUIRED = message(
    "propose.run-required", "a run of {length}, {below} below power cables ({required} required)"
)
ONE_RUN = message("propose.one-run", "One cable from its panel is the minimum for an outlet.")
CABLES = message(
    "propose.cables",
    "{n} cables, {length} of {size}, home run {home}",
    one="{n} cable, {length} of {size}, home run {home}",
)
CABLES_FAR = message(
    "propose.cables-far",
    "{n} cables, {length} of {size}, home run {home}: verify the voltage drop",
    one="{n} cable, {length} of {size}, home run {home}: verify the voltage drop",
)
SHORTEST = message("propose.shortest", "No other way to join these boxes takes less cable.")
SHORTEST_THREE = message(
    "propose.shortest-three",
    "No shorter way was found in which no box joins more than three cables.",
)
LOOP = message("propose.loop", "a loop of {length} from {light}")
ONE_LOOP = message("propose.one-loop", "One cable with a neutral is the minimum for a switch.")

# Boxes.
BOX_SIZE = message("propose.box-size", "{size} for {fill}; {support}")
BOX_SIZE_DOUBT = message(
    "propose.box-size-doubt",
    "{size} for {fill}, without what is not recorded yet: {missing}; {support}",
)
SMALLEST = message("propose.smallest", "It is the smallest there is.")
NEXT_SMALLER = message("propose.next-smaller", "The next smaller holds {size}.")
NO_VOLUME = message("propose.no-volume", "The code has no volume for {awg} AWG.")
NO_BOX = message("propose.no-box", "{fill} is more than any box holds.")
ON_BRACE = message("propose.on-brace", "on a brace between joists")
TO_FRAMING = message("propose.to-framing", "fastened to framing")
TO_STUD = message("propose.to-stud", "nailed to the stud beside it")
ON_BLOCKING = message("propose.on-blocking", "on blocking between studs")

RECORDED = message("propose.recorded-already", "{fact} is recorded already.")


def more(places: Sequence[tuple[str, float]], blocking: bool) -> Text:
    """So many receptacles on walls, each so far from the left end of its own."""
    told: list[Value] = []
    for wall, at in places:
        told.append(WALL_AT(wall=wall, at=Length(at)))
    said = MORE
    if blocking:
        said = MORE_BLOCKING
    return said(n=len(places), places=Joined(tuple(told), "; "))
