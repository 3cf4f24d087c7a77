"""Voltage drop along a run of conductors."""

from dataclasses import dataclass

from config.messages.message import Text

from .check_messages import DROP_WORKING, amps

THOUSAND_FEET = 0.3048
"""Kilometres in a thousand feet, exactly."""


@dataclass(frozen=True, slots=True)
class Drop:
    """The drop along one run, in volts and as a share of the supply."""

    volts: float
    percent: float
    working: Text


def voltage_drop(
    supply_v: float, current: float, one_way_mm: float, ohm_per_km: float, phases: int = 1
) -> Drop:
    """The drop at the far end of a run that carries all of its current to there.

    A single-phase run has two conductors in series; of three phases √3 stands for two.
    """
    times = 2.0
    if phases == 3:
        times = 3**0.5
    kilometres = one_way_mm / 1e6
    volts = times * kilometres * ohm_per_km * current
    percent = 100 * volts / supply_v
    factor = "2"
    if phases == 3:
        factor = "√3"
    words = DROP_WORKING(
        factor=factor,
        length=round(one_way_mm / 1000, 1),
        ohms=f"{ohm_per_km:g}",
        amps=amps(current),
        drop=round(volts, 2),
        percent=round(percent, 2),
        volts=supply_v,
    )
    return Drop(volts, percent, words)


def ohm_per_km(ohm_per_1000_ft: float) -> float:
    """Resistance as American tables give it, per kilometre."""
    return ohm_per_1000_ft / THOUSAND_FEET


def longest_mm(
    supply_v: float, current: float, ohms: float, percent: float, phases: int = 1
) -> float:
    """The one-way length at which the drop reaches so many percent."""
    per_mm = voltage_drop(supply_v, current, 1.0, ohms, phases).percent
    if per_mm:
        return percent / per_mm
    return float("inf")
