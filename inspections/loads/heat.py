"""Temporary heat: what heaters draw, what a pole and a hookup can give, and how long it takes."""

from dataclasses import dataclass, field

from config.messages.message import Text

from . import hookup_messages as says

AIR_J_PER_M3_K = 1210.0
"""Joules that warm a cubic metre of air by one kelvin, near 15 °C (textbook: 1.2 kg/m³ × 1,006)."""


def heater_amps(kw: float, volts: float = 240.0) -> float:
    """Amperes that a heater draws on each leg it is on. Raises ValueError for kW below 0."""
    if kw < 0:
        raise ValueError(f"{kw:g} kW: a heater's power is not negative; correct the figure")
    return kw * 1000 / volts


def heat_kw(rating_a: float, continuous_pct: float, volts: float = 240.0) -> float:
    """The heat that a supply carries hour after hour, with nothing else on it."""
    return rating_a * continuous_pct / 100 * volts / 1000


@dataclass(frozen=True, slots=True)
class WarmUpTime:
    """The hours that a volume takes to warm, labelled as what it is."""

    hours: float | None
    """None when the heat does not even make up for what is lost."""
    working: Text
    caution: Text = field(default_factory=says.ESTIMATE)


def hours_to_warm(
    volume_m3: float, kw: float, from_c: float, to_c: float, loss_w_per_k: float = 0.0
) -> WarmUpTime:
    """How long so much heat takes to warm the air of a volume.

    `loss_w_per_k` is what the walls lose for each kelvin; half of the final loss is taken away
    from the heat all along.
    """
    rise = max(0.0, to_c - from_c)
    joules = AIR_J_PER_M3_K * volume_m3 * rise
    left_w = kw * 1000 - loss_w_per_k * rise / 2
    words = says.WARM_ENERGY(
        volume=round(volume_m3),
        capacity=AIR_J_PER_M3_K,
        rise=rise,
        energy=round(joules / 3.6e6, 2),
    )
    if joules == 0:
        return WarmUpTime(0.0, words)
    if left_w <= 0 or kw * 1000 < loss_w_per_k * rise:
        lost = loss_w_per_k * rise / 1000
        return WarmUpTime(None, says.WARM_LOST(energy=words, heat=kw, lost=round(lost, 1)))
    hours = joules / left_w / 3600
    working = says.WARM_HOURS(energy=words, heat=round(left_w / 1000, 2), hours=round(hours, 1))
    return WarmUpTime(hours, working)
