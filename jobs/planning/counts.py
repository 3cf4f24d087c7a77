"""How much work there is in a house: counts and rates in, person-minutes with their working out."""

from collections.abc import Sequence
from dataclasses import dataclass

from .rates import Rates


@dataclass(frozen=True, slots=True)
class AreaCounts:
    """What there is to do in an area, as its house says."""

    boxes: int = 0
    cable_m: float = 0
    unmeasured: int = 0
    """Cables whose length nobody recorded."""
    holes: int = 0
    devices: int = 0
    luminaires: int = 0
    appliances: int = 0


@dataclass(frozen=True, slots=True)
class Worked:
    """Person-minutes, and how they came about."""

    minutes: int
    working: str


def rough_in(counts: AreaCounts, rates: Rates) -> Worked:
    """The rough-in of an area."""
    return _sum(
        rates,
        [
            (counts.boxes, "boxes", rates.box_rough_in),
            (counts.cable_m, "m of cable", rates.cable_metre),
            (counts.unmeasured, "cables not measured", rates.cable_unmeasured),
            (counts.holes, "holes", rates.hole),
        ],
    )


def panel(circuits: int, panels: int, rates: Rates) -> Worked:
    """Panels set, circuits landed, grounding."""
    return _sum(
        rates,
        [
            (panels, "panels", rates.panel_set),
            (circuits, "circuits landed", rates.circuit_landed),
            (1 if panels else 0, "grounding", rates.grounding),
        ],
    )


def correction(deficiencies: int, failing: int, rates: Rates) -> Worked:
    """What the inspector called, and what fails on the checklist."""
    return _sum(
        rates,
        [
            (deficiencies, "deficiencies", rates.deficiency),
            (failing, "failing items", rates.failing_item),
        ],
    )


def finish_task(counts: AreaCounts, rates: Rates) -> Worked:
    """The finish of an area."""
    return _sum(
        rates,
        [
            (counts.devices, "devices", rates.device_finished),
            (counts.luminaires, "luminaires, fans and alarms", rates.luminaire_finished),
            (counts.appliances, "appliances", rates.appliance_connected),
        ],
    )


def hookup(rates: Rates) -> Worked:
    """The permanent service made ready to be energised early."""
    return _sum(rates, [(1, "hookup", rates.hookup)])


def energise(circuits: int, rates: Rates) -> Worked:
    """Every circuit energised and tested."""
    return _sum(rates, [(circuits, "circuits tested", rates.test_circuit)])


def final_walk(rates: Rates) -> Worked:
    """The house walked before the final inspection."""
    return _sum(rates, [(1, "walk", rates.final_walk)])


def _sum(rates: Rates, parts: Sequence[tuple[float, str, float]]) -> Worked:
    """Nothing to do takes no time; anything takes the time to set up and clean away as well."""
    there = []
    for each in parts:
        if each[0] > 0 and each[2] > 0:
            there.append(each)
    if not there:
        return Worked(0, "nothing to do")
    minutes = sum(count * rate for count, _, rate in there) + rates.house_visit
    words = []
    for count, what, rate in there:
        words.append(f"{count:.4g} {what} × {rate:g}")
    whole = max(1, round(minutes))
    return Worked(whole, f"{' + '.join([*words, f'{rates.house_visit:g}'])} = {whole} min")
