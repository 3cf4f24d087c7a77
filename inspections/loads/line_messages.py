"""What the lines of a load calculation are called, and how their workings read."""

from collections.abc import Iterable
from typing import Protocol

from config.messages.message import Joined, Percent, Text, Value, VoltAmperes, message


class Named(Protocol):
    """An appliance with its volt-amperes."""

    @property
    def id(self) -> str:
        """What it is called."""

    @property
    def va(self) -> float:
        """Its volt-amperes."""


NAMED = message("loads.named", "{what} {figure}")
NONE = message("loads.none", "none")
AT_SHARE = message("loads.at-share", "{figure} at {share}")
EACH_OF = message("loads.each-of", "{n} × {each}")
MOTOR = message("loads.motor", "Largest motor")
MOTOR_WORKING = message("loads.motor-working", "{share} of the largest motor, {motor} {figure}")

# What the larger-of rules say.
INTERLOCKED = message("loads.interlocked", "Heating and cooling are interlocked.")
NOT_TOGETHER = message("loads.not-together", "Heating and cooling do not run at the same time.")
NEC_LARGEST = message("loads.nec-largest", "220.82(C) takes the largest.")
LARGEST_COUNTS = message("loads.largest-counts", "{why} Only the largest of {lines} counts.")
LEFT_OUT = message(
    "loads.left-out",
    "{why} Only the largest of {lines} counts, so this line is left out.",
)

# Lines that several calculations have.
GENERAL_LIGHTING = message("loads.general-lighting", "General lighting and receptacles")
SMALL_APPLIANCE = message("loads.small-appliance", "Small-appliance circuits")
LAUNDRY = message("loads.laundry", "Laundry circuits")
BY_AREA = message("loads.by-area", "{area} × {each}")
TOGETHER = message("loads.together", "Together")
LIGHTING_DEMAND = message("loads.lighting-demand", "Demand of lighting and small appliances")
HEATING = message("loads.heating", "Heating")
COOLING = message("loads.cooling", "Cooling")
CHARGING = message("loads.charging", "Vehicle charging")
HEAT_PUMP = message("loads.heat-pump", "Heat pump")

# The Canadian code.
CALCULATED_LOAD = message("loads.cec-calculated", "Calculated load, item a)")
MINIMUM_LOAD = message("loads.cec-minimum", "Minimum load, item b)")
MINIMUM = message("loads.cec-minimum-line", "Minimum load")
BASIC_LOAD = message("loads.cec-basic", "Basic load")
BASIC_WORKING = message(
    "loads.cec-basic-working",
    "{area}: {first} for the first {first_area} + {n} × {more} for each further {more_area} "
    "or part",
)
BASEMENT_LOW = message(
    "loads.cec-basement-low", "{floor} (a basement {height} high or lower does not count)"
)
WITH_BASEMENT = message(
    "loads.cec-with-basement", "{floor} + {share} of {basement} basement = {whole}"
)
AIR_CONDITIONING = message("loads.cec-air-conditioning", "Air conditioning")
CLIMATE = message("loads.cec-climate", "Heating and cooling")
SPACE_HEATING = message("loads.cec-space-heating", "Electric space heating")
ELECTRIC_RANGE = message("loads.cec-range", "Electric range")
RANGE_WORKING = message(
    "loads.cec-range-working", "{range}, {figure}: {base} + {share} of {beyond}"
)
DIRECT = message("loads.cec-direct", "Tankless heaters, steamers, pools, hot tubs")
MANAGED = message(
    "loads.cec-managed", "{charger} under energy management, {figure} maximum (8-106)"
)
OTHERS_CONNECTED = message("loads.cec-others-connected", "Other loads over {bound}")
OTHERS = message("loads.cec-others", "Demand of the other loads")
AREA_OVER = message("loads.cec-area-over", "{floor} without the basement, {bound} or more")
AREA_UNDER = message("loads.cec-area-under", "{floor} without the basement, under {bound}")
CONTROL_ASSUMED = message(
    "loads.cec-control-assumed",
    "Heating controls not recorded yet: counted as central heating, at 100%.",
)
INTERLOCK_ASSUMED = message(
    "loads.cec-interlock-assumed",
    "Interlock of heating and cooling not recorded yet: counted as none.",
)
BASEMENT_ASSUMED = message(
    "loads.cec-basement-assumed",
    "Ceiling height of the basement not recorded yet: its area is counted.",
)

