"""How much work there is in a house: counts and rates in, person-minutes with their working out."""

from collections.abc import Sequence
from dataclasses import dataclass

from config.messages.message import CableRun, Joined, Message, Text, Value

from . import work_messages as words
from .rates import Rates


@dataclass(frozen=True, slots=True)
class AreaCounts:
    """What there is to do in an area, as its house says."""

    boxes: int = 0
    cable_m: float = 0
    unmeasured: int = 0
    """Cables whose length is not recorded yet."""
    holes: int = 0
    devices: int = 0
    luminaires: int = 0
    appliances: int = 0


@dataclass(frozen=True, slots=True)
class Worked:
    """Person-minutes, and how they came about."""

    minutes: int
    working: Value


@dataclass(frozen=True, slots=True)
class _Part:
    """So many of a thing at so many minutes each."""

    count: float
    rate: float
    says: Text


def rough_in(counts: AreaCounts, rates: Rates) -> Worked:
    """The rough-in of an area."""
    length = CableRun(counts.cable_m)
    return _sum(
        rates,
        [
            _of(words.BOXES, counts.boxes, rates.box_rough_in),
            _Part(
                counts.cable_m,
                rates.cable_metre,
                words.CABLE(length=length, rate=rates.cable_metre),
            ),
            _of(words.UNMEASURED, counts.unmeasured, rates.cable_unmeasured),
            _of(words.HOLES, counts.holes, rates.hole),
        ],
    )


def panel(circuits: int, panels: int, rates: Rates) -> Worked:
    """Panels set, circuits landed, grounding."""
    grounded = 0
    if panels:
        grounded = 1
    return _sum(
        rates,
        [
            _of(words.PANELS, panels, rates.panel_set),
            _of(words.CIRCUITS, circuits, rates.circuit_landed),
            _Part(grounded, rates.grounding, words.GROUNDING(rate=rates.grounding)),
        ],
    )


def correction(deficiencies: int, failing: int, rates: Rates) -> Worked:
    """What the inspector wrote up, and what is not to code on the checklist."""
    return _sum(
        rates,
        [
            _of(words.DEFICIENCIES, deficiencies, rates.deficiency),
            _of(words.NOT_TO_CODE, failing, rates.failing_item),
        ],
    )


def finish_task(counts: AreaCounts, rates: Rates) -> Worked:
    """The finish of an area."""
    return _sum(
        rates,
        [
            _of(words.DEVICES, counts.devices, rates.device_finished),
            _of(words.LIGHTS, counts.luminaires, rates.luminaire_finished),
            _of(words.APPLIANCES, counts.appliances, rates.appliance_connected),
        ],
    )


def hookup(rates: Rates) -> Worked:
    """The permanent service made ready to be energised early."""
    return _sum(rates, [_Part(1, rates.hookup, words.HOOKUP(rate=rates.hookup))])


def energise(circuits: int, rates: Rates) -> Worked:
    """Every circuit energised and tested."""
    return _sum(rates, [_of(words.TESTED, circuits, rates.test_circuit)])


def final_walk(rates: Rates) -> Worked:
    """The house walked before the final inspection."""
    return _sum(rates, [_Part(1, rates.final_walk, words.WALK(rate=rates.final_walk))])


def _of(each: Message, count: int, rate: float) -> _Part:
    return _Part(count, rate, each(n=count, rate=rate))


def _sum(rates: Rates, parts: Sequence[_Part]) -> Worked:
    """Nothing to do takes no time; anything takes the time to set up and clean away as well."""
    there = []
    for part in parts:
        if part.count > 0 and part.rate > 0:
            there.append(part)
    if not there:
        return Worked(0, words.NOTHING())
    minutes = sum(part.count * part.rate for part in there) + rates.house_visit
    told = [part.says for part in there]
    told.append(words.SETUP(rate=rates.house_visit))
    whole = max(1, round(minutes))
    return Worked(whole, words.TOTAL(parts=Joined(tuple(told), " + "), minutes=whole))
