"""What a construction hookup says: cautions, what has to be ready, the choice, heat, the pole."""

from config.messages.message import message

CAUTIONS = (
    message(
        "hookup.caution-energize",
        "Only the licensed person energizes, with the authority's authorization in hand.",
    ),
    message(
        "hookup.caution-lock",
        "Test dead before work. Lock out and label every breaker that stays off. Keep the key.",
    ),
    message(
        "hookup.caution-cover",
        "Keep live parts behind a cover at all times. No work in the panel while it is live.",
    ),
    message(
        "hookup.caution-boxes",
        "Close open boxes on live circuits and cap their conductors before they are energized.",
    ),
    message(
        "hookup.caution-heaters",
        "Keep heaters clear of drywall, film and joint compound. Never plan to leave them "
        "unattended.",
    ),
)
NOT_COVERED = (
    message("hookup.not-utility", "The utility's own requirements, the meter and its seal."),
    message(
        "hookup.not-fault-current",
        "Fault current, coordination of breakers, and the rating of equipment against it.",
    ),
    message("hookup.not-fuel", "Fuel-fired heaters, their air and their fumes."),
    message(
        "hookup.not-local", "Whatever a local rule or the inspector requires beyond this list."
    ),
)
ASKED = (
    ("service_complete", message("hookup.service-complete", "Service complete")),
    ("meter_base", message("hookup.meter-base", "Meter base installed")),
    ("panel_in_place", message("hookup.panel-in-place", "Panel installed")),
    (
        "conductors_landed",
        message(
            "hookup.conductors-landed", "Conductors of live circuits brought in and terminated"
        ),
    ),
    (
        "others_made_safe",
        message(
            "hookup.others-made-safe", "Conductors of other circuits capped, off their breakers"
        ),
    ),
    ("bonded", message("hookup.bonded", "Bonding done")),
    (
        "electrode",
        message("hookup.electrode", "Grounding electrode and its conductor installed"),
    ),
    ("cover_on", message("hookup.cover-on", "Panel cover on")),
    (
        "locked_off",
        message("hookup.locked-off", "Breakers that stay off locked out and labelled"),
    ),
    (
        "ground_fault",
        message("hookup.ground-fault", "Ground-fault protection of construction receptacles"),
    ),
)

# Readiness.
PERMIT = message("hookup.permit", "Permit issued")
ROUGH_IN = message("hookup.rough-in", "Rough-in accepted")
CARRIES = message("hookup.carries", "Service carries its load")
CARRIES_SAYS = message("hookup.carries-says", "{need} minimum: {why}. See the load calculation.")
PANEL = message("hookup.panel", "Panel {panel}")
DONE = message("hookup.done", "Done.")
NOT_DONE = message("hookup.not-done", "Not done.")
NOT_CHECKED = message("hookup.not-checked", "Not checked yet.")
YES = message("hookup.yes", "Yes")
NOT_YET = message("hookup.not-yet", "Not yet")
NOT_RECORDED = message("hookup.not-recorded", "Not recorded yet")
WITH_REFERENCE = message("hookup.with-reference", "{what}, reference {reference}")
CHOSEN = message("hookup.chosen", "Circuits chosen")
NONE_CHOSEN = message(
    "hookup.none-chosen",
    "Rating of the service or the circuits wanted live not recorded yet.",
)
CHOSEN_SAYS = message("hookup.chosen-says", "{n} of {most}; {out} left out.")
AUTHORIZED = message("hookup.authorized", "Circuits authorized")
AUTHORIZED_N = message("hookup.authorized-n", "{n} circuits named", one="{n} circuit named")
SEE_WARNINGS = message("hookup.see-warnings", "{what}. Verify: see the warnings.")
CHECK_SAYS = message("hookup.check-says", "{what}: {says}")

# What is live.
TO_BE_CHOSEN = message(
    "hookup.breaker-to-choose",
    "breaker to be chosen, {poles}-pole",
    one="breaker to be chosen, {poles}-pole",
    count="poles",
)
TEMPORARY = message("hookup.temporary", "temporary")
NOT_IN_PANEL = message("hookup.not-in-panel", "not in the panel as recorded")