# The NEC's standard and optional calculations.
STANDARD = message("loads.nec-standard", "Standard calculation")
OPTIONAL = message("loads.nec-optional", "Optional calculation")
CIRCUITS_ASSUMED = message(
    "loads.nec-small-appliance-assumed",
    "Number of small-appliance circuits not recorded yet: the code's minimum is counted.",
)
LAUNDRY_ASSUMED = message(
    "loads.nec-laundry-assumed",
    "Number of laundry circuits not recorded yet: the code's minimum is counted.",
)
FIXED_CONNECTED = message("loads.nec-fixed-connected", "Appliances fastened in place")
FIXED = message(
    "loads.nec-fixed",
    "Demand of {n} appliances fastened in place",
    one="Demand of {n} appliance fastened in place",
)
FIXED_WORKING = message("loads.nec-fixed-working", "{sum} = {total} at {share}")
SMALLER = message("loads.nec-fixed-smaller", "{sum} smaller, at 100%")
BLOWER = message("loads.nec-blower", "Blower of a fuel-fired furnace")
BLOWER_WORKING = message(
    "loads.nec-blower-working",
    "{sum}; heating equipment, so not counted with the appliances fastened in place",
)
DRYER = message("loads.nec-dryer", "Clothes dryer")
DRYER_WORKING = message("loads.nec-dryer-working", "{sum}; by nameplate, {least} minimum")
CHARGER_MANAGED = message("loads.nec-charger-managed", "managed to {figure} at {share}")
CHARGER_MINIMUM = message("loads.nec-charger-minimum", "{figure} at {share}, {least} minimum")
NEUTRAL = message("loads.nec-neutral", "Neutral")
NEUTRAL_SHARE = message("loads.nec-neutral-share", "{figure} × {share}")
NEUTRAL_120 = message("loads.nec-neutral-120", "{figure} fed at 120 V")
APPLIANCES = message("loads.nec-appliances", "Appliances by nameplate")
GENERAL = message("loads.nec-general", "General load")
GENERAL_DEMAND = message("loads.nec-general-demand", "Demand of the general load")
HEATERS = message(
    "loads.nec-heaters",
    "{n} heaters, each with its own control",
    one="{n} heater with its own control",
)
ELECTRIC_HEATING = message("loads.nec-electric-heating", "Electric heating")
STORAGE = message("loads.nec-storage", "Thermal storage")
SUPPLEMENTARY = message("loads.nec-supplementary", "Supplementary heat")
PUMP_ALONE = message(
    "loads.nec-pump-alone", "{working}; not at the same time as the supplementary heat"
)
PUMP_WITH = message("loads.nec-pump-with", "Heat pump with supplementary heat")
PUMP_ASSUMED = message(
    "loads.nec-pump-assumed",
    "Whether they run at the same time is not recorded yet: counted together.",
)

# Cooking appliances by their table.
COOKING = message("loads.cooking", "Cooking appliances")
COOKING_SHARE = message(
    "loads.cooking-share",
    "{sum} = {total} at {share} (column {column}, {n} appliances)",
    one="{sum} = {total} at {share} (column {column}, {n} appliance)",
)
COOKING_C = message(
    "loads.cooking-c",
    "{n} appliances by column C: {figure}",
    one="{n} appliance by column C: {figure}",
)
COOKING_OVER = message("loads.cooking-over", "{working} + {share} for {steps} kW over {bound} kW")

# Manufactured homes.
MANUFACTURED = message("loads.manufactured", "Manufactured home")
LIGHTING = message("loads.manufactured-lighting", "Lighting")
BY_AREA_W = message("loads.manufactured-by-area", "{area} × {watts} W")
ON_EACH_LEG = message("loads.on-each-leg", "{working}; {amps} on each leg")
OVER_VOLTS = message("loads.over-volts", "{figure} / {volts} V = {amps}")
OVER_VOLTS_LEG = message("loads.over-volts-leg", "{figure} / {volts} V = {amps} on leg {leg}")
RANGE = message("loads.manufactured-range", "Range")
BY_TABLE = message("loads.by-table", "{figure}: {counted}")
LEG = message("loads.leg", "Leg {leg}")
LEG_WORKING = message("loads.leg-working", "{parts} = {amps}")
COOLING_LATER = message("loads.cooling-later", "Cooling added later")
COOLING_LATER_WORKING = message(
    "loads.cooling-later-working", "{amps} on each leg for cooling added later"
)
CORD = message("loads.cord", "Supply cord")
CORD_FITS = message("loads.cord-fits", "{amps} on the fuller leg: a {size} cord")
CORD_NONE = message(
    "loads.cord-none", "{amps} on the fuller leg: too much for a cord. Install a feeder."
)


def added(values: Iterable[float]) -> Joined:
    """A sum as it is written: 4,500 + 3,000."""
    return Joined(tuple(values) or (0,), " + ")


def named(loads: Iterable[Named]) -> Joined:
    """Appliances with their volt-amperes, one after another."""
    parts = []
    for load in loads:
        parts.append(NAMED(what=load.id, figure=VoltAmperes(load.va)))
    return Joined(tuple(parts), ", ")


def at_share(figure: Value, percent: float) -> Text:
    """A figure at a share of it."""
    return AT_SHARE(figure=figure, share=Percent(percent))