# Warnings about what is authorized.
TYPED = message(
    "hookup.warning-typed",
    "“{circuit}” was typed and matches nothing in the panel. Verify which breaker the authority "
    "means before you energize anything.",
)
GONE = message(
    "hookup.warning-gone",
    "“{circuit}” is authorized, and the house as recorded now has no such circuit. Verify at the "
    "panel and ask the authority.",
)
RENAMED = message(
    "hookup.warning-renamed",
    "“{circuit}” is authorized, and the house as recorded now names that circuit “{now}”. Verify "
    "at the panel and ask the authority.",
)
FIGURES = message("hookup.warning-figures", "“{circuit}” is authorized, but: {what}: {says}")
ITEM_FAILS = message(
    "hookup.warning-item", "“{circuit}” is authorized, but an item about it is to be fixed: {item}."
)
TOO_MANY = message(
    "hookup.warning-too-many",
    "{n} circuits are authorized; {most} maximum on record.",
    one="{n} circuit is authorized; {most} maximum on record.",
)
LOAD_AGAINST = message("hookup.warning-load", "“{circuit}” is authorized, but: {why}")
LEG_OVER = message(
    "hookup.warning-leg",
    "The authorized circuits load leg {leg} with {amps}; the service is {rating}.",
)

# The choice.
NO_LOAD = message("hookup.no-load", "Its load is not recorded yet.")
OVER_BREAKER = message("hookup.over-breaker", "{amps} is more than its {breaker} breaker carries.")
OVER_SHARE = message("hookup.over-share", "{amps} is more than {share} of its {breaker} breaker.")
OVER_SERVICE = message("hookup.over-service", "{amps} is more than the service's {service}.")
ONE_TOO_MANY = message("hookup.one-too-many", "It would be circuit {number} of {most}.")
NO_SPACE_LEFT = message(
    "hookup.no-space-left",
    "The panel has {n} free spaces.",
    one="The panel has {n} free space.",
)
LEG_WOULD = message("hookup.leg-would", "Leg {leg} would carry {amps}; {most} maximum.")
APART_WOULD = message("hookup.apart-would", "The legs would be {amps} apart; {most} maximum.")
NEARER = message("hookup.nearer", "Another set of as many circuits has its legs nearer each other.")
NO_SET = message("hookup.no-set", "No set within the limits has it.")
WOULD_LEAVE = message("hookup.would-leave", "With it, the best set would leave {others} off.")
WOULD_LEAVE_NONE = message(
    "hookup.would-leave-none", "With it, the best set would leave nothing else off."
)
RANK = message("hookup.rank", "Rank {rank}: {n} of {wanted}; no set has more.")
RANK_UNPROVEN = message("hookup.rank-unproven", "Rank {rank}: {n} of {wanted}; not proven.")
APART = message("hookup.apart", "Legs {amps} apart; no such set has less.")
APART_UNPROVEN = message("hookup.apart-unproven", "Legs {amps} apart; not proven.")

# Temporary heat.
POLE_HEAT = message(
    "hookup.pole-heat",
    "A {rating} pole carries {heat} kW of heat hour after hour with nothing else on it ({share} "
    "of {rating} at 240 V).",
)
SERVICE_HEAT = message(
    "hookup.service-heat", "This {rating} service carries {heat} kW, counted the same way."
)
LIVE_LOAD = message(
    "hookup.live-load",
    "The live circuits take {a} on leg A and {b} on leg B, with loads that run for hours counted "
    "at {share}.",
)
HEATER_EACH = message("hookup.heater-each", "{want}: {heat} kW at {volts} V is {amps} on each leg.")
HEATER_ONE = message("hookup.heater-one", "{want}: {heat} kW at {volts} V is {amps} on one leg.")
WARMING = message(
    "hookup.warming",
    "ESTIMATE, {volume} m³ from {cold} to {warm} °C with {heat} kW: {working}. {caution}",
)
ESTIMATE = message(
    "hookup.estimate",
    "An estimate for air alone: framing, drywall, wet joint compound and leaks take several times "
    "as much.",
)
WARM_ENERGY = message(
    "hookup.warm-energy", "{volume} m³ × {capacity} J/m³K × {rise} K = {energy} kWh"
)
WARM_LOST = message(
    "hookup.warm-lost", "{energy}; {heat} kW does not make up for the {lost} kW lost"
)
WARM_HOURS = message("hookup.warm-hours", "{energy} / {heat} kW = {hours} h")
